//! Laws that force and torque obey in every pose: action and reaction, pole flips, continuity, overlap, far field.

// A test may stop on a bad value, and need not give the same bits on every machine.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods
)]

mod support;

use lodewright_field::{FieldError, Magnet, Pose, Wrench, force, wrench};
use lodewright_geometry::{cross, dot, norm, sub as minus};
use proptest::prelude::*;

/// The load on the second magnet as the sum over the first one's walls gives it: action and reaction, with the couple of the
/// two forces balanced by the torques.
fn by_reaction(first: &Magnet, second: &Magnet, pose: &Pose) -> Wrench {
    let back = pose.inverse();
    let w = wrench(second, first, &back).unwrap();
    let on_first = pose.direction_out(w.force_n);
    let torque_on_first = pose.direction_out(w.torque_nmm);
    let moved = cross(pose.offset_mm(), on_first);
    Wrench {
        force_n: on_first.map(|f| -f),
        torque_nmm: [0, 1, 2].map(|i| moved[i] - torque_on_first[i]),
        error_n: w.error_n,
        error_nmm: w.error_nmm + w.error_n * norm(pose.offset_mm()),
    }
}

fn shape() -> impl Strategy<Value = Magnet> {
    let size = 0.5..8.0_f64;
    prop_oneof![
        3 => (size.clone(), size.clone()).prop_map(|(d, h)| Magnet::disc(d, h, 1.3).unwrap()),
        1 => (size.clone(), 0.2..0.8_f64, size.clone()).prop_map(|(d, b, h)| Magnet::ring(d, b * d, h, 1.3).unwrap()),
        1 => (size.clone(), size.clone(), size).prop_map(|(x, y, z)| Magnet::bar([x, y, z], 1.3).unwrap()),
    ]
}

/// Any attitude, the centre 1.02 to 4 times the sum of both half diagonals away: never overlapping.
fn pair() -> impl Strategy<Value = (Magnet, Magnet, Pose)> {
    let direction =
        || prop::array::uniform3(-1.0..1.0_f64).prop_filter("needs a length", |v| norm(*v) > 0.1);
    (
        shape(),
        shape(),
        direction(),
        1.02..4.0_f64,
        direction(),
        -180.0..180.0_f64,
    )
        .prop_map(|(a, b, to, far, about, turn)| {
            let k = far * (a.half_diagonal_mm() + b.half_diagonal_mm()) / norm(to);
            let pose = Pose::shifted(to.map(|c| c * k))
                .unwrap()
                .turned(about, turn)
                .unwrap();
            (a, b, pose)
        })
}

fn flipped(m: &Magnet) -> Magnet {
    match *m {
        Magnet::Disc(d) => Magnet::disc(d.diameter_mm, d.height_mm, -d.polarization_t),
        Magnet::Ring(r) => Magnet::ring(
            r.outer_diameter_mm,
            r.inner_diameter_mm,
            r.height_mm,
            -r.polarization_t,
        ),
        Magnet::Bar(b) => Magnet::bar(b.size_mm, -b.polarization_t),
    }
    .unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn action_equals_reaction((a, b, pose) in pair()) {
        let (w, r) = (wrench(&a, &b, &pose).unwrap(), by_reaction(&a, &b, &pose));
        prop_assert!(w.force_n.iter().chain(&w.torque_nmm).all(|x| x.is_finite()));
        let allowed = w.error_n + r.error_n + 1e-9 * norm(w.force_n);
        prop_assert!(norm(minus(w.force_n, r.force_n)) <= allowed, "{w:?} {r:?}");
        let lever = norm(pose.offset_mm());
        let allowed = w.error_nmm + r.error_nmm + 1e-9 * lever * norm(w.force_n);
        prop_assert!(norm(minus(w.torque_nmm, r.torque_nmm)) <= allowed, "{w:?} {r:?}");
    }

    /// Two forms that share no formula: around rims, and over walls or by the closed form of parallel axes.
    #[test]
    fn the_force_alone_is_that_of_the_wrench((a, b, pose) in pair()) {
        let (w, f) = (wrench(&a, &b, &pose).unwrap(), force(&a, &b, &pose).unwrap());
        let bound = w.error_n + f.error_n + 1e-9 * norm(w.force_n);
        prop_assert!(norm(minus(w.force_n, f.force_n)) <= bound, "{w:?} {f:?}");
    }

    #[test]
    fn flipping_a_pole_flips_the_load((a, b, pose) in pair()) {
        let (w, f) = (wrench(&a, &b, &pose).unwrap(), wrench(&a, &flipped(&b), &pose).unwrap());
        prop_assert_eq!(w.force_n, f.force_n.map(|x| -x));
        prop_assert_eq!(w.torque_nmm, f.torque_nmm.map(|x| -x));
    }

    #[test]
    fn overlapping_bodies_are_refused((a, b, pose) in pair(), part in 0.0..0.95_f64) {
        // Two convex bodies whose centres are nearer than the sum of their inscribed spheres share space.
        let inner = |m: &Magnet| match m {
            Magnet::Disc(d) => 0.5 * d.diameter_mm.min(d.height_mm),
            Magnet::Bar(b) => 0.5 * b.size_mm.iter().fold(f64::MAX, |x, y| x.min(*y)),
            Magnet::Ring(_) => 0.0,
        };
        let reach = inner(&a) + inner(&b);
        if inner(&a) > 0.0 && inner(&b) > 0.0 {
            let to = pose.offset_mm();
            let k = part * reach / norm(to);
            let axis_turn = Pose::shifted(to.map(|c| c * k)).unwrap().turned([1.0, 2.0, 3.0], 50.0).unwrap();
            prop_assert_eq!(wrench(&a, &b, &axis_turn), Err(FieldError::Overlap));
        }
    }
}

