//! The Monte Carlo against closed forms, and its seed.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop on a broken setup"
)]

use lodewright_planner::joints::{End, JointModel, PairSide, ScatterError, Source, scatter};
use lodewright_planner::kit::{Plan, Scatter};
use lodewright_planner::{Analysis, planfile};

/// The demo's antenna: one pair, no scatter at all but what a test puts in.
fn still(change: impl FnOnce(&mut Plan)) -> (Plan, JointModel) {
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
    let planned = antenna(&plan);
    change(&mut plan);
    let mut model = antenna(&plan);
    // Another target may ask for other magnets: the joint is the same throughout.
    for (i, pair) in planned.pairs.iter().enumerate() {
        for side in [PairSide::Socket, PairSide::Plug] {
            let piece = pair.side(side);
            model.fill(i, side, piece.filling, piece.misfit);
        }
    }
    assert_eq!(model.pairs, planned.pairs);
    for load in &mut model.loads {
        load.likely_g = load.mass_g;
    }
    (plan, model)
}

fn antenna(plan: &Plan) -> JointModel {
    let answers = Analysis::of(plan.clone()).unwrap();
    let mut joints = answers.joints().iter();
    let found = joints.find(|(_, j)| j.words == "Whip antenna in Aerial foot");
    answers.study(found.unwrap().0).unwrap()
}

/// Margin with every gap wider by so much, everything else at the weak end but the gap as planned.
fn margin_at(plan: &Plan, model: &JointModel, extra_mm: f64) -> f64 {
    let pull = |extra_mm| -> f64 {
        let pairs = model.pairs.iter();
        pairs.map(|p| model.pair_n(p, End::Weak, extra_mm)).sum()
    };
    // One pair: the margin is proportional to its pull.
    model.judge().margin_x_weight().unwrap() * pull(extra_mm - plan.settings.gap_tolerance_mm)
        / pull(0.0)
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
    let (plan, model) = still(|_| {});
    let answer = scatter(&model, 0, 20_000, 1).unwrap();
    assert!(answer.fifth_percentile_x_weight < answer.median_x_weight);
    // The weak end of the grade with the gap as planned is the least that can come out.
    assert!(answer.fifth_percentile_x_weight > margin_at(&plan, &model, 0.0) * 0.999);
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
    let (_, model) = still(|_| {});
    let by_strength = scatter(&model, 0, 40_000, 5).unwrap().sd_x_weight;
    let sd_mm = 0.01;
    let (plan, model) = still(|plan| plan.settings.scatter.depth_sd_mm = sd_mm);
    let answer = scatter(&model, 0, 40_000, 6).unwrap();
    let middle = answer.median_x_weight / margin_at(&plan, &model, 0.0);
    let slope =
        (margin_at(&plan, &model, 0.005) - margin_at(&plan, &model, -0.005)) / 0.01 * middle;
    let by_depth = slope.abs() * sd_mm * std::f64::consts::SQRT_2;
    let closed_sd = (by_strength * by_strength + by_depth * by_depth).sqrt();
    assert!(
        (answer.sd_x_weight / closed_sd - 1.0).abs() < 0.02,
        "{} {closed_sd}",
        answer.sd_x_weight
    );
    let share = answer
        .shares
        .iter()
        .find(|(s, _)| *s == Source::Depth)
        .unwrap()
        .1;
    let closed = by_depth * by_depth / (closed_sd * closed_sd);
    assert!(
        (share - closed).abs() < 4.0 * answer.share_se,
        "{share} {closed}"
    );
}

/// The chance of meeting a target set at a known gap, against the normal distribution.
#[test]
fn the_chance_is_that_of_the_normal_distribution() {
    let (planned, unasked) = still(|_| {});
    let sd_mm = 0.05;
    // Strength cannot be switched off, so the target is set far enough out that depth alone decides half of it: compare
    // with a second run in which nothing but strength scatters.
    for at_mm in [-0.05, 0.0, 0.08] {
        let strengths = 400;
        let target_x_weight = margin_at(&planned, &unasked, at_mm) * 1.03;
        let (plan, model) = still(|plan| {
            plan.settings.scatter.depth_sd_mm = sd_mm;
            plan.settings.hold_target_g = target_x_weight;
        });
        let answer = scatter(&model, 0, 40_000, 9).unwrap();
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
                    if margin_at(&plan, &model, mid) * factor * factor >= target_x_weight {
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
    let (_, model) = still(|plan| plan.settings.scatter = Scatter::default());
    let one = scatter(&model, 0, 2_000, 42).unwrap();
    assert_eq!(one, scatter(&model, 0, 2_000, 42).unwrap());
    assert_ne!(
        one.median_x_weight,
        scatter(&model, 0, 2_000, 43).unwrap().median_x_weight
    );
}

#[test]
fn what_cannot_be_drawn_is_said() {
    let (_, model) = still(|_| {});
    assert_eq!(
        scatter(&model, 0, 3, 1),
        Err(ScatterError::Draws { given: 3 })
    );
    assert_eq!(
        scatter(&model, 99, 1_000, 1),
        Err(ScatterError::NothingToDraw)
    );
    let mut empty = model.clone();
    empty.pairs.clear();
    assert_eq!(
        scatter(&empty, 0, 1_000, 1),
        Err(ScatterError::NothingToDraw)
    );
}
