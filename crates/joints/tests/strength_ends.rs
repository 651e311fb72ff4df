//! Weak and strong end of a magnet: grade, heat, size and plating, against the field formulas on sizes worked out by hand.

use lodewright_field::{
    Disc, GradeReading, LastingLoss, coaxial_attraction_n, effective_polarization_t,
    steel_disc_attraction_n,
};
use lodewright_joints::{End, Filling, lasting_loss, pull_n, strength_of};
use lodewright_kit::{Ix, MagnetIx, Plan, SteelIx};

fn plan(grade: &str, d: f64, h: f64) -> Plan {
    let mut plan = Plan::empty("t");
    plan.stock.magnets[MagnetIx::new(0)].grade = grade.to_owned();
    plan.stock.magnets[MagnetIx::new(0)].diameter_mm = d;
    plan.stock.magnets[MagnetIx::new(0)].height_mm = h;
    plan
}

fn pair_n(plan: &Plan, gap_mm: f64, end: End) -> f64 {
    let magnet = Filling::Magnet(MagnetIx::new(0));
    pull_n(plan, magnet, magnet, gap_mm, 0.0, end).unwrap()
}

fn close(got: f64, want: f64) {
    assert!((got / want - 1.0).abs() < 1e-12, "{got} {want}");
}

fn alike_n(d: f64, h: f64, br_t: f64, gap_mm: f64) -> f64 {
    let disc = Disc::new(d, h, effective_polarization_t(br_t, 1.05, d, h).unwrap()).unwrap();
    coaxial_attraction_n(&disc, &disc, gap_mm).unwrap()
}

#[test]
fn ends_are_the_smallest_and_the_largest_under_their_plating() {
    // ±0.05 mm and 10 to 20 µm on each face: 3 x 1 is at least 2.91 x 0.91 with 0.04 mm more between two, at most 3.03 x 1.03
    // with 0.02. N42 at 40 degrees: 1.28 (1 - 0.0012 20).
    let plan = plan("N42", 3.0, 1.0);
    close(
        pair_n(&plan, 0.2, End::Weak),
        alike_n(2.91, 0.91, 1.28 * 0.976, 0.24),
    );
    close(
        pair_n(&plan, 0.2, End::Strong),
        alike_n(3.03, 1.03, 1.33, 0.22),
    );
    let steel = |gap_mm, end| {
        pull_n(
            &plan,
            Filling::Steel(SteelIx::new(0)),
            Filling::Magnet(MagnetIx::new(0)),
            gap_mm,
            0.0,
            end,
        )
        .unwrap()
    };
    let disc = Disc::new(2.91, 0.91, 1.28 * 0.976).unwrap();
    close(
        steel(0.2, End::Weak),
        steel_disc_attraction_n(&disc, 5.0, 1.0, 0.22, 1.05).unwrap(),
    );
    let disc = Disc::new(3.03, 1.03, 1.33).unwrap();
    close(
        steel(0.2, End::Strong),
        steel_disc_attraction_n(&disc, 5.0, 1.0, 0.21, 1.05).unwrap(),
    );
}

