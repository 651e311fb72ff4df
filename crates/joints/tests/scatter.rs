//! The Monte Carlo against closed forms, and its seed.

use lodewright_joints::{
    Filling, JointModel, PairSide, ScatterAnswer, ScatterError, Source, gap_at, pull_n, scatter,
};
use lodewright_kit::{Finish, Ix, MagnetIx, Mass, PegKind, Plan, Scatter, Settings, SteelIx};

use crate::support::{all, context, exact_make, mast, one_joint, only, plug_site, top};

/// One pair of 5 by 2 mm in the middle, the part's weight known, no scatter but what a test puts in.
fn still(change: impl FnOnce(&mut Plan)) -> JointModel {
    let plan = one_joint(|plan| {
        plan.settings.scatter = Scatter {
            position_sd_mm: 0.0,
            depth_sd_mm: 0.0,
            tilt_sd_deg: 0.0,
            coats_sd_share: 0.0,
        };
        plan.settings.magnet_make = exact_make();
        plan.settings.warmest_c = 20.0;
        top(plan).peg.kind = PegKind::Keyed;
        top(plan).sites[0].wall_mm = 0.3;
        mast(plan).plugs[0].sites = Some(vec![plug_site("a", [0.0; 2])]);
        change(plan);
    });
    let context = context(&plan);
    let fillings = all(&context, Filling::Magnet(MagnetIx::new(4)));
    let mut model = context.model(only(), &fillings, None).unwrap();
    for load in &mut model.loads {
        load.likely_g = load.mass_g;
    }
    model
}

/// The same with the part's magnet a millimetre aside.
fn still_aside(tilt_sd_deg: f64) -> JointModel {
    still(|plan| {
        plan.settings.scatter.tilt_sd_deg = tilt_sd_deg;
        mast(plan).plugs[0].sites = Some(vec![plug_site("a", [1.0, 0.0])]);
    })
}

fn share(answer: &ScatterAnswer, source: Source) -> f64 {
    let found = answer.shares.iter().find(|(s, _)| *s == source);
    found.unwrap().1
}

/// Every source but one has no share worth naming.
fn only_source(answer: &ScatterAnswer, source: Source) {
    for s in Source::ALL {
        let here = share(answer, s);
        if s == source {
            assert!(here > 0.97, "{s:?} {:?}", answer.shares);
        } else {
            assert!(here < 3.0 * answer.share_se + 0.02, "{s:?} {here}");
        }
    }
}

/// Only the strength of the lot scatters: both discs are of one lot, even between the ends of its grade, N42: 1.28 to 1.33 T, so
/// that the pull grows with the square. The quantiles follow by hand.
#[test]
fn strength_alone_runs_from_end_to_end_of_the_grade() {
    let model = still(|_| {});
    let answer = scatter(&model, 0, 20_000, 1).unwrap();
    // With the gap as planned; the worst case has it at its widest besides.
    let weak = |model: &JointModel, gap_mm: f64| {
        let plan = Plan::empty("t");
        let mut plan = Plan {
            settings: Settings {
                warmest_c: 20.0,
                magnet_make: exact_make(),
                ..plan.settings.clone()
            },
            ..plan
        };
        plan.finish = Finish::default();
        let piece = Filling::Magnet(MagnetIx::new(4));
        pull_n(
            &plan,
            piece,
            piece,
            gap_mm,
            0.0,
            lodewright_joints::End::Weak,
        )
        .unwrap()
            * model.judge().margin_x_weight().unwrap()
            / model.judge().weak_n
    };
    let gap_mm = model.pairs[0].gap_mm;
    let least = weak(&model, gap_mm);
    let at = |q: f64| least * ((1.28 + 0.05 * q) / 1.28_f64).powi(2);
    assert!((answer.fifth_percentile_x_weight / at(0.05) - 1.0).abs() < 1e-3);
    assert!((answer.median_x_weight / at(0.5) - 1.0).abs() < 1e-3);
    let plan = Plan::empty("t");
    let widest = weak(&model, gap_at(&plan, gap_mm, lodewright_joints::End::Weak));
    assert!((answer.worst_case_x_weight / widest - 1.0).abs() < 1e-9);
    assert!(
        (answer.worst_case_x_weight / model.judge().margin_x_weight().unwrap() - 1.0).abs() < 1e-12
    );
    // Even from a to b: a standard deviation of (b - a) / sqrt(12), for a range this narrow.
    let sd = (at(1.0) - at(0.0)) / 12.0_f64.sqrt();
    assert!((answer.sd_x_weight / sd - 1.0).abs() < 0.02);
    only_source(&answer, Source::Strength);
    assert_eq!((answer.draws, answer.seed), (20_000, 1));
    assert!((answer.share_se - 1.0 / 5_000.0_f64.sqrt()).abs() < 1e-12);
}

