//! Coaxial forces against the reference tables and published values.
// A test may stop on a bad value, and need not give the same bits on every machine.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods
)]

mod support;

use lodewright_field::{Disc, FieldError, coaxial_attraction_n, plate_attraction_n};
use support::{close, table};

fn disc(diameter_mm: f64, height_mm: f64, j_t: f64) -> Disc {
    Disc::new(diameter_mm, height_mm, j_t).expect("a legal disc")
}

#[test]
fn coaxial_table_to_1e_9() {
    // tests/reference/coaxial.csv: two independent methods, see the README there.
    for row in table("coaxial.csv", 250) {
        let j = row.num("Br_T");
        let a = disc(row.num("D1_mm"), row.num("h1_mm"), j);
        let b = disc(row.num("D2_mm"), row.num("h2_mm"), j);
        let gap = row.num("gap_mm");
        // The table is written with 12 digits.
        close(
            coaxial_attraction_n(&a, &b, gap).unwrap(),
            row.num("attraction_N"),
            2e-11,
        );
        close(
            coaxial_attraction_n(&b, &a, gap).unwrap(),
            row.num("attraction_N"),
            2e-11,
        );
    }
}

#[test]
fn plate_table_to_1e_9() {
    // tests/reference/plate.csv: image method, permeability 1.
    for row in table("plate.csv", 90) {
        let d = disc(row.num("D_mm"), row.num("h_mm"), row.num("Br_T"));
        close(
            plate_attraction_n(&d, row.num("gap_mm"), 1.0).unwrap(),
            row.num("attraction_N"),
            2e-11,
        );
    }
}

#[test]
fn published_regression_values() {
    // W. Robertson's own regression values (AUMAG/magcode, matlab/testsuite/testcyl01.m), rounded there to mN: J 1.3 T each,
    // magnetised against each other, centres 50 mm apart.
    let cases = [
        (20.0, 40.0, 20.0, 40.0, 265.537),
        (20.0, 40.0, 15.0, 30.0, 111.490),
        (20.0, 20.0, 20.0, 10.0, 18.953),
    ];
    for (r1, h1, r2, h2, repulsion) in cases {
        let gap = 50.0 - 0.5 * (h1 + h2);
        let f =
            coaxial_attraction_n(&disc(2.0 * r1, h1, 1.3), &disc(2.0 * r2, h2, -1.3), gap).unwrap();
        assert!((f + repulsion).abs() < 0.0005, "{f} against -{repulsion}");
    }
}

/// The integral form of D. Vokoun, M. Beleggia, L. Heller and P. Sittner, JMMM 321 (2009) 3758-3763 for equal discs
/// (formula from memory, confirmed numerically), summed by Simpson's rule.
fn vokoun_n(r_mm: f64, t_mm: f64, j_t: f64, gap_mm: f64) -> f64 {
    let tau = t_mm / (2.0 * r_mm);
    let zeta = (gap_mm + t_mm) / r_mm;
    let (top, n) = (60.0 / (gap_mm / r_mm), 400_000);
    let step = top / f64::from(n);
    let mut sum = 0.0;
    for i in 1..=n {
        let q = f64::from(i) * step;
        let weight = if i == n {
            1.0
        } else {
            f64::from(2 + 2 * (i % 2))
        };
        let sinh_pair =
            0.25 * (q * (2.0 * tau - zeta)).exp() * (1.0 - (-2.0 * q * tau).exp()).powi(2);
        sum += weight * libm::j1(q).powi(2) / q * sinh_pair;
    }
    let k_d = j_t * j_t / (2.0 * 4e-7 * std::f64::consts::PI);
    8.0 * std::f64::consts::PI * k_d * (r_mm * 1e-3).powi(2) * sum * step / 3.0
}

#[test]
fn integral_form_of_vokoun_and_others() {
    let d = disc(5.0, 2.0, 1.2);
    for (gap, five_digits) in [(0.1, 5.18674), (0.5, 3.39328), (1.0, 2.25488)] {
        let f = coaxial_attraction_n(&d, &d, gap).unwrap();
        close(f, five_digits, 2e-6);
        close(f, vokoun_n(2.5, 2.0, 1.2, gap), 1e-8);
    }
    close(coaxial_attraction_n(&d, &d, 0.0).unwrap(), 6.17266, 2e-6);
}

#[test]
fn mesh_forces_of_a_general_library() {
    // magpylib 6.3.0 getFT, mesh of volume dipoles: 5x2 pair and 6x2 against 3x1, gap 0.5 mm, 1.3 T.
    close(
        coaxial_attraction_n(&disc(5.0, 2.0, 1.3), &disc(5.0, 2.0, 1.3), 0.5).unwrap(),
        3.98248,
        5e-5,
    );
    close(
        coaxial_attraction_n(&disc(6.0, 2.0, 1.3), &disc(3.0, 1.0, 1.3), 0.5).unwrap(),
        0.873_440,
        2e-5,
    );
}