#[test]
fn near_poses_obey_action_and_reaction() {
    // Edges almost touching, where quadrature is hardest.
    let a = Magnet::disc(3.0, 1.0, 1.3).unwrap();
    let b = Magnet::disc(5.0, 2.0, 1.2).unwrap();
    for clearance in [0.5, 0.05, 0.005] {
        for angle in [10.0_f64, 45.0, 90.0, 133.0] {
            let (sin, cos) = angle.to_radians().sin_cos();
            let height = 2.5 * sin + 1.0 * cos.abs();
            let pose = Pose::shifted([0.4, 0.3, 0.5 + height + clearance])
                .unwrap()
                .turned([0.0, 1.0, 0.0], angle)
                .unwrap();
            let (w, r) = (wrench(&a, &b, &pose).unwrap(), by_reaction(&a, &b, &pose));
            let apart = norm(minus(w.force_n, r.force_n));
            assert!(
                apart <= w.error_n + r.error_n,
                "{clearance} {angle}: {apart} {w:?} {r:?}"
            );
            assert!(w.error_n < 1e-4 * norm(w.force_n), "{w:?}");
        }
    }
}

/// Nearly touching, at every tilt: where the rims' integrand is sharpest.
#[test]
fn near_forces_around_rims_and_over_walls_agree() {
    let (a, b) = (
        Magnet::disc(3.0, 1.0, 1.3).unwrap(),
        Magnet::disc(4.0, 2.0, 1.3).unwrap(),
    );
    let (mut too_small, mut count, mut worst) = (0, 0, 0.0_f64);
    for tilt in [0.0, 0.5, 5.0, 30.0, 75.0, 90.0, 140.0_f64] {
        let (sin, cos) = tilt.to_radians().sin_cos();
        for clearance in [0.0, 0.001, 0.02, 0.2, 1.0] {
            for aside in [0.0, 0.7, 1.5, 2.6] {
                let z = 0.5 + 2.0 * sin.abs() + cos.abs() + clearance + 1e-9;
                let pose = Pose::shifted([aside, 0.4 * aside, z]).unwrap();
                let pose = pose.turned([0.3, 1.0, 0.0], tilt).unwrap();
                let (w, f) = (
                    wrench(&a, &b, &pose).unwrap(),
                    force(&a, &b, &pose).unwrap(),
                );
                let error = norm(minus(w.force_n, f.force_n));
                worst = worst.max(error / norm(w.force_n));
                too_small += u32::from(error > w.error_n + f.error_n);
                count += 1;
            }
        }
    }
    println!(
        "rims and walls differ by {worst:.1e} at most, beyond both estimates in {too_small} of {count}"
    );
    assert!(
        worst < 1e-4 && too_small * 100 <= count,
        "{worst} {too_small}"
    );
}

