//! Fields against a general field library, a measured scan and published formulas.

// A test may stop on a bad value, and need not give the same bits on every machine.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods
)]

mod support;

use lodewright_field::{Disc, Magnet, Pose, coaxial_attraction_n, wrench};
use support::close;

fn near(got: [f64; 3], want: [f64; 3], tolerance: f64) {
    for (g, w) in got.into_iter().zip(want) {
        assert!((g - w).abs() <= tolerance, "{got:?}, want {want:?}");
    }
}

#[test]
fn disc_field_of_a_general_library() {
    // magpylib 6.3.0, Cylinder 5 x 2 mm, J 1.3 T: near the rim, in a face's plane, over the wall, inside, far.
    let m = Magnet::disc(5.0, 2.0, 1.3).unwrap();
    let points = [
        ([2.4, 0.0, 1.1], [0.517021767267653, 0.0, 0.326494198371519]),
        ([2.5, 0.0, 1.5], [0.273277266319012, 0.0, 0.132672158951219]),
        (
            [2.6, 0.0, 1.0],
            [0.563034759291223, 0.0, -0.131555660270269],
        ),
        ([0.0, 0.0, 1.2], [0.0, 0.0, 0.377573737195938]),
        (
            [1e-6, 0.0, 2.0],
            [6.99452370198072e-8, 0.0, 0.257939892108115],
        ),
        (
            [3.0, 4.0, -0.5],
            [
                -0.00804711040843336,
                -0.0107294805445778,
                -0.0380800675480097,
            ],
        ),
        (
            [2.4999, 0.0, 1.0001],
            [1.92994792558752, 0.0, 0.349006878815575],
        ),
        (
            [0.5, 0.5, 0.2],
            [0.00930882124114602, 0.00930882124114602, 0.501239876112153],
        ),
        (
            [20.0, -30.0, 40.0],
            [
                2.15085957462026e-5,
                -3.22628936193039e-5,
                1.70911104946656e-5,
            ],
        ),
    ];
    for (p, b) in points {
        near(m.field_t(p).unwrap(), b, 1e-12);
    }
}

#[test]
fn bar_and_ring_fields_of_a_general_library() {
    // magpylib 6.3.0, Cuboid 3 x 5 x 2 mm and CylinderSegment of radii 1.5 and 4 mm, height 2 mm, J 1.3 T.
    let bar = Magnet::bar([3.0, 5.0, 2.0], 1.3).unwrap();
    let bar_points = [
        (
            [2.0, 1.0, 1.5],
            [0.198308237694211, 0.0281951296772024, 0.0191968097238891],
        ),
        (
            [0.1, 0.2, 1.01],
            [0.0167103990764071, 0.00858239780069146, 0.446860531638888],
        ),
        (
            [1.5, 2.5, 3.0],
            [0.0362858549179812, 0.0437406909203267, 0.0408852062560553],
        ),
        ([-4.0, 0.0, 0.0], [0.0, 0.0, -0.0465396428498532]),
        (
            [10.0, 20.0, -15.0],
            [
                -0.000100091122308346,
                -0.000198368839596396,
                -9.37549072641888e-6,
            ],
        ),
        ([0.0, 0.0, 0.3], [0.0, 0.0, 0.557069277849978]),
    ];
    for (p, b) in bar_points {
        near(bar.field_t(p).unwrap(), b, 1e-13);
    }
    let ring = Magnet::ring(8.0, 3.0, 2.0, 1.3).unwrap();
    let ring_points = [
        (
            [1.0, 0.0, 0.2],
            [-0.044320483804402, 0.0, -0.505103597053248],
        ),
        ([2.5, 0.0, 1.3], [0.023491510180766, 0.0, 0.334981663425448]),
        (
            [5.0, 1.0, -2.0],
            [
                -0.104276349381577,
                -0.0208552698763154,
                -0.00731083332435561,
            ],
        ),
        ([0.0, 0.0, 3.0], [0.0, 0.0, 0.0803166052764043]),
    ];
    for (p, b) in ring_points {
        near(ring.field_t(p).unwrap(), b, 1e-13);
    }
}

