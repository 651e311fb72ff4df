//! Pull on steel discs against non-linear finite elements.

// A test may stop on a bad value, and need not give the same bits on every machine.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods
)]

mod support;

use lodewright_field::{Disc, plate_attraction_n, steel_disc_attraction_n};
use support::table;

#[test]
fn errs_low_against_finite_elements() {
    // tests/reference/steel_fem.csv: two complementary finite-element formulations, mild steel, Br 1.30 T, mu_r 1.05.
    let mut ratios: Vec<f64> = table("steel_fem.csv", 110)
        .iter()
        .map(|row| {
            let d = Disc::new(row.num("D_mm"), row.num("h_mm"), row.num("Br_T")).unwrap();
            let (width, thick) = (row.num("steel_D_mm"), row.num("steel_t_mm"));
            let f = steel_disc_attraction_n(
                &d,
                width,
                thick,
                row.num("gap_mm"),
                row.num("magnet_mu_r"),
            )
            .unwrap();
            f / row.num("attraction_N")
        })
        .collect();
    ratios.sort_by(f64::total_cmp);
    let at = |part: f64| ratios[(part * (ratios.len() - 1) as f64).round() as usize];
    let summary = format!(
        "share of the finite-element force: least {:.3}, tenth {:.3}, median {:.3}, ninth tenth {:.3}, most {:.3}",
        at(0.0),
        at(0.1),
        at(0.5),
        at(0.9),
        at(1.0)
    );
    println!("{summary}");
    assert!(at(1.0) <= 1.0, "never above: {summary}");
    assert!(at(0.5) >= 0.88, "median within 12 % below: {summary}");
    assert!(at(0.0) >= 0.70, "worst within 30 % below: {summary}");
}

#[test]
fn thick_plate_with_recoil_meets_finite_elements() {
    // Wide, thick rows of the same table (3 diameters, 2 mm): the image method with the recoil permeability's loss.
    let mut seen = 0;
    for row in table("steel_fem.csv", 110) {
        if row.num("steel_D_over_magnet_D") < 3.0
            || row.num("steel_t_mm") < 2.0
            || row.num("gap_mm") > 0.2
        {
            continue;
        }
        let d = Disc::new(row.num("D_mm"), row.num("h_mm"), row.num("Br_T")).unwrap();
        let f = plate_attraction_n(&d, row.num("gap_mm"), row.num("magnet_mu_r")).unwrap();
        support::close(f, row.num("attraction_N"), 0.006);
        seen += 1;
    }
    assert!(seen >= 5, "only {seen} rows");
}

#[test]
fn grows_with_steel_and_falls_with_gap() {
    // No step may go the wrong way, inside the table's range or beyond it.
    let pull = |d: f64, width: f64, thick: f64, gap: f64| {
        steel_disc_attraction_n(
            &Disc::new(d, 0.4 * d, 1.3).unwrap(),
            width,
            thick,
            gap,
            1.05,
        )
        .unwrap()
    };
    for d in [2.0, 5.0, 12.0] {
        for width in [0.5, 0.9, 1.0, 1.2, 1.5, 2.0, 4.0] {
            for thick in [0.1, 0.3, 1.0, 3.0] {
                for gap in [0.0, 0.05, 0.3, 1.0, 3.0, 10.0] {
                    let f = pull(d, width * d, thick, gap);
                    assert!(f.is_finite() && f > 0.0);
                    assert!(
                        pull(d, width * d, 1.2 * thick, gap) >= f,
                        "thicker: {d} {width} {thick} {gap}"
                    );
                    assert!(
                        pull(d, width * d, thick, gap + 0.1) < f,
                        "farther: {d} {width} {thick} {gap}"
                    );
                    let plate = plate_attraction_n(&Disc::new(d, 0.4 * d, 1.3).unwrap(), gap, 1.05)
                        .unwrap();
                    assert!(f < plate);
                    if width < 1.5 {
                        assert!(
                            pull(d, 1.1 * width * d, thick, gap) >= f,
                            "wider: {d} {width} {thick} {gap}"
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn a_weaker_magnet_fills_the_steel_less() {
    let part = |br: f64| {
        let d = Disc::new(10.0, 3.0, br).unwrap();
        steel_disc_attraction_n(&d, 15.0, 0.5, 0.0, 1.05).unwrap()
            / plate_attraction_n(&d, 0.0, 1.05).unwrap()
    };
    assert!(part(0.2) > part(0.7) && part(0.7) > part(1.3));
    let turned = Disc::new(10.0, 3.0, -1.3).unwrap();
    let upright = Disc::new(10.0, 3.0, 1.3).unwrap();
    let f = |d: &Disc| steel_disc_attraction_n(d, 15.0, 0.5, 0.1, 1.05).unwrap();
    assert_eq!(f(&turned), f(&upright)); // steel has no pole of its own
}

#[test]
fn steel_is_taken_to_fill_early() {
    // Low-carbon steel 1010 (a public finite-element code's material class): at 318.3 kA/m B is 2.4 T, at 1910 kA/m 4.4 T,
    // which both leave a saturation polarisation of 2.000 T; Armco iron has 2.12 T. The model uses 1.8 T.
    let mu0 = lodewright_field::MU0_T_M_PER_A;
    for (h, b) in [(318.31e3, 2.4), (1909.86e3, 4.4)] {
        assert!((b - mu0 * h - 2.0_f64).abs() < 0.005);
    }
    let last = table("bh_1010_like.csv", 20).pop().unwrap();
    let saturation_t = last.num("B_T") - mu0 * last.num("H_A_per_m");
    assert!((saturation_t - 2.0).abs() < 0.005, "{saturation_t}");
    // Deeply full steel: the force is that of a disc magnetised to 1.8 T or less, so it grows with its thickness only.
    let d = Disc::new(10.0, 3.0, 1.3).unwrap();
    let f = |t: f64| steel_disc_attraction_n(&d, 10.0, t, 0.0, 1.05).unwrap();
    assert!((f(0.02) / f(0.01) - 2.0).abs() < 0.25);
}