#[test]
fn far_loads_are_those_of_dipoles() {
    // Force between dipoles, F = 3 mu0 / (4 pi r^5) [(m1.r) m2 + (m2.r) m1 + (m1.m2) r - 5 (m1.r)(m2.r) r / r^2], and torque
    // m2 x B: the vector form of magpylib's tests/test_force.py.
    let shapes = [
        Magnet::disc(3.0, 1.0, 1.3).unwrap(),
        Magnet::ring(4.0, 2.0, 1.0, 1.3).unwrap(),
        Magnet::bar([2.0, 3.0, 1.0], 1.3).unwrap(),
    ];
    for a in &shapes {
        for b in &shapes {
            for (to, angle) in [
                ([300.0, 100.0, 50.0], 70.0),
                ([0.0, 0.0, 400.0], 0.0),
                ([250.0, 0.0, 250.0], 0.0),
            ] {
                let pose = Pose::shifted(to)
                    .unwrap()
                    .turned([1.0, 1.0, 0.2], angle)
                    .unwrap();
                let w = wrench(a, b, &pose).unwrap();
                let m1 = [0.0, 0.0, a.moment_a_m2()];
                let m2 = pose.axis().map(|c| c * b.moment_a_m2());
                let (f, t) = dipoles(m1, m2, to.map(|c| c * 1e-3));
                assert!(norm(minus(w.force_n, f)) < 5e-4 * norm(f), "{w:?} {f:?}");
                let t = t.map(|c| c * 1e3);
                assert!(
                    norm(minus(w.torque_nmm, t)) < 5e-4 * norm(t).max(1e-3 * norm(f) * norm(to)),
                    "{w:?} {t:?}"
                );
                assert!(w.error_n < 1e-4 * norm(f));
            }
        }
    }
}

fn dipoles(m1: [f64; 3], m2: [f64; 3], r: [f64; 3]) -> ([f64; 3], [f64; 3]) {
    let d = norm(r);
    let k = 3e-7 / d.powi(5);
    let (p, q, s) = (dot(m1, r), dot(m2, r), dot(m1, m2));
    let f =
        [0, 1, 2].map(|i| k * (p * m2[i] + q * m1[i] + s * r[i] - 5.0 * p * q * r[i] / (d * d)));
    let b = [0, 1, 2].map(|i| 1e-7 / d.powi(3) * (3.0 * p * r[i] / (d * d) - m1[i]));
    (f, cross(m2, b))
}

#[test]
fn continuous_across_special_poses() {
    let a = Magnet::disc(3.0, 1.0, 1.3).unwrap();
    let b = Magnet::disc(3.0, 1.0, 1.3).unwrap();
    let at = |x: f64, z: f64, tilt: f64| {
        let pose = Pose::shifted([x, 0.0, z])
            .unwrap()
            .turned([0.0, 1.0, 0.0], tilt)
            .unwrap();
        wrench(&a, &b, &pose).unwrap()
    };
    // Coaxial, hardly offset, hardly tilted: three different routines.
    for z in [1.0, 1.05, 1.5, 4.0] {
        let exact = at(0.0, z, 0.0);
        let beside = at(1e-7, z, 0.0);
        assert!(
            norm(minus(exact.force_n, beside.force_n)) < 1e-5 * norm(exact.force_n),
            "{z}"
        );
        if z > 1.0 {
            let tilted = at(0.0, z, 1e-6);
            assert!(
                norm(minus(exact.force_n, tilted.force_n)) < 1e-5 * norm(exact.force_n),
                "{z}"
            );
            let both = at(0.3, z, 1e-6);
            assert!(
                norm(minus(at(0.3, z, 0.0).force_n, both.force_n)) < 1e-5 * norm(both.force_n),
                "{z}"
            );
        }
    }
    // Touching side by side, and just apart.
    let (touching, apart) = (at(3.0, 0.0, 0.0), at(3.0 + 1e-9, 0.0, 0.0));
    assert!(norm(minus(touching.force_n, apart.force_n)) < 1e-6 * norm(touching.force_n));
    // Turned right over: the same as flipped poles.
    let over = at(0.4, 1.3, 180.0);
    let flip = wrench(&a, &flipped(&b), &Pose::shifted([0.4, 0.0, 1.3]).unwrap()).unwrap();
    assert!(norm(minus(over.force_n, flip.force_n)) < 1e-9 * norm(flip.force_n));
}