/// Two independent depths of standard deviation s: for small s the margin is linear in their sum, so that its standard
/// deviation is |slope| s sqrt(2), added in squares to that of the strength (propagation of independent errors).
#[test]
fn small_depths_propagate_as_the_closed_form_says() {
    let by_strength = scatter(&still(|_| {}), 0, 40_000, 5).unwrap();
    let sd_mm = 0.01;
    let model = still(|plan| plan.settings.scatter.depth_sd_mm = sd_mm);
    let answer = scatter(&model, 0, 40_000, 6).unwrap();
    // With another wall the same joint has another gap: so much margin a millimetre costs.
    let at = |wall_mm: f64| {
        let model = still(|plan| {
            top(plan).sites[0].wall_mm = wall_mm;
            plan.settings.gap_tolerance_mm = 0.0;
        });
        model.judge().margin_x_weight().unwrap()
    };
    let slope = (at(0.305) - at(0.295)) / 0.01 * by_strength.median_x_weight / at(0.3);
    let by_depth = slope.abs() * sd_mm * std::f64::consts::SQRT_2;
    let closed = libm::hypot(by_strength.sd_x_weight, by_depth);
    assert!(
        (answer.sd_x_weight / closed - 1.0).abs() < 0.02,
        "{} {closed}",
        answer.sd_x_weight
    );
    let expected = by_depth * by_depth / (closed * closed);
    assert!((share(&answer, Source::Depth) - expected).abs() < 4.0 * answer.share_se);
}

/// Coats scatter in proportion to their thickness, and a wall does not: without coats nothing scatters by them, however thick the
/// wall. With them the standard deviation is |slope| times the share times their thickness.
#[test]
fn coats_scatter_and_walls_do_not() {
    let with = |coat_um: f64, share: f64| {
        still(|plan| {
            plan.finish.primer_um = coat_um;
            plan.settings.scatter.coats_sd_share = share;
            top(plan).sites[0].wall_mm = 1.0;
        })
    };
    let bare = scatter(&with(0.0, 0.3), 0, 10_000, 3).unwrap();
    only_source(&bare, Source::Strength);
    let coated = with(200.0, 0.3);
    assert!((coated.pairs[0].coats_mm - 0.4).abs() < 1e-12);
    assert!((coated.pairs[0].gap_mm - 1.4).abs() < 1e-12);
    let answer = scatter(&coated, 0, 40_000, 3).unwrap();
    let still = scatter(&with(200.0, 0.0), 0, 40_000, 3).unwrap();
    let at = |coat_um: f64| {
        scatter(&with(coat_um, 0.0), 0, 40_000, 3)
            .unwrap()
            .median_x_weight
    };
    // Both faces have the coat: a hundredth of a millimetre each is two hundredths of gap.
    let slope = (at(205.0) - at(195.0)) / 0.02;
    let by_coats = slope.abs() * 0.3 * 0.4;
    let closed = libm::hypot(still.sd_x_weight, by_coats);
    // The curve bends within one standard deviation.
    assert!(
        (answer.sd_x_weight / closed - 1.0).abs() < 0.05,
        "{} {closed}",
        answer.sd_x_weight
    );
    assert!(share(&answer, Source::Coats) > 0.9, "{:?}", answer.shares);
}

/// The mass is even from as much under the estimate as the upper end is over it, and the margin goes by its inverse.
#[test]
fn mass_alone_goes_by_its_inverse() {
    let mut model = still(|plan| mast(plan).mass = Mass::Weighed { mass_g: 20.0 });
    let still = scatter(&model, 0, 20_000, 4).unwrap();
    let mass_g = model.loads[0].mass_g;
    model.loads[0].likely_g = mass_g / 1.5;
    let answer = scatter(&model, 0, 40_000, 4).unwrap();
    // Even from a third to the whole of the upper end: at its median two thirds.
    let median = still.median_x_weight * 1.5;
    assert!((answer.median_x_weight / median - 1.0).abs() < 0.02);
    // 5 in 100 are heavier than 29/30 of the upper end.
    let fifth = still.median_x_weight * 30.0 / 29.0;
    assert!((answer.fifth_percentile_x_weight / fifth - 1.0).abs() < 0.02);
    only_source(&answer, Source::Mass);
}

/// Drill wander and leaning make a joint weaker, and each is told apart from the others.
#[test]
fn wander_and_lean_are_told_apart() {
    let median = |change: &dyn Fn(&mut Scatter)| {
        let model = still(|plan| change(&mut plan.settings.scatter));
        scatter(&model, 0, 20_000, 8).unwrap()
    };
    let still = median(&|_| {});
    let wandering = median(&|s| s.position_sd_mm = 0.6);
    assert!(wandering.median_x_weight < 0.95 * still.median_x_weight);
    assert!(
        share(&wandering, Source::Position) > 0.6,
        "{:?}",
        wandering.shares
    );
    assert!(share(&wandering, Source::Tilt) < 0.05 && share(&wandering, Source::Depth) < 0.05);
    // Off the axis a lean to one side brings the discs nearer and one to the other side takes them apart.
    let aside = |tilt_sd_deg: f64| {
        let model = still_aside(tilt_sd_deg);
        scatter(&model, 0, 20_000, 8).unwrap()
    };
    let leaning = aside(3.0);
    assert!(share(&leaning, Source::Tilt) > 0.1, "{:?}", leaning.shares);
    assert!(share(&leaning, Source::Position) < 0.05);
    assert!(leaning.sd_x_weight > aside(0.0).sd_x_weight);
}