#[test]
fn similar_magnets_scale_with_area() {
    let small = coaxial_attraction_n(&disc(3.0, 1.0, 1.3), &disc(3.0, 1.0, 1.3), 0.0).unwrap();
    let large = coaxial_attraction_n(&disc(6.0, 2.0, 1.3), &disc(6.0, 2.0, 1.3), 0.0).unwrap();
    // Doubling every length is exact in binary, so the ratio is 4 to the last bit.
    assert_eq!(large, 4.0 * small);
}

#[test]
fn far_force_tends_to_dipoles() {
    // F = 3 mu0 m^2 / (2 pi x^4); ratios at 10, 20, 30, 50 mm computed with the closed form in many digits.
    let d = disc(3.0, 1.0, 1.3);
    let m = d.moment_a_m2();
    for (x_mm, ratio) in [
        (10.0, 0.9111),
        (20.0, 0.9765),
        (30.0, 0.9894),
        (50.0, 0.9962),
    ] {
        let dipole_n = 6e-7 * m * m / (x_mm * 1e-3_f64).powi(4);
        let f = coaxial_attraction_n(&d, &d, x_mm - 1.0).unwrap();
        assert!((f / dipole_n - ratio).abs() < 1e-4, "{}", f / dipole_n);
    }
    // Ten metres away nothing is left but the dipoles.
    let f = coaxial_attraction_n(&d, &d, 10_000.0 - 1.0).unwrap();
    close(f, 6e-7 * m * m / 10.0_f64.powi(4), 1e-6);
}

#[test]
fn smooth_through_contact_equal_radii_and_the_change_of_form() {
    let f = |d1, h1, d2, h2, gap| {
        coaxial_attraction_n(&disc(d1, h1, 1.3), &disc(d2, h2, 1.3), gap).unwrap()
    };
    for tiny in [0.0, 1e-300, 1e-30, 1e-16, 1e-12] {
        close(
            f(3.0, 1.0, 3.0, 1.0, tiny),
            f(3.0, 1.0, 3.0, 1.0, 0.0),
            1e-10,
        );
        close(
            f(3.0, 1.0, 3.0 + tiny, 1.0, 0.0),
            f(3.0, 1.0, 3.0, 1.0, 0.0),
            1e-10,
        );
        close(
            f(3.0, 1.0, 3.0 + tiny, 1.0, 0.01),
            f(3.0, 1.0, 3.0, 1.0, 0.01),
            1e-10,
        );
    }
    // No kink anywhere on the way out: the force times the fourth power of the distance bends slowly.
    let mut gap = 0.5;
    while gap < 5000.0 {
        let g = |k: f64| {
            let z = gap * 1.001_f64.powf(k);
            f(5.0, 2.0, 3.0, 1.0, z).ln()
        };
        let third = g(3.0) - 3.0 * g(2.0) + 3.0 * g(1.0) - g(0.0);
        assert!(third.abs() < 5e-8, "kink of {third} at {gap}");
        gap *= 1.05;
    }
}

#[test]
fn wafer_thin_and_oversized_discs_stay_finite_and_positive() {
    for d1 in [0.001, 1.0, 200.0] {
        for h1 in [0.001, 1.0, 200.0] {
            for d2 in [0.001, 0.999_999, 1.0, 200.0] {
                for gap in [0.0, 1e-12, 1e-3, 1.0, 1e4] {
                    let f =
                        coaxial_attraction_n(&disc(d1, h1, 1.3), &disc(d2, 0.5, 1.3), gap).unwrap();
                    assert!(f.is_finite() && f > 0.0, "{d1} {h1} {d2} {gap}: {f}");
                }
            }
        }
    }
}

#[test]
fn bad_input_is_told_apart() {
    let bad = |r: Result<Disc, FieldError>| r.unwrap_err().to_string();
    assert!(bad(Disc::new(-1.0, 1.0, 1.0)).contains("diameter is -1 mm"));
    assert!(bad(Disc::new(1.0, f64::NAN, 1.0)).contains("height is NaN"));
    assert!(bad(Disc::new(1.0, 201.0, 1.0)).contains("200"));
    assert!(bad(Disc::new(1.0, 1.0, 9.0)).contains("polarisation"));
    let d = disc(3.0, 1.0, 1.3);
    assert!(coaxial_attraction_n(&d, &d, -0.1).is_err());
    assert!(coaxial_attraction_n(&d, &d, f64::INFINITY).is_err());
    let meddled = Disc {
        height_mm: f64::NAN,
        ..d
    };
    assert!(coaxial_attraction_n(&meddled, &d, 1.0).is_err());
}
