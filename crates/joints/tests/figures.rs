//! Pulls, sizes, curves and cautions against the field crate and by hand.

use lodewright_field::{
    Disc, br_at_temperature_t, coaxial_attraction_n, distance_to_field_mm,
    effective_polarization_t, flux_index, plate_attraction_n, read_grade, steel_disc_attraction_n,
};
use lodewright_joints::{
    End, Filling, GapLayer, GapPart, GapStack, PairSide, PullMemory, as_grams, filling_mass_g,
    filling_size, force_curve, gap_at, gap_costs, magnet_facts, pull_n,
};
use lodewright_kit::{Ix, MagnetIx, Plan, SteelIx};

fn magnet(i: usize) -> Filling {
    Filling::Magnet(MagnetIx::new(i))
}

fn steel(i: usize) -> Filling {
    Filling::Steel(SteelIx::new(i))
}

/// A plan whose magnets have the sizes they are sold by, without plating.
fn exact() -> Plan {
    let mut plan = Plan::empty("t");
    plan.settings.magnet_make = crate::support::exact_make();
    plan
}

/// A disc of the first plan's stock at one end of grade N42, by the field crate alone.
fn disc_by_hand(diameter_mm: f64, height_mm: f64, end: End, warmest_c: f64) -> (Disc, f64, f64) {
    let grade = *read_grade("N42").grade();
    let br_t = match end {
        End::Weak => br_at_temperature_t(grade.br_min_t, grade.temp_coeff_per_k, warmest_c),
        End::Strong => grade.br_max_t,
    };
    let mu_r = grade.recoil_permeability;
    let j_t = effective_polarization_t(br_t, mu_r, diameter_mm, height_mm).unwrap();
    (Disc::new(diameter_mm, height_mm, j_t).unwrap(), br_t, mu_r)
}

/// The weak end is the low end of the grade, warm; the strong end its high end at 20 °C.
#[test]
fn pulls_are_those_of_the_field_at_the_ends_of_the_grade() {
    let plan = exact();
    for end in [End::Weak, End::Strong] {
        let (five, br_t, mu_r) = disc_by_hand(5.0, 2.0, end, 40.0);
        let (three, ..) = disc_by_hand(3.0, 1.0, end, 40.0);
        let expected = coaxial_attraction_n(&five, &three, 0.4).unwrap();
        let pull = |a, b, gap_mm| pull_n(&plan, a, b, gap_mm, 0.0, end).unwrap();
        assert!((pull(magnet(4), magnet(1), 0.4) / expected - 1.0).abs() < 1e-12);
        let bare = Disc::new(5.0, 2.0, br_t).unwrap();
        let expected = steel_disc_attraction_n(&bare, 8.0, 1.0, 0.3, mu_r).unwrap();
        for pair in [[magnet(4), steel(2)], [steel(2), magnet(4)]] {
            assert!((pull(pair[0], pair[1], 0.3) / expected - 1.0).abs() < 1e-12);
        }
        assert_eq!(pull(steel(0), steel(1), 0.0), 0.0);
        assert_eq!(pull(magnet(4), Filling::Empty, 0.0), 0.0);
    }
    let pull = |end| pull_n(&plan, magnet(4), magnet(4), 0.2, 0.0, end).unwrap();
    assert!(pull(End::Weak) < pull(End::Strong));
    // No model is ever so cold that its magnets are stronger than the grade says at 20 °C.
    let mut cold = plan.clone();
    cold.settings.warmest_c = -30.0;
    let mut mild = plan;
    mild.settings.warmest_c = 20.0;
    let weak = |plan: &Plan| pull_n(plan, magnet(4), magnet(4), 0.2, 0.0, End::Weak).unwrap();
    assert_eq!(weak(&cold), weak(&mild));
}