#[test]
fn measured_hall_scan() {
    // A disc 8 x 2 mm of N35 moved along x 7 mm over a Hall sensor, in mT (magpylib documentation, tutorial "modelling a real
    // magnet"): three of its 61 rows and its fit of place, attitude (xyz Euler angles) and polarisation 1.126 T, whose
    // largest residual over all rows is 0.119 mT.
    let rows = [
        (-15.0, [-2.1246, 0.0931, -1.0451]),
        (0.0, [-5.4538, 0.3085, 38.9261]),
        (15.0, [2.8631, 0.0103, -0.9966]),
    ];
    let magnet = Magnet::disc(8.0, 2.0, 1.126).unwrap();
    let mut largest = 0.0_f64;
    for (x, measured) in rows {
        let sensor = [-(x - 0.7209), -0.1348, -(7.0 - 0.3692)];
        let b = magnet.field_t(sensor).unwrap();
        let turned = [
            ([1.0, 0.0, 0.0], 1.018),
            ([0.0, 1.0, 0.0], -1.099),
            ([0.0, 0.0, 1.0], -1.131),
        ];
        // The sensor's own axes: the inverse of the turns about x, y, z in that order undoes z first.
        let b = turned.iter().rev().fold(b, |v, &(axis, angle)| {
            Pose::shifted([0.0; 3])
                .unwrap()
                .turned(axis, angle)
                .unwrap()
                .direction_out(v)
        });
        for (got, want) in b.into_iter().zip(measured) {
            largest = largest.max((got * 1e3 - want).abs());
        }
    }
    assert!(largest < 0.119 + 0.005, "{largest} mT");
    assert!((largest - 0.074).abs() < 0.002, "{largest} mT"); // the same rows and fit in magpylib 6.3.0
}

#[test]
fn thin_discs_are_current_loops() {
    // A disc far thinner than wide is a loop of current J h / mu0. Single loop of 1 A, radius 0.25 m: 50-digit values of the
    // WarpX ablastr/coils unit test.
    let h_mm = 0.01;
    let per_ampere = 4e-7 * std::f64::consts::PI / (h_mm * 1e-3);
    // Radius 25 mm instead of 0.25 m: fields of a given current grow tenfold.
    let m = Magnet::disc(50.0, h_mm, 1.0).unwrap();
    let points = [
        ([5.0, 0.0, 3.0], [9.38989669617e-8, 0.0, 2.52976923875e-6]),
        ([30.0, 0.0, 2.0], [1.20695296697e-6, 0.0, -2.19921214245e-6]),
        ([0.0, 0.0, 5.0], [0.0, 0.0, 2.36968080539e-6]),
    ];
    for (p, b) in points {
        let got = m.field_t(p).unwrap().map(|c| c * per_ampere / 10.0);
        for (g, w) in got.into_iter().zip(b) {
            assert!((g - w).abs() <= 2e-6 * w.abs(), "{got:?}, want {b:?}");
        }
    }
}

