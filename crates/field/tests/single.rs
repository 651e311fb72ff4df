//! One magnet on its own: axis field, moment, mass, demagnetisation.
// A test may stop on a bad value, and need not give the same bits on every machine.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods
)]

mod support;

use lodewright_field::{Disc, br_at_temperature_t, demagnetizing_factor, effective_polarization_t};
use support::close;

fn disc(diameter_mm: f64, height_mm: f64) -> Disc {
    Disc::new(diameter_mm, height_mm, 1.3).expect("a legal disc")
}

#[test]
fn axial_field_of_a_3_4_5_triangle() {
    // E. P. Furlani (2001), on-axis field: 3 x 2 has L / sqrt(L^2 + R^2) = 2 / 2.5, so exactly 0.4 J at the face.
    let d = disc(3.0, 2.0);
    close(d.axial_field_t(0.0).unwrap(), 0.52, 1e-15);
    close(d.axial_field_t(-2.0).unwrap(), 0.52, 1e-15);
}

#[test]
fn axial_field_table() {
    // The same formula worked out separately, in mT at 0 / 0.38 / 1 / 2 / 5 mm.
    let rows = [
        (3.0, 1.0, [360.56, 280.46, 159.44, 61.38, 8.01]),
        (5.0, 2.0, [406.05, 350.50, 257.94, 145.15, 30.75]),
        (10.0, 3.0, [334.42, 314.77, 278.58, 218.22, 91.58]),
    ];
    for (d, h, values) in rows {
        for (z, want) in [0.0, 0.38, 1.0, 2.0, 5.0].into_iter().zip(values) {
            assert!((disc(d, h).axial_field_t(z).unwrap() * 1e3 - want).abs() < 0.006);
        }
    }
}

#[test]
fn far_axial_field_keeps_its_digits() {
    // Dipole limit mu0 m / (2 pi r^3) at 5 m: the next term is of order (R / r)^2.
    let d = disc(3.0, 1.0);
    let r_mm = 5000.0;
    close(
        d.axial_field_t(r_mm - 0.5).unwrap(),
        2e-7 * d.moment_a_m2() / (r_mm * 1e-3_f64).powi(3),
        1e-6,
    );
}

#[test]
fn moment_and_mass() {
    // m = J V / mu0 and 7.5 g/cm^3, worked out separately.
    close(disc(5.0, 2.0).moment_a_m2(), 0.04063, 2e-4);
    close(disc(5.0, 2.0).mass_g(), 0.2945, 2e-4);
}

#[test]
fn demagnetising_factor_of_cylinders() {
    // N(1) and N(0.5): Chen, Brug & Goldfarb, IEEE Trans. Magn. 27 (1991) 3601 (values from memory); the others were computed
    // by integrating the field over the volume.
    for (ratio, n) in [
        (0.2, 0.6802),
        (0.25, 0.6346),
        (1.0 / 3.0, 0.5708),
        (0.4, 0.5281),
        (0.5, 0.4745),
        (1.0, 0.3116),
    ] {
        assert!((demagnetizing_factor(5.0, 5.0 * ratio).unwrap() - n).abs() < 6e-5);
    }
    // Limits: a sheet and a needle, for which N tends to 4 D / (3 pi L).
    assert!(demagnetizing_factor(200.0, 0.001).unwrap() > 0.9999);
    close(
        demagnetizing_factor(0.1, 200.0).unwrap(),
        4.0 * 0.1 / (3.0 * std::f64::consts::PI * 200.0),
        1e-3,
    );
}

#[test]
fn effective_polarisation_of_a_measured_disc() {
    // Disc 8 x 2 of N35 (Br 1.170 T): fitted mean polarisation 1.126 T, magpylib documentation, "modelling a real magnet".
    let j = effective_polarization_t(1.170, 1.05, 8.0, 2.0).unwrap();
    assert!((j - 1.134).abs() < 0.001);
    close(j, 1.126, 0.01);
}

#[test]
fn heat_weakens() {
    // -0.11 % per kelvin (two producer tables), 20 to 80 degrees Celsius: remanence x 0.934, force x 0.8724.
    let factor = br_at_temperature_t(1.0, -0.0011, 80.0);
    close(factor, 0.934, 1e-12);
    close(factor * factor, 0.8724, 1e-4);
}

#[test]
fn the_field_far_along_the_axis_keeps_its_digits() {
    // Furlani's field on the axis, on a common denominator, against the field at a point: two forms.
    for away in [50.0, 500.0, 4000.0] {
        let d = disc(3.0, 1.0);
        let at = [0.0, 0.0, away + 0.5];
        let along = lodewright_field::Magnet::from(d).field_t(at).unwrap()[2];
        close(along, d.axial_field_t(away).unwrap(), 1e-11);
    }
}