/// Off its axis a magnet pulls less; far off it pushes. Within a fiftieth of a millimetre it counts as on it.
#[test]
fn pulls_beside_the_axis() {
    let plan = Plan::empty("t");
    let at = |offset_mm| pull_n(&plan, magnet(4), magnet(4), 0.2, offset_mm, End::Weak).unwrap();
    assert_eq!(at(0.02), at(0.0));
    assert!(at(0.021) < at(0.0) && at(0.021) > 0.999 * at(0.0));
    assert!(at(1.0) < 0.8 * at(0.0) && at(8.0) < 0.0);
}

/// A word that is no grade counts as N35, the weakest of the usual.
#[test]
fn an_unknown_grade_is_weak_where_that_is_worse_and_strong_where_that_is() {
    let with = |grade: &str, end| {
        let mut plan = exact();
        grade.clone_into(&mut plan.stock.magnets[4].grade);
        pull_n(&plan, magnet(4), magnet(4), 0.2, 0.0, end).unwrap()
    };
    assert!(with("who knows", End::Weak) < with("N35", End::Weak));
    assert!(with("who knows", End::Strong) >= with("N52", End::Strong));
    assert!(with("N35", End::Strong) < with("N42", End::Strong));
}

#[test]
fn a_gap_is_widest_at_the_weak_end_and_never_less_than_nothing() {
    let mut plan = Plan::empty("t");
    plan.settings.gap_tolerance_mm = 0.25;
    assert_eq!(gap_at(&plan, 0.5, End::Weak), 0.75);
    assert_eq!(gap_at(&plan, 0.5, End::Strong), 0.25);
    assert_eq!(gap_at(&plan, 0.125, End::Strong), 0.0);
}

/// By hand: 5 by 2 mm of 7.5 g/cm³ and 8 by 1 mm of 7.85 g/cm³.
#[test]
fn sizes_and_masses_of_pieces() {
    let plan = Plan::empty("t");
    assert_eq!(filling_size(&plan, magnet(4)), Some((5.0, 2.0)));
    assert_eq!(filling_size(&plan, steel(2)), Some((8.0, 1.0)));
    assert_eq!(filling_size(&plan, Filling::Empty), None);
    assert_eq!(filling_size(&plan, magnet(99)), None);
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} {b}");
    close(filling_mass_g(&plan, magnet(4)), 0.294_524_311_274);
    close(filling_mass_g(&plan, steel(2)), 0.394_584_037_291);
    close(filling_mass_g(&plan, Filling::Empty), 0.0);
    // What weighs 1 g pulls with 9.80665 mN (standard gravity, CGPM 1901).
    close(as_grams(0.009_806_65), 1.0);
}

#[test]
fn a_force_curve_runs_from_contact_to_its_end() {
    let plan = Plan::empty("t");
    let curve = force_curve(&plan, magnet(4), magnet(1), 2.0, 5);
    let gaps: Vec<f64> = curve.iter().map(|p| p.gap_mm).collect();
    assert_eq!(gaps, [0.0, 0.5, 1.0, 1.5, 2.0]);
    for point in &curve {
        let pull = |end| pull_n(&plan, magnet(4), magnet(1), point.gap_mm, 0.0, end).unwrap();
        assert_eq!(
            (point.weak_n, point.strong_n),
            (pull(End::Weak), pull(End::Strong))
        );
    }
    // Two points at least, and none before contact.
    assert_eq!(force_curve(&plan, magnet(4), magnet(1), -1.0, 0).len(), 2);
    assert_eq!(
        force_curve(&plan, magnet(4), magnet(1), -1.0, 0)[1].gap_mm,
        0.0
    );
}

