//! The quick tables against the exact force.

// A test may stop on a bad value, and need not give the same bits on every machine.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods
)]

mod support;

use lodewright_field::{
    Disc, FAST_PAIR_BOUND, FastPair, Magnet, Pose, coaxial_attraction_n, wrench,
};

const PAIRS: [(f64, f64, f64, f64); 6] = [
    (3.0, 1.0, 3.0, 1.0),
    (5.0, 2.0, 3.0, 1.0),
    (2.0, 1.0, 10.0, 5.0),
    (10.0, 3.0, 10.0, 3.0),
    (5.0, 1.0, 5.2, 1.0),
    (1.0, 6.0, 1.0, 6.0),
];

/// Evenly spread numbers in 0..1 (golden ratio steps): the same on every run.
fn spread(i: u32, dimension: u32) -> f64 {
    let steps = [
        0.618_033_988_75,
        0.754_877_666_25,
        0.569_840_290_99,
        0.819_172_513_4,
    ];
    (f64::from(i + 1) * steps[dimension as usize]).fract()
}

#[test]
fn coaxial_table_within_its_bound() {
    let mut worst = 0.0_f64;
    for (d1, h1, d2, h2) in PAIRS {
        let (a, b) = (
            Disc::new(d1, h1, 1.3).unwrap(),
            Disc::new(d2, h2, -1.2).unwrap(),
        );
        let fast = FastPair::new(&a, &b).unwrap();
        for i in 0..2000 {
            let gap = d1 * 10.0_f64.powf(6.0 * spread(i, 0) - 4.5);
            let exact = coaxial_attraction_n(&a, &b, gap).unwrap();
            worst = worst.max((fast.coaxial_n(gap).unwrap() / exact - 1.0).abs());
        }
        let contact = coaxial_attraction_n(&a, &b, 0.0).unwrap();
        worst = worst.max((fast.coaxial_n(0.0).unwrap() / contact - 1.0).abs());
        assert!(fast.coaxial_n(-0.1).is_err());
        assert!(fast.coaxial_n(f64::NAN).is_err());
    }
    println!("coaxial table: worst relative error {worst:.1e}");
    assert!(worst < FAST_PAIR_BOUND / 10.0);
}

#[test]
fn misplaced_pairs_within_the_bound() {
    let mut worst = 0.0_f64;
    for (d1, h1, d2, h2) in PAIRS {
        let (a, b) = (
            Disc::new(d1, h1, 1.3).unwrap(),
            Disc::new(d2, h2, 1.3).unwrap(),
        );
        let fast = FastPair::new(&a, &b).unwrap();
        let mut worst_here = 0.0_f64;
        for i in 0..400 {
            let small = 0.5 * d1.min(d2);
            let gap = small * 10.0_f64.powf(2.6 * spread(i, 0) - 2.2);
            let offset = if i % 5 == 0 {
                0.0
            } else {
                0.64 * small * spread(i, 1)
            };
            let room = (gap / (0.5 * d2)).min(1.0).asin().to_degrees();
            let tilt = if i % 3 == 0 {
                0.0
            } else {
                (9.0 * spread(i, 2) - 4.5).clamp(-room, room)
            };
            let azimuth: f64 = 360.0 * spread(i, 3);
            let (sin, cos) = tilt.to_radians().sin_cos();
            let (s, c) = azimuth.to_radians().sin_cos();
            let at = [
                offset + 0.5 * h2 * sin * c,
                0.5 * h2 * sin * s,
                0.5 * h1 + gap + 0.5 * h2 * cos,
            ];
            let pose = Pose::shifted(at)
                .unwrap()
                .turned([-s, c, 0.0], tilt)
                .unwrap();
            let exact = -wrench(&Magnet::Disc(a), &Magnet::Disc(b), &pose)
                .unwrap()
                .force_n[2];
            let error =
                (fast.attraction_n(gap, offset, tilt, azimuth).unwrap() / exact - 1.0).abs();
            if error > worst_here {
                worst_here = error;
                println!(
                    "  {d1}x{h1}/{d2}x{h2} gap {gap:.3} offset {offset:.3} tilt {tilt:.2} at {azimuth:.0}: {error:.1e}"
                );
            }
        }
        println!("{d1}x{h1} on {d2}x{h2}: worst relative error {worst_here:.1e}");
        worst = worst.max(worst_here);
    }
    assert!(worst < FAST_PAIR_BOUND, "{worst}");
}