#[test]
fn a_ring_is_the_disc_less_its_core() {
    // Superposition, and a disc standing free inside a bore.
    let ring = Magnet::ring(8.0, 3.0, 2.0, 1.3).unwrap();
    let (solid, core) = (
        Magnet::disc(8.0, 2.0, 1.3).unwrap(),
        Magnet::disc(3.0, 2.0, 1.3).unwrap(),
    );
    let b = Magnet::disc(2.0, 1.0, 1.3).unwrap();
    let pose = Pose::shifted([0.7, 0.2, 2.0])
        .unwrap()
        .turned([1.0, 0.0, 0.0], 12.0)
        .unwrap();
    let (r, s, c) = (
        wrench(&ring, &b, &pose).unwrap(),
        wrench(&solid, &b, &pose).unwrap(),
        wrench(&core, &b, &pose).unwrap(),
    );
    assert!(norm(minus(r.force_n, minus(s.force_n, c.force_n))) < 1e-5 * norm(s.force_n));
    let inside = wrench(&ring, &b, &Pose::shifted([0.3, 0.1, 0.4]).unwrap()).unwrap();
    let tilted = Pose::shifted([0.3, 0.1, 0.4])
        .unwrap()
        .turned([1.0, 0.0, 0.0], 1e-6)
        .unwrap();
    let same = wrench(&ring, &b, &tilted).unwrap();
    assert!(
        norm(minus(inside.force_n, same.force_n)) < 1e-5 * norm(inside.force_n),
        "{inside:?} {same:?}"
    );
    assert_eq!(
        wrench(&ring, &b, &Pose::shifted([1.0, 0.0, 0.0]).unwrap()),
        Err(FieldError::Overlap)
    );
}

#[test]
fn touching_is_allowed_and_cutting_is_not() {
    let a = Magnet::disc(3.0, 1.0, 1.3).unwrap();
    let at = |p: [f64; 3]| wrench(&a, &a, &Pose::shifted(p).unwrap());
    assert!(at([0.0, 0.0, 1.0]).is_ok());
    assert!(at([3.0, 0.0, 0.0]).is_ok());
    assert!(at([0.0, 0.0, 0.999]).is_err());
    assert!(at([2.1, 2.1, 0.3]).is_err());
    assert!(at([0.0, 0.0, 0.0]).is_err());
    assert!(Pose::shifted([f64::NAN, 0.0, 0.0]).is_err());
    assert!(
        Pose::shifted([0.0; 3])
            .unwrap()
            .turned([0.0; 3], 10.0)
            .is_err()
    );
}

#[test]
fn a_stack_is_a_taller_disc() {
    let (stack, tall) = (
        Magnet::stack(3.0, 1.0, 3, 1.3).unwrap(),
        Magnet::disc(3.0, 3.0, 1.3).unwrap(),
    );
    assert_eq!(stack, tall);
    assert!(Magnet::stack(3.0, 1.0, 0, 1.3).is_err());
    assert!(Magnet::ring(3.0, 3.0, 1.0, 1.3).is_err());
}

#[test]
fn extreme_sizes_and_distances_stay_finite() {
    let sizes = [0.001, 0.3, 200.0];
    let mut bodies = Vec::new();
    for d in sizes {
        for h in sizes {
            bodies.push(Magnet::disc(d, h, 1.3).unwrap());
            bodies.push(Magnet::bar([d, h, d], 1.3).unwrap());
        }
    }
    bodies.push(Magnet::ring(200.0, 199.999, 0.001, 1.3).unwrap());
    for a in &bodies {
        for b in &bodies {
            let reach = a.half_diagonal_mm() + b.half_diagonal_mm();
            for (far, tilt) in [(1.0001, 0.0), (1.3, 33.0), (20.0, 90.0)] {
                let to = [0.6, 0.0, 0.8].map(|c| c * far * reach);
                let pose = Pose::shifted(to)
                    .unwrap()
                    .turned([0.0, 1.0, 0.3], tilt)
                    .unwrap();
                let w = wrench(a, b, &pose).unwrap();
                let all = w
                    .force_n
                    .iter()
                    .chain(&w.torque_nmm)
                    .chain([&w.error_n, &w.error_nmm]);
                assert!(all.clone().all(|x| x.is_finite()), "{a:?} {b:?} {w:?}");
                assert!(w.error_n >= 0.0 && w.error_nmm >= 0.0);
            }
        }
    }
}

#[test]
fn bars_turned_corner_to_face_touch_where_geometry_says() {
    // Turned by 45 degrees about z the 2 x 3 outline reaches (1 + 1.5) / sqrt 2 = 1.7678 mm: the corner meets the face at
    // 2.7678 mm between centres.
    let a = Magnet::bar([2.0, 3.0, 1.0], 1.3).unwrap();
    let at = |x: f64| {
        let pose = Pose::shifted([x, 0.0, 0.1]).unwrap();
        wrench(&a, &a, &pose.turned([0.0, 0.0, 1.0], 45.0).unwrap())
    };
    assert!(at(2.77).is_ok() && at(2.765).is_err() && at(1.5).is_err());
}