/// What a layer costs is the pull without it less the pull with it, both with the gap at its widest.
#[test]
fn a_layer_costs_what_is_gained_without_it() {
    let plan = Plan::empty("t");
    let layer = |layer, thickness_mm| GapPart {
        layer,
        thickness_mm,
    };
    let stack = GapStack {
        layers: vec![
            layer(GapLayer::Wall(PairSide::Socket), 0.5),
            layer(GapLayer::Fit, 0.05),
        ],
        gap_mm: 0.55,
    };
    let at = |gap_mm| pull_n(&plan, magnet(4), magnet(4), gap_mm, 0.0, End::Weak).unwrap();
    let costs = gap_costs(&plan, magnet(4), magnet(4), &stack);
    assert_eq!(costs.len(), 2);
    assert_eq!(costs[0].layer, GapLayer::Wall(PairSide::Socket));
    assert!((costs[0].costs_n - (at(0.15) - at(0.65))).abs() < 1e-9);
    assert!((costs[1].costs_n - (at(0.6) - at(0.65))).abs() < 1e-9);
    assert!(costs[0].costs_n > costs[1].costs_n && costs[1].costs_n > 0.0);
    assert!(GapLayer::Wall(PairSide::Plug).is_wall() && !GapLayer::Fit.is_wall());
}

/// A keeper's share is its pull over that of a thick wide plate, by the field crate.
#[test]
fn a_keepers_share_is_of_a_thick_wide_plate() {
    let plan = exact();
    let (_, br_t, mu_r) = disc_by_hand(5.0, 2.0, End::Weak, 40.0);
    let bare = Disc::new(5.0, 2.0, br_t).unwrap();
    let expected = steel_disc_attraction_n(&bare, 6.0, 1.0, 0.3, mu_r).unwrap()
        / plate_attraction_n(&bare, 0.3, mu_r).unwrap();
    let share = lodewright_joints::keeper_share(&plan, steel(1), magnet(4), 0.2).unwrap();
    assert!((share / expected - 1.0).abs() < 1e-9, "{share} {expected}");
}

/// A pull remembered is the pull, whichever piece comes first.
#[test]
fn the_memory_for_pulls_forgets_nothing_and_invents_nothing() {
    let plan = Plan::empty("t");
    let memory = PullMemory::default();
    for end in [End::Weak, End::Strong] {
        for (gap_mm, offset_mm) in [(0.2, 0.0), (0.3, 0.0), (0.2, 0.5)] {
            let exact = pull_n(&plan, magnet(4), magnet(1), gap_mm, offset_mm, end).unwrap();
            for pair in [[magnet(4), magnet(1)], [magnet(1), magnet(4)]] {
                let told = memory.attraction_n(&plan, pair, gap_mm, offset_mm, end);
                assert!((told / exact - 1.0).abs() < 1e-9);
            }
        }
    }
    // Beyond the field's limits nothing pulls.
    assert_eq!(
        memory.attraction_n(&plan, [magnet(4), magnet(4)], -1.0, 0.0, End::Weak),
        0.0
    );
}

#[test]
fn cautions_are_those_of_the_strong_end() {
    let mut plan = exact();
    plan.stock
        .magnets
        .push(crate::support::magnet(150.0, 250.0, 1));
    let facts = magnet_facts(&plan);
    assert_eq!(facts.len(), 8);
    let (disc, ..) = disc_by_hand(6.0, 3.0, End::Strong, 40.0);
    let close = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-9, "{a} {b}");
    close(
        facts[6].flux_index_kg2mm2,
        flux_index(&disc).unwrap().index_kg2mm2,
    );
    close(
        facts[6].pacemaker_mm,
        distance_to_field_mm(&disc, 1e-3).unwrap(),
    );
    close(
        facts[6].card_mm,
        distance_to_field_mm(&disc, 30e-3).unwrap(),
    );
    assert!(facts[6].over_toy_limit && facts[6].card_mm < facts[6].pacemaker_mm);
    assert!(
        facts[..7]
            .iter()
            .all(|f| f.over_toy_limit == (f.flux_index_kg2mm2 > 50.0))
    );
    // Beyond the field formulas' limits nothing is said.
    let none = &facts[7];
    assert_eq!(
        (none.flux_index_kg2mm2, none.pacemaker_mm, none.card_mm),
        (0.0, 0.0, 0.0)
    );
    assert!(!none.over_toy_limit);
}
