//! Flux index, reach of the field and freight limits against published methods.

// A test may stop on a bad value, and need not give the same bits on every machine.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods
)]

mod support;

use lodewright_field::{
    Disc, FLUX_INDEX_LIMIT_KG2MM2, MU0_T_M_PER_A, aligned_discs_for_field, distance_to_field_mm,
    flux_index,
};
use support::close;

fn disc(diameter_mm: f64, height_mm: f64, j_t: f64) -> Disc {
    Disc::new(diameter_mm, height_mm, j_t).unwrap()
}

#[test]
fn flux_index_by_the_toy_method() {
    // Probe of Canada's Toys Regulations SOR/2011-17, Schedule 10; limit of 16 CFR 1262.2. The values were computed
    // separately with a general field library: index at J 1.17 / 1.30 / 1.45 T and where the probe reads most.
    let rows = [
        (2.0, 1.0, [21.2, 26.2, 32.6], 0.0),
        (3.0, 1.0, [44.9, 55.4, 69.0], 0.0),
        (3.0, 2.0, [86.1, 106.3, 132.3], 0.0),
        (4.0, 1.0, [65.1, 80.4, 100.0], 0.90),
        (5.0, 1.0, [87.0, 107.4, 133.6], 1.53),
        (5.0, 2.0, [197.0, 243.2, 302.5], 0.85),
        (6.0, 2.0, [252.1, 311.2, 387.2], 1.62),
        (8.0, 2.0, [373.9, 461.6, 574.3], 2.80),
    ];
    for (d, h, values, spot) in rows {
        for (j, want) in [1.17, 1.30, 1.45].into_iter().zip(values) {
            let got = flux_index(&disc(d, h, j)).unwrap();
            close(got.index_kg2mm2, want, 0.003);
            assert!(
                (got.spot_mm - spot).abs() < 0.06,
                "{d}x{h}: {}",
                got.spot_mm
            );
        }
    }
    assert!(flux_index(&disc(2.0, 1.0, 1.3)).unwrap().index_kg2mm2 < FLUX_INDEX_LIMIT_KG2MM2);
    assert!(flux_index(&disc(3.0, 1.0, 1.3)).unwrap().index_kg2mm2 > FLUX_INDEX_LIMIT_KG2MM2);
    assert_eq!(
        flux_index(&disc(3.0, 1.0, -1.3)).unwrap(),
        flux_index(&disc(3.0, 1.0, 1.3)).unwrap()
    );
}

#[test]
fn reach_of_the_field() {
    // Furlani's axis formula solved separately: distances in mm to 1 mT, 0.5 mT and 30 mT at J 1.3 T.
    let rows = [
        (3.0, 1.0, 10.8, 13.7, 2.9),
        (5.0, 2.0, 19.0, 24.2, 5.1),
        (10.0, 3.0, 34.7, 44.3, 9.3),
    ];
    for (d, h, one, half, thirty) in rows {
        let magnet = disc(d, h, 1.3);
        for (field, want) in [(1e-3, one), (0.5e-3, half), (30e-3, thirty)] {
            let z = distance_to_field_mm(&magnet, field).unwrap();
            assert!((z - want).abs() < 0.06, "{d}x{h} {field}: {z}");
            close(magnet.axial_field_t(z).unwrap(), field, 1e-9);
        }
    }
    assert_eq!(
        distance_to_field_mm(&disc(3.0, 1.0, 1.3), 1.0).unwrap(),
        0.0
    );
    assert!(distance_to_field_mm(&disc(3.0, 1.0, 1.3), 0.0).is_err());
}

#[test]
fn freight_limits() {
    // IATA packing instruction 953 (second-hand): 0.002 G and 0.00525 G; 1 G = 1e-4 T.
    assert!((0.002e-4 / MU0_T_M_PER_A - 0.1592).abs() < 1e-4);
    assert!((0.00525e-4 / MU0_T_M_PER_A - 0.4178).abs() < 1e-4);
    for (d, h, count) in [
        (5.0, 2.0, 228.0),
        (3.0, 1.0, 1266.0),
        (6.0, 2.0, 158.0),
        (10.0, 3.0, 38.0),
    ] {
        let got = aligned_discs_for_field(&disc(d, h, 1.3), 200e-9, 2.1).unwrap();
        assert!((got - count).abs() < 1.0, "{d}x{h}: {got}");
    }
}