/// Steel feels neither offset nor lean; its pull lies between the ends of the grade.
#[test]
fn steel_feels_the_gap_and_the_strength_alone() {
    for side in [PairSide::Socket, PairSide::Plug] {
        let mut model = still(|plan| {
            let s = &mut plan.settings.scatter;
            (s.position_sd_mm, s.tilt_sd_deg) = (0.0, 5.0);
        });
        model.fill(0, side, Filling::Steel(SteelIx::new(0)), None);
        let answer = scatter(&model, 0, 10_000, 2).unwrap();
        only_source(&answer, Source::Strength);
        let verdict = model.judge();
        let margin = verdict.margin_x_weight().unwrap();
        assert!((answer.worst_case_x_weight / margin - 1.0).abs() < 1e-9);
        let least = answer.worst_case_x_weight;
        assert!(answer.median_x_weight > least && answer.median_x_weight < 2.0 * least);
        // Table and formula agree where only the strength, at the weak end, is left: the gap as planned.
        let narrow = {
            let mut model = still(|plan| plan.settings.gap_tolerance_mm = 0.0);
            model.fill(0, side, Filling::Steel(SteelIx::new(0)), None);
            model.judge().margin_x_weight().unwrap()
        };
        let tenth = answer.fifth_percentile_x_weight / narrow;
        assert!((1.0..1.02).contains(&tenth), "{tenth}");
    }
}

/// A pin's pull is known; a pair that repels counts against the rest.
#[test]
fn pins_and_pairs_that_repel() {
    let mut pinned = still(|_| {});
    (pinned.pin_n, pinned.pairs) = (Some(5.0), Vec::new());
    let answer = scatter(&pinned, 0, 1_000, 2).unwrap();
    assert!(answer.sd_x_weight < 1e-9 * answer.median_x_weight);
    assert!((answer.median_x_weight / answer.worst_case_x_weight - 1.0).abs() < 1e-12);
    let mut against = still(|_| {});
    let mut small = against.pairs[0];
    small.attracts = false;
    small.socket.filling = Filling::Magnet(MagnetIx::new(0));
    small.plug.filling = Filling::Magnet(MagnetIx::new(0));
    against.pairs.push(small);
    let both = scatter(&against, 0, 5_000, 2).unwrap().median_x_weight;
    let alone = scatter(&still(|_| {}), 0, 5_000, 2)
        .unwrap()
        .median_x_weight;
    assert!(both < alone && both > 0.5 * alone, "{both} {alone}");
}

/// The share that meets the target is that of the draws, with its standard error.
#[test]
fn the_share_that_meets_the_target() {
    let median = scatter(&still(|_| {}), 0, 10_000, 9)
        .unwrap()
        .median_x_weight;
    let meets = |target: f64| {
        let model = still(|plan| plan.settings.hold_target_g = target);
        scatter(&model, 0, 10_000, 9).unwrap()
    };
    let half = meets(median);
    assert!((half.meets - 0.5).abs() < 0.001, "{}", half.meets);
    assert!((half.meets_se - 0.005).abs() < 1e-6);
    assert_eq!(
        (meets(0.5 * median).meets, meets(2.0 * median).meets),
        (1.0, 0.0)
    );
}

#[test]
fn a_seed_gives_the_same_bits_and_another_does_not() {
    let model = still(|plan| plan.settings.scatter = Scatter::default());
    let one = scatter(&model, 0, 2_000, 42).unwrap();
    assert_eq!(one, scatter(&model, 0, 2_000, 42).unwrap());
    let other = scatter(&model, 0, 2_000, 43).unwrap();
    assert_ne!(one.median_x_weight, other.median_x_weight);
}

#[test]
fn what_cannot_be_drawn_is_said() {
    let model = still(|_| {});
    assert_eq!(
        scatter(&model, 0, 99, 1),
        Err(ScatterError::Draws { given: 99 })
    );
    assert!(scatter(&model, 0, 100, 1).is_ok());
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
    let said = |e: ScatterError| e.to_string();
    assert!(said(ScatterError::Draws { given: 3 }).contains("3 draws"));
    assert!(said(ScatterError::NothingToDraw).contains("fit magnets"));
    let mut far = model;
    far.loads[0].centre_mm = [f64::NAN; 3];
    let refused = scatter(&far, 0, 1_000, 1).unwrap_err();
    assert!(matches!(refused, ScatterError::Hold(e) if said(refused.clone()) == e.to_string()));
}