#[test]
fn size_and_plating_each_weaken() {
    // 2 x 1 in contact but for paint: 0.1 mm less in size leaves about 0.84 of the pull, 15 µm more plating on each face
    // about nine tenths.
    let mut exact = plan("N42", 2.0, 1.0);
    exact.settings.magnet_make.size_tolerance_mm = 0.0;
    exact.settings.magnet_make.thinnest_plating_um = 0.0;
    exact.settings.magnet_make.thickest_plating_um = 0.0;
    let mut smaller = exact.clone();
    smaller.settings.magnet_make.size_tolerance_mm = 0.1;
    let mut plated = exact.clone();
    plated.settings.magnet_make.thickest_plating_um = 15.0;
    let whole = pair_n(&exact, 0.2, End::Weak);
    let (small, thick) = (
        pair_n(&smaller, 0.2, End::Weak),
        pair_n(&plated, 0.2, End::Weak),
    );
    assert!((0.80..0.88).contains(&(small / whole)), "{}", small / whole);
    assert!((0.80..0.93).contains(&(thick / whole)), "{}", thick / whole);
    assert!(pair_n(&smaller, 0.2, End::Strong) > pair_n(&exact, 0.2, End::Strong));
    // The strong end has the thinnest plating, whichever number it was typed into.
    assert_eq!(
        pair_n(&plated, 0.2, End::Strong),
        pair_n(&exact, 0.2, End::Strong)
    );
    let swapped = &mut plated.settings.magnet_make;
    std::mem::swap(
        &mut swapped.thinnest_plating_um,
        &mut swapped.thickest_plating_um,
    );
    assert_eq!(pair_n(&plated, 0.2, End::Weak), thick);
    // What would be ground away altogether pulls nothing, and is no error.
    exact.settings.magnet_make.size_tolerance_mm = 1.0;
    assert!(pair_n(&exact, 0.2, End::Weak) < 1e-3 * whole);
}

#[test]
fn a_strong_word_is_strong_and_an_unknown_one_spans_everything() {
    let strong = |grade: &str| pair_n(&plan(grade, 5.0, 2.0), 0.2, End::Strong);
    let weak = |grade: &str| pair_n(&plan(grade, 5.0, 2.0), 0.2, End::Weak);
    assert!(strong("N52M") > 1.3 * strong("N35"));
    assert_eq!(strong("N 42"), strong("N42"));
    // Ferrite is bare: no plating, and about a tenth of the pull.
    let share = weak("ferrite Y30") / weak("N35");
    assert!((0.08..0.16).contains(&share), "{share}");
    for known in ["N35", "N52", "N56", "Y30", "Y8T", "SmCo 26", "C5"] {
        assert!(weak("strong ones") <= weak(known), "{known}");
        assert!(strong("strong ones") >= strong(known), "{known}");
    }
    let unknown = plan("strong ones", 5.0, 2.0);
    assert!(matches!(
        strength_of(&unknown.stock.magnets[MagnetIx::new(0)]),
        GradeReading::Unknown(_)
    ));
}

#[test]
fn remanence_by_hand_replaces_the_grades() {
    let mut by_hand = plan("strong ones", 3.0, 1.0);
    by_hand.stock.magnets[MagnetIx::new(0)].br_by_hand_t = Some(1.30);
    assert!(!strength_of(&by_hand.stock.magnets[MagnetIx::new(0)]).is_guess());
    // 1.27 to 1.33 T; the material is unknown, so that it may be plated or bare.
    close(
        pair_n(&by_hand, 0.2, End::Weak),
        alike_n(2.91, 0.91, 1.27 * 0.976, 0.24),
    );
    close(
        pair_n(&by_hand, 0.2, End::Strong),
        alike_n(3.05, 1.05, 1.33, 0.2),
    );
}

#[test]
fn heat_that_takes_strength_for_good_is_told() {
    let told = |grade: &str, d: f64, h: f64, warmest_c: f64| {
        let mut plan = plan(grade, d, h);
        plan.settings.warmest_c = warmest_c;
        lasting_loss(&plan, &plan.stock.magnets[MagnetIx::new(0)]).unwrap()
    };
    assert_eq!(told("N42", 3.0, 1.0, 40.0), LastingLoss::None);
    assert_eq!(told("N42", 3.0, 1.0, 90.0), LastingLoss::AboveLimit);
    assert_eq!(told("N52", 5.0, 1.0, 55.0), LastingLoss::PastKnee);
    assert_eq!(told("N42H", 3.0, 1.0, 90.0), LastingLoss::None);
    // Frost does not count as warmth.
    assert_eq!(told("N42", 3.0, 1.0, -30.0), LastingLoss::None);
}
