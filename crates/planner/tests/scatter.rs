//! The Monte Carlo against closed forms, and its seed.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop on a broken setup"
)]

use lodewright_planner::joints::{End, JointModel, ScatterError, Source, scatter};
use lodewright_planner::kit::{Plan, Scatter};
use lodewright_planner::{derive, planfile, study};

/// The demo's antenna: one pair, no scatter at all but what a test puts in.
fn still() -> (Plan, JointModel) {
    let file = include_bytes!("../../../examples/demo.lodewright.json");
    let mut plan = planfile::read(file).unwrap().plan;
    plan.settings.scatter = Scatter {
        position_sd_mm: 0.0,
        depth_sd_mm: 0.0,
        tilt_sd_deg: 0.0,
        coats_sd_share: 0.0,
    };
    // All magnets alike but in strength.
    plan.settings.magnet_make.size_tolerance_mm = 0.0;
    plan.settings.magnet_make.thinnest_plating_um = 15.0;
    plan.settings.magnet_make.thickest_plating_um = 15.0;
    let answers = derive(&plan).unwrap();
    let joint = answers
        .joints
        .iter()
        .position(|j| j.words == "Whip antenna in Aerial foot");
    let mut model = study(&plan, &answers, joint.unwrap()).unwrap();
    for load in &mut model.loads {
        load.likely_g = load.mass_g;
    }
    (plan, model)
}

/// Margin with every gap wider by so much, everything else at the weak end but the gap as planned.
fn margin_at(plan: &Plan, model: &JointModel, extra_mm: f64) -> f64 {
    let pull = |extra| -> f64 {
        model
            .pulls(plan, End::Weak, extra)
            .iter()
            .map(|p| p.force_n)
            .sum()
    };
    let account = model.account(plan);
    // One pair: the margin is proportional to its pull.
    account.margin_g.unwrap() * pull(extra_mm - plan.settings.gap_tolerance_mm) / pull(0.0)
}

/// The normal distribution, by A & S 26.2.17 (Abramowitz and Stegun 1964), to 7.5e-8.
fn normal_below(x: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * x.abs());
    let tail = libm::exp(-x * x / 2.0) / (2.0 * std::f64::consts::PI).sqrt()
        * t
        * (0.319_381_530
            + t * (-0.356_563_782
                + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429))));
    if x > 0.0 { 1.0 - tail } else { tail }
}

/// Only the strength of the lots scatters, the least it can be made to: every draw then lies between the two ends.
#[test]
fn strength_alone_runs_from_end_to_end_of_the_grade() {
    let (plan, model) = still();
    let answer = scatter(&plan, &model, 0, 20_000, 1).unwrap();
    assert!(answer.fifth_percentile_g < answer.median_g);
    // The weak end of the grade with the gap as planned is the least that can come out.
    assert!(answer.fifth_percentile_g > margin_at(&plan, &model, 0.0) * 0.999);
    let share = |s: Source| {
        answer
            .shares
            .iter()
            .find(|(source, _)| *source == s)
            .unwrap()
            .1
    };
    assert!(share(Source::Strength) > 0.98, "{:?}", answer.shares);
    assert!(
        Source::ALL
            .iter()
            .filter(|s| **s != Source::Strength)
            .all(|s| share(*s) < 3.0 * answer.share_se + 0.02)
    );
}

/// Two independent depths of standard deviation s: for small s the margin is linear in their sum, so that its standard
/// deviation is |slope| s sqrt(2), added in squares to that of the strength (propagation of independent errors).
#[test]
fn small_depths_propagate_as_the_closed_form_says() {
    let (mut plan, model) = still();
    let by_strength_g = scatter(&plan, &model, 0, 40_000, 5).unwrap().sd_g;
    let sd_mm = 0.01;
    plan.settings.scatter.depth_sd_mm = sd_mm;
    let answer = scatter(&plan, &model, 0, 40_000, 6).unwrap();
    let middle = answer.median_g / margin_at(&plan, &model, 0.0);
    let slope =
        (margin_at(&plan, &model, 0.005) - margin_at(&plan, &model, -0.005)) / 0.01 * middle;
    let by_depth_g = slope.abs() * sd_mm * std::f64::consts::SQRT_2;
    let closed_g = (by_strength_g * by_strength_g + by_depth_g * by_depth_g).sqrt();
    assert!(
        (answer.sd_g / closed_g - 1.0).abs() < 0.02,
        "{} {closed_g}",
        answer.sd_g
    );
    let share = answer
        .shares
        .iter()
        .find(|(s, _)| *s == Source::Depth)
        .unwrap()
        .1;
    let closed = by_depth_g * by_depth_g / (closed_g * closed_g);
    assert!(
        (share - closed).abs() < 4.0 * answer.share_se,
        "{share} {closed}"
    );
}

/// The chance of meeting a target set at a known gap, against the normal distribution.
#[test]
fn the_chance_is_that_of_the_normal_distribution() {
    let (mut plan, model) = still();
    let sd_mm = 0.05;
    plan.settings.scatter.depth_sd_mm = sd_mm;
    // Strength cannot be switched off, so the target is set far enough out that depth alone decides half of it: compare
    // with a second run in which nothing but strength scatters.
    for at_mm in [-0.05, 0.0, 0.08] {
        let strengths = 400;
        let target_g = margin_at(&plan, &model, at_mm) * 1.03;
        plan.settings.hold_target_g = target_g;
        let answer = scatter(&plan, &model, 0, 40_000, 9).unwrap();
        // Closed form: for each strength (even in the grade: both discs are of one lot) the gap at which the target is just
        // met, and the normal chance of a narrower one.
        let chance: f64 = (0..strengths)
            .map(|i| {
                let share = (f64::from(i) + 0.5) / f64::from(strengths);
                // Linear in each polarisation between the ends of the grade, N42: 1.28 to 1.33 T.
                let factor = (1.28 + 0.05 * share) / 1.28;
                let (mut low, mut high) = (-0.4_f64, 0.8_f64);
                for _ in 0..50 {
                    let mid = (low + high) / 2.0;
                    if margin_at(&plan, &model, mid) * factor * factor >= target_g {
                        low = mid;
                    } else {
                        high = mid;
                    }
                }
                normal_below(low / (sd_mm * std::f64::consts::SQRT_2))
            })
            .sum::<f64>()
            / f64::from(strengths);
        assert!(
            (answer.meets - chance).abs() < 4.0 * answer.meets_se + 0.004,
            "{at_mm}: {} {chance}",
            answer.meets
        );
    }
}

#[test]
fn a_seed_gives_the_same_bits_and_another_does_not() {
    let (mut plan, model) = still();
    plan.settings.scatter = Scatter::default();
    let one = scatter(&plan, &model, 0, 2_000, 42).unwrap();
    assert_eq!(one, scatter(&plan, &model, 0, 2_000, 42).unwrap());
    assert_ne!(
        one.median_g,
        scatter(&plan, &model, 0, 2_000, 43).unwrap().median_g
    );
}

#[test]
fn what_cannot_be_drawn_is_said() {
    let (plan, model) = still();
    assert_eq!(
        scatter(&plan, &model, 0, 3, 1),
        Err(ScatterError::Draws { given: 3 })
    );
    assert_eq!(
        scatter(&plan, &model, 99, 1_000, 1),
        Err(ScatterError::NothingToDraw)
    );
    let mut empty = model.clone();
    empty.pairs.clear();
    assert_eq!(
        scatter(&plan, &empty, 0, 1_000, 1),
        Err(ScatterError::NothingToDraw)
    );
}