#[test]
fn flux_through_a_closed_box_is_nil_and_around_a_path_too() {
    // Maxwell's equations, numerically: div B = 0 and curl B = 0 outside, for every shape.
    let shapes = [
        Magnet::disc(5.0, 2.0, 1.3).unwrap(),
        Magnet::ring(8.0, 3.0, 2.0, 1.3).unwrap(),
        Magnet::bar([3.0, 5.0, 2.0], 1.3).unwrap(),
    ];
    let h = 1e-3;
    for m in shapes {
        for p in [
            [2.0, 2.5, 1.7],
            [5.1, 0.2, 0.3],
            [0.01, 0.02, 1.6],
            [30.0, 4.0, 9.0],
            [7.9, 0.0, 0.0],
        ] {
            let d = |axis: usize| {
                let (mut a, mut b) = (p, p);
                a[axis] -= h;
                b[axis] += h;
                let (fa, fb) = (m.field_t(a).unwrap(), m.field_t(b).unwrap());
                [0, 1, 2].map(|i| (fb[i] - fa[i]) / (2.0 * h))
            };
            let (dx, dy, dz) = (d(0), d(1), d(2));
            let size = [dx, dy, dz]
                .iter()
                .flatten()
                .map(|g| g * g)
                .sum::<f64>()
                .sqrt();
            assert!(
                (dx[0] + dy[1] + dz[2]).abs() < 1e-4 * size,
                "divergence at {p:?}"
            );
            for c in [dy[2] - dz[1], dz[0] - dx[2], dx[1] - dy[0]] {
                assert!(c.abs() < 1e-4 * size, "curl at {p:?}");
            }
        }
    }
}

#[test]
fn forces_of_a_general_library_between_unlike_shapes() {
    // magpylib 6.3.0 getFT with a mesh of 100 000 cells and more: a check to a few parts in 10^4.
    for (name, first, second, pose, force, torque) in library_cases() {
        let w = wrench(&first, &second, &pose).unwrap();
        let size = force.iter().map(|f| f * f).sum::<f64>().sqrt();
        println!(
            "{name}: {:?} {:?} +- {:.1e}",
            w.force_n, w.torque_nmm, w.error_n
        );
        near(w.force_n, force, 5e-4 * size);
        near(w.torque_nmm, torque, 1e-3 * size);
        assert!(w.error_n < 1e-4 * size);
    }
}

type Case = (&'static str, Magnet, Magnet, Pose, [f64; 3], [f64; 3]);

fn library_cases() -> Vec<Case> {
    let at = Pose::shifted([1.0, 0.5, 2.5]).unwrap();
    vec![
        (
            "bar on disc",
            Magnet::bar([3.0, 5.0, 2.0], 1.3).unwrap(),
            Magnet::disc(4.0, 1.0, 1.3).unwrap(),
            at.turned([1.0, 2.0, 0.0], 20.0).unwrap(),
            [-0.4842857, -0.1707461, -0.8133563],
            [-0.1037367, 0.1541497, 0.0588676],
        ),
        (
            "disc on bar",
            Magnet::disc(4.0, 1.0, 1.3).unwrap(),
            Magnet::bar([3.0, 5.0, 2.0], 1.2).unwrap(),
            Pose::shifted([1.0, 0.5, 3.5])
                .unwrap()
                .turned([1.0, 0.3, 0.5], 30.0)
                .unwrap(),
            [-0.2080683, -0.0778329, -0.4920825],
            [0.1524612, 0.2600141, -0.0262003],
        ),
        (
            "ring on disc",
            Magnet::ring(8.0, 3.0, 2.0, 1.3).unwrap(),
            Magnet::disc(3.0, 1.0, 1.3).unwrap(),
            at.turned([0.0, 1.0, 0.0], 15.0).unwrap(),
            [0.2727686, 0.1049145, -0.0972367],
            [-0.1174506, -0.1351157, 0.0314687],
        ),
    ]
}

#[test]
fn contact_force_below_the_maxwell_bound() {
    // Common practice: B^2 A / (2 mu0) with B = J bounds any pull; at contact long magnets reach J^2 / (2 mu0) x area.
    for (d, h) in [(3.0, 1.0), (5.0, 2.0), (10.0, 3.0), (2.0, 40.0)] {
        let m = Disc::new(d, h, 1.3).unwrap();
        let bound = 1.3 * 1.3 / (2.0 * 4e-7 * std::f64::consts::PI) * m.face_area_mm2() * 1e-6;
        let f = coaxial_attraction_n(&m, &m, 0.0).unwrap();
        assert!(f < bound);
        if h > 10.0 * d {
            close(f, bound, 0.002);
        }
    }
}
