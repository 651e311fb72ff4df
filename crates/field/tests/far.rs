//! Loads far sideways, where sums over rims and faces nearly cancel: values and their stated errors against the multipole
//! series of the field, and against dipoles.

// A test may stop on a bad value, and need not give the same bits on every machine.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods
)]

mod support;

use lodewright_field::{Disc, Magnet, Pose, force, wrench};
use std::f64::consts::{PI, TAU};

type V3 = [f64; 3];

fn norm(v: V3) -> f64 {
    v.iter().map(|c| c * c).sum::<f64>().sqrt()
}

fn minus(a: V3, b: V3) -> V3 {
    [0, 1, 2].map(|i| a[i] - b[i])
}

fn cross(a: V3, b: V3) -> V3 {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// Field of a disc, T, by its multipoles about the centre: a uniformly charged disc of radius R at height s is the sum over
/// n of Q m_n P_n / r^(n+1) with the axial moments m_n = sum over j of binomials of s^(n-2j) and the even moments of the disc,
/// (-1)^j (2j)! / (j! (j+1)!) (R/2)^(2j) (the mean of (s + i rho cos t)^n over the disc, by Laplace's integral).
fn multipole_field(d: &Disc, p: V3) -> V3 {
    let (radius, half) = (d.diameter_mm / 2.0, d.height_mm / 2.0);
    let rho = (p[0] * p[0] + p[1] * p[1]).sqrt();
    let r = norm(p);
    let (cos, sin) = (p[2] / r, rho / r);
    let moment = |n: u32| {
        let mut sum = 0.0;
        for j in 0..=n / 2 {
            // binomial(n, 2j) s^(n - 2j) (-1)^j (R / 2)^(2j) (2j)! / (j! (j + 1)!)
            let mut term = half.powi((n - 2 * j) as i32) * (-0.25 * radius * radius).powi(j as i32);
            for k in 0..2 * j {
                term *= f64::from(n - k);
            }
            for k in 1..=j {
                term /= f64::from(k) * f64::from(k + 1);
            }
            sum += term;
        }
        sum
    };
    let (mut p_before, mut p_now, mut dp_before, mut dp_now) = (1.0, cos, 0.0, 1.0);
    let charge = d.polarization_t * PI * radius * radius;
    let (mut radial, mut polar) = (0.0, 0.0);
    for n in 1..12_u32 {
        if n % 2 == 1 {
            let k = 2.0 * charge * moment(n) / (4.0 * PI * r.powi(n as i32 + 2));
            radial += k * f64::from(n + 1) * p_now;
            polar += k * sin * dp_now;
        }
        let m = f64::from(n);
        let next = ((2.0 * m + 1.0) * cos * p_now - m * p_before) / (m + 1.0);
        let dnext = dp_before + (2.0 * m + 1.0) * p_now;
        (p_before, p_now, dp_before, dp_now) = (p_now, next, dp_now, dnext);
    }
    let across = radial * sin + polar * cos;
    let along = radial * cos - polar * sin;
    [across * p[0] / rho, across * p[1] / rho, along]
}

const MU0: f64 = 4e-7 * PI;

/// Force (N) and torque (N mm) on the second disc: the charges of its faces in that field, by a rule exact to degree eleven.
fn charges(a: &Disc, b: &Disc, pose: &Pose) -> (V3, V3) {
    let n = pose.axis();
    let e1 = {
        let seed = if n[0].abs() < 0.9 {
            [1.0, 0.0, 0.0]
        } else {
            [0.0, 1.0, 0.0]
        };
        let along = (0..3).map(|i| seed[i] * n[i]).sum::<f64>();
        let flat = [0, 1, 2].map(|i| seed[i] - along * n[i]);
        flat.map(|c| c / norm(flat))
    };
    let e2 = cross(n, e1);
    let (mut total, mut torque) = ([0.0; 3], [0.0; 3]);
    // Three rings at the nodes of Gauss's rule in the square of the radius, twelve spokes each.
    for (node, weight) in [(-1.0, 5.0), (0.0, 8.0), (1.0, 5.0)] {
        let ring = (0.5 + node * 0.5 * 0.6_f64.sqrt()).sqrt() * b.diameter_mm / 2.0;
        for spoke in 0..12 {
            let (sin, cos) = (TAU * f64::from(spoke) / 12.0).sin_cos();
            for sign in [1.0, -1.0] {
                let arm = [0, 1, 2]
                    .map(|i| ring * (cos * e1[i] + sin * e2[i]) + sign * n[i] * b.height_mm / 2.0);
                let at = [0, 1, 2].map(|i| pose.offset_mm()[i] + arm[i]);
                let share = sign * b.polarization_t * b.face_area_mm2() * weight / 18.0 / 12.0;
                let f = multipole_field(a, at).map(|c| c * share / MU0 * 1e-6);
                let t = cross(arm, f);
                for i in 0..3 {
                    total[i] += f[i];
                    torque[i] += t[i];
                }
            }
        }
    }
    (total, torque)
}

/// How often an estimate is too small, and the worst true error against it.
#[derive(Debug, Default)]
struct Cover {
    done: u32,
    worst: f64,
    worst_relative: f64,
}

impl Cover {
    fn add(&mut self, error: f64, stated: f64, size: f64) {
        self.done += 1;
        // The oracle itself rounds: its faces cancel to a part of h / r.
        let excess = (error - 2e-12 * size).max(0.0);
        self.worst = self.worst.max(excess / stated);
        self.worst_relative = self.worst_relative.max(error / size);
    }
}

#[test]
fn stated_errors_cover_far_sideways() {
    let sizes = [(3.0, 1.0), (5.0, 2.0), (10.0, 1.0), (2.0, 8.0), (1.0, 0.5)];
    let (mut cover, mut torques) = (Cover::default(), Cover::default());
    for (i, (d1, h1)) in sizes.into_iter().enumerate() {
        for (j, (d2, h2)) in sizes.into_iter().enumerate() {
            let (a, b) = (
                Disc::new(d1, h1, 1.3).unwrap(),
                Disc::new(d2, h2, 1.2).unwrap(),
            );
            for away in [60.0, 100.0, 170.0, 250.0, 400.0] {
                for above in [0.0, 0.3, 2.0, 25.0, -80.0] {
                    for tilt in [0.0, 0.7, 30.0, 180.0] {
                        let angle = 0.4 + (i + 3 * j) as f64;
                        let to = [away * angle.cos(), away * angle.sin(), above];
                        let pose = Pose::shifted(to)
                            .unwrap()
                            .turned([0.3, 1.0, 0.0], tilt)
                            .unwrap();
                        let (f, t) = charges(&a, &b, &pose);
                        let (m1, m2) = (Magnet::from(a), Magnet::from(b));
                        let alone = force(&m1, &m2, &pose).unwrap();
                        let w = wrench(&m1, &m2, &pose).unwrap();
                        cover.add(norm(minus(alone.force_n, f)), alone.error_n, norm(f));
                        cover.add(norm(minus(w.force_n, f)), w.error_n, norm(f));
                        let lever = norm(f) * (d2 + h2) + norm(t);
                        torques.add(norm(minus(w.torque_nmm, t)), w.error_nmm, lever);
                    }
                }
            }
        }
    }
    println!("force {cover:?}, torque {torques:?}");
    assert!(cover.done >= 5000 && cover.worst <= 1.0, "{cover:?}");
    assert!(torques.worst <= 1.0, "{torques:?}");
    // The values are as good as the sums are asked to be.
    assert!(
        cover.worst_relative < 2e-5 && torques.worst_relative < 2e-5,
        "{cover:?} {torques:?}"
    );
}

#[test]
fn the_oracle_itself_meets_dipoles_far_away() {
    // Beside each other and level: F = 3 mu0 m1 m2 / (4 pi x^4), like poles pushing (the vector form of magpylib's
    // tests/test_force.py); the next order falls with the square of size over distance.
    let (a, b) = (
        Disc::new(3.0, 1.0, 1.3).unwrap(),
        Disc::new(5.0, 2.0, 1.2).unwrap(),
    );
    for away in [100.0, 200.0, 400.0] {
        let pose = Pose::shifted([away, 0.0, 0.0]).unwrap();
        let (f, _) = charges(&a, &b, &pose);
        let x_m = away * 1e-3;
        let dipole = 3.0 * MU0 * a.moment_a_m2() * b.moment_a_m2() / (4.0 * PI * x_m.powi(4));
        let found = force(&Magnet::from(a), &Magnet::from(b), &pose).unwrap();
        let next_order = 4.0 * (2.5 / away) * (2.5 / away);
        assert!(
            (f[0] / dipole - 1.0).abs() < next_order,
            "{away}: {f:?} {dipole}"
        );
        assert!((found.force_n[0] - dipole).abs() < next_order * dipole + found.error_n);
    }
}

#[test]
fn stated_errors_cover_rows_of_forty_digits() {
    // tests/reference/far.csv: point charges at Gauss's nodes of all faces, by mpmath in 40 digits; the plane y = 0.
    let mut worst = 0.0_f64;
    for row in support::table("far.csv", 40) {
        let magnet =
            |d: &str, h: &str| Magnet::disc(row.num(d), row.num(h), row.num("Br_T")).unwrap();
        let (a, b) = (magnet("D1_mm", "h1_mm"), magnet("D2_mm", "h2_mm"));
        let pose = Pose::shifted([row.num("dx_mm"), 0.0, row.num("dz_mm")])
            .unwrap()
            .turned([0.0, 1.0, 0.0], row.num("tilt_deg_about_y"))
            .unwrap();
        let f = [row.num("Fx_on_2_N"), 0.0, row.num("Fz_on_2_N")];
        let turn = row.num("Ty_on_2_about_centroid_Nmm");
        let alone = force(&a, &b, &pose).unwrap();
        let w = wrench(&a, &b, &pose).unwrap();
        let rounding = 1e-11 * norm(f);
        for (found, stated) in [(alone.force_n, alone.error_n), (w.force_n, w.error_n)] {
            let error = norm(minus(found, f));
            assert!(error <= stated + rounding, "{error:e} {stated:e} {f:?}");
            worst = worst.max(error / norm(f));
        }
        let error = (w.torque_nmm[1] - turn).abs();
        assert!(
            error <= w.error_nmm + 1e-11 * turn.abs(),
            "{error:e} {w:?} {turn}"
        );
    }
    println!("worst {worst:e}");
    assert!(worst < 2e-5);
}
