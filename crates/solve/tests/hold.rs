//! Hold margins: closed cases, properties, degenerate input, letting go and glue.

#![allow(clippy::unwrap_used, reason = "a test may stop on a broken setup")]

use lodewright_solve::hold::{
    DroopedPulls, HoldAccount, HoldError, Joint, LetGo, Load, Mode, Peg, PegKind, Pull, Section,
    bond_stress_mpa, hold_account, let_go_account, snap_force_n, tip_force_n,
};
use proptest::prelude::*;

const SQUARE: [[f64; 2]; 4] = [[-5.0, -5.0], [5.0, -5.0], [5.0, 5.0], [-5.0, 5.0]];
const MIDDLE: [Pull; 1] = [Pull {
    at_mm: [0.0, 0.0],
    force_n: 2.0,
}];

fn joint<'a>(
    patch_mm: &'a [[f64; 2]],
    pulls: &'a [Pull],
    kind: PegKind,
    centre_mm: [f64; 3],
) -> Joint<'a> {
    let peg = Peg {
        kind,
        ..Peg::default()
    };
    let load = Load {
        weight_n: 0.5,
        centre_mm,
    };
    Joint {
        patch_mm,
        pulls,
        friction: 0.3,
        peg,
        load,
        drooped: DroopedPulls::Unknown,
    }
}

fn margin(account: &HoldAccount, wanted: Mode) -> f64 {
    account
        .modes
        .iter()
        .find(|m| m.mode == wanted)
        .unwrap()
        .margin_g
}

#[test]
fn worked_square_joint() {
    // By hand: M_e = 2 N * 5 mm = 10 N mm; lever of a centre 12 mm above the middle sqrt(25 + 144) = 13 mm.
    let account = hold_account(&joint(&SQUARE, &MIDDLE, PegKind::Keyed, [0.0, 0.0, 12.0])).unwrap();
    assert!((account.margin_g - 10.0 / (0.5 * 13.0)).abs() < 1e-12);
    assert!(
        matches!(account.mode, Mode::Tip { edge: 0, .. }),
        "{:?}",
        account.mode
    );
    assert!(
        (account.direction[1] + 12.0 / 13.0).abs() < 1e-12
            && (account.direction[2] - 5.0 / 13.0).abs() < 1e-12
    );
    assert!((margin(&account, Mode::StraightPull) - 4.0).abs() < 1e-12);
    // Sliding: 0.3 * 2 / (0.5 sqrt(1.09)).
    let loose = hold_account(&joint(&SQUARE, &MIDDLE, PegKind::None, [0.0, 0.0, 12.0])).unwrap();
    assert_eq!(loose.mode, Mode::Slide);
    assert!((loose.margin_g - 1.2 / 1.09_f64.sqrt()).abs() < 1e-12);
    // Turning about a round peg in the middle: mean radius 5/2, lever 8.
    let turning = hold_account(&joint(&SQUARE, &MIDDLE, PegKind::Round, [8.0, 0.0, 0.0])).unwrap();
    let grip: f64 = 0.3 * 2.5;
    assert_eq!(turning.mode, Mode::Turn);
    assert!((turning.margin_g - grip * 2.0 / (0.5 * (64.0 + grip * grip).sqrt())).abs() < 1e-12);
}

#[test]
fn slide_and_turn_together_is_never_safer_than_either() {
    let pulls = [
        Pull {
            at_mm: [-4.0, 0.0],
            force_n: 1.0,
        },
        Pull {
            at_mm: [4.0, 1.0],
            force_n: 2.0,
        },
    ];
    let account = hold_account(&joint(&SQUARE, &pulls, PegKind::None, [3.0, -6.0, 1.0])).unwrap();
    let both = margin(&account, Mode::SlideTurn);
    assert!(
        both < margin(&account, Mode::Slide) && both <= margin(&account, Mode::Turn),
        "{account:?}"
    );
}

#[test]
fn joints_that_hold_nothing_say_why() {
    let at = |patch: &[[f64; 2]], pulls: &[Pull]| {
        hold_account(&joint(patch, pulls, PegKind::None, [0.0; 3]))
            .map(|a| (a.margin_g, a.mode))
            .unwrap()
    };
    assert_eq!(at(&SQUARE, &[]), (0.0, Mode::NoPull));
    assert_eq!(
        at(
            &SQUARE,
            &[Pull {
                at_mm: [0.0; 2],
                force_n: -1.0
            }]
        ),
        (0.0, Mode::NoPull)
    );
    assert_eq!(at(&[], &MIDDLE), (0.0, Mode::NoPatch));
    assert_eq!(at(&[[1.0, 1.0]], &MIDDLE), (0.0, Mode::NoPatch));
    assert_eq!(
        at(&[[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]], &MIDDLE),
        (0.0, Mode::NoPatch)
    );
    let outside = at(
        &SQUARE,
        &[Pull {
            at_mm: [6.0, 0.0],
            force_n: 1.0,
        }],
    );
    assert!(outside.0 == 0.0 && matches!(outside.1, Mode::Tip { .. }));
}

#[test]
fn a_load_on_the_edge_line_cannot_tip_about_it() {
    let account = hold_account(&joint(&SQUARE, &MIDDLE, PegKind::Keyed, [5.0, 0.0, 0.0])).unwrap();
    assert!(account.modes[1].margin_g.is_infinite() && account.margin_g.is_finite());
}

#[test]
fn snug_peg_droops_and_then_only_pulls_straight_out() {
    let mut snug = joint(&SQUARE, &MIDDLE, PegKind::Keyed, [0.0, 0.0, 12.0]);
    snug.peg = Peg {
        kind: PegKind::Keyed,
        at_mm: [0.0; 2],
        length_mm: 4.0,
        clearance_mm: 0.1,
        snug: true,
    };
    let unknown = hold_account(&snug).unwrap();
    assert!(matches!(unknown.mode, Mode::Tip { .. }) && unknown.comes_free_g.is_none());
    // Slope 0.1/4 over 5 mm opens the gap by 0.125 mm.
    let weaker = |_: usize, gap_mm: f64| 2.0 - 8.0 * gap_mm;
    snug.drooped = DroopedPulls::AtExtraGap(&weaker);
    let account = hold_account(&snug).unwrap();
    assert_eq!(account.mode, Mode::DroopedPull);
    assert!(
        (account.margin_g - 1.0 / 0.5).abs() < 1e-12
            && account.comes_free_g == Some(account.margin_g)
    );
    assert_eq!(account.stays_shut_g, unknown.margin_g);
    assert!((account.droop_deg.unwrap() - 1.4321).abs() < 1e-4);
    snug.drooped = DroopedPulls::List(&[1.5]);
    assert!((hold_account(&snug).unwrap().margin_g - 3.0).abs() < 1e-12);
    snug.drooped = DroopedPulls::List(&[]);
    assert_eq!(
        hold_account(&snug).unwrap_err(),
        HoldError::DroopedCount {
            given: 0,
            needed: 1
        }
    );
    let broken = |_: usize, _: f64| f64::NAN;
    snug.drooped = DroopedPulls::AtExtraGap(&broken);
    assert!(matches!(hold_account(&snug), Err(HoldError::Value { .. })));
}

#[test]
fn unusable_numbers_are_named() {
    let mut weightless = joint(&SQUARE, &MIDDLE, PegKind::None, [0.0; 3]);
    weightless.load.weight_n = 0.0;
    assert!(
        hold_account(&weightless)
            .unwrap_err()
            .to_string()
            .contains("weight (N) is 0")
    );
    let bad = [[0.0, 0.0], [f64::INFINITY, 0.0]];
    assert!(
        hold_account(&joint(&bad, &MIDDLE, PegKind::None, [0.0; 3]))
            .unwrap_err()
            .to_string()
            .contains("point 1")
    );
}

#[test]
fn disc_on_its_rim_tips_as_by_hand() {
    // A 3 mm disc pulling 2.2996 N opens at 2.2996 * 1.5 / 20 = 0.172 N, 20 mm up (rigid pivot at the rim). The patch
    // is a 64-gon, so the easiest direction is less by cos(pi/64).
    let rim: Vec<_> = (0..64)
        .map(|i| libm::sincos(f64::from(i) * std::f64::consts::TAU / 64.0))
        .collect();
    let rim: Vec<_> = rim.iter().map(|(s, c)| [1.5 * c, 1.5 * s]).collect();
    let force = tip_force_n(
        &rim,
        &[Pull {
            at_mm: [0.0; 2],
            force_n: 2.2996,
        }],
        20.0,
    )
    .unwrap();
    assert!((force.hardest_n - 0.17247).abs() < 1e-5);
    assert!(
        (force.easiest_n / force.hardest_n - libm::cos(std::f64::consts::PI / 64.0)).abs() < 1e-9
    );
    assert_eq!(tip_force_n(&[], &MIDDLE, 20.0).unwrap().hardest_n, 0.0);
    assert!(tip_force_n(&SQUARE, &MIDDLE, 0.0).is_err());
}

#[test]
fn cantilever_figures() {
    // Root stress of 1 N at 20 mm, MPa, from 32 M/(pi d^3) and 6 M/(b h^2) (beam theory).
    for (d, stress) in [(1.0, 203.718), (1.5, 60.361), (2.0, 25.465), (3.0, 7.545)] {
        let force = snap_force_n(Section::Round { diameter_mm: d }, 20.0, stress, 1.0).unwrap();
        assert!((force - 1.0).abs() < 1e-4, "round {d}: {force}");
    }
    for (b, h, stress) in [(2.0, 1.0, 60.0), (3.0, 2.0, 10.0), (1.0, 2.0, 30.0)] {
        let force = snap_force_n(
            Section::Rectangle {
                across_mm: b,
                along_mm: h,
            },
            20.0,
            stress,
            1.0,
        )
        .unwrap();
        assert!((force - 1.0).abs() < 1e-12, "{b} x {h}: {force}");
    }
    let at_30_mpa = |d| snap_force_n(Section::Round { diameter_mm: d }, 20.0, 30.0, 1.0).unwrap();
    for (d, force) in [(1.0, 0.147), (1.5, 0.497), (2.0, 1.178), (3.0, 3.976)] {
        assert!((at_30_mpa(d) - force).abs() < 5e-4);
    }
    assert!(snap_force_n(Section::Round { diameter_mm: 0.0 }, 20.0, 30.0, 1.0).is_err());
    assert!(snap_force_n(Section::Round { diameter_mm: 1.0 }, 20.0, 30.0, 0.5).is_err());
}

#[test]
fn let_go_compares_the_hardest_push_with_the_snap() {
    let whip = LetGo {
        patch_mm: &SQUARE,
        pulls: &[Pull {
            at_mm: [0.0; 2],
            force_n: 0.4,
        }],
        peg: Peg::default(),
        height_mm: 20.0,
        section: Section::Round { diameter_mm: 1.5 },
        length_mm: 20.0,
        strength_mpa: 30.0,
        stress_concentration: 1.0,
        safety_factor: 2.0,
    };
    // Hardest: 0.4 N * sqrt(50) mm / 20 mm = 0.1414 N against 0.497 N.
    let account = let_go_account(&whip).unwrap();
    assert!((account.factor - 3.5144).abs() < 1e-3 && account.lets_go);
    let stronger = LetGo {
        pulls: &MIDDLE,
        ..whip
    };
    assert!(!let_go_account(&stronger).unwrap().lets_go);
    let snug = LetGo {
        peg: Peg {
            kind: PegKind::Round,
            snug: true,
            ..Peg::default()
        },
        ..whip
    };
    let held = let_go_account(&snug).unwrap();
    assert!(held.opens.is_none() && held.factor == 0.0 && !held.lets_go);
    assert!(
        let_go_account(&LetGo { pulls: &[], ..whip })
            .unwrap()
            .lets_go
    );
}

#[test]
fn bond_stress_over_face_and_rim() {
    // Over the face alone a 5x2 disc pulling 7.2443 N asks 0.369 MPa, a 3x1 pulling 2.2996 N 0.325 MPa (F/A).
    assert!((bond_stress_mpa(7.2443, 5.0, 0.0).unwrap() - 0.369).abs() < 5e-4);
    assert!((bond_stress_mpa(2.2996, 3.0, 0.0).unwrap() - 0.325).abs() < 5e-4);
    // A depth of a quarter diameter doubles the area.
    assert!((bond_stress_mpa(7.2443, 5.0, 1.25).unwrap() - 0.1845).abs() < 5e-4);
    assert!(bond_stress_mpa(1.0, 0.0, 1.0).is_err());
}

fn point() -> impl Strategy<Value = [f64; 2]> {
    [-10.0..10.0f64, -10.0..10.0f64]
}

fn pulls_in_square() -> impl Strategy<Value = Vec<Pull>> {
    prop::collection::vec(([-5.0..5.0f64, -5.0..5.0f64], 0.1..5.0f64), 1..5).prop_map(|list| {
        list.into_iter()
            .map(|(at_mm, force_n)| Pull { at_mm, force_n })
            .collect()
    })
}

fn kinds() -> impl Strategy<Value = PegKind> {
    prop::sample::select(vec![
        PegKind::None,
        PegKind::Round,
        PegKind::Two,
        PegKind::Keyed,
    ])
}

fn centre() -> impl Strategy<Value = [f64; 3]> {
    [-15.0..15.0f64, -15.0..15.0f64, -5.0..30.0f64]
}

proptest! {
    #[test]
    fn more_magnets_never_hold_less(pulls in pulls_in_square(), kind in kinds(), c in centre()) {
        let all = hold_account(&joint(&SQUARE, &pulls, kind, c)).unwrap();
        let fewer = hold_account(&joint(&SQUARE, &pulls[1..], kind, c)).unwrap();
        // The worst centre of rotation is searched for, to about a part in a thousand.
        prop_assert!(all.margin_g >= fewer.margin_g * 0.999, "{} {}", all.margin_g, fewer.margin_g);
        prop_assert!(kind == PegKind::None || all.margin_g >= fewer.margin_g * (1.0 - 1e-12));
    }

    #[test]
    fn worst_centre_of_rotation_is_found(pulls in pulls_in_square(), c in centre()) {
        // The same formula over a fine grid of centres, with the spread of each pull worked out for the square.
        let account = hold_account(&joint(&SQUARE, &pulls, PegKind::None, c)).unwrap();
        let found = margin(&account, Mode::SlideTurn);
        let total: f64 = pulls.iter().map(|p| p.force_n).sum();
        let spread = |p: &Pull| (5.0 - p.at_mm[0].abs().max(p.at_mm[1].abs())) / 2.0;
        let distance = |a: [f64; 2], b: [f64; 2]| ((a[0] - b[0]).powi(2) + (a[1] - b[1]).powi(2)).sqrt();
        for i in 0..101 * 101 {
            let o = [f64::from(i % 101 - 50) * 0.4, f64::from(i / 101 - 50) * 0.4];
            let grip: f64 = pulls.iter().map(|p| 0.3 * p.force_n * distance(p.at_mm, o).max(spread(p))).sum::<f64>() / total;
            let lever = distance([c[0], c[1]], o);
            let there = grip * total / (0.5 * (lever * lever + grip * grip).sqrt());
            prop_assert!(found <= there * 1.001, "{found} {there} at {o:?}");
        }
    }

    #[test]
    fn wider_patch_never_holds_less(pulls in pulls_in_square(), extra in point(), kind in kinds(), c in centre()) {
        let mut wider = SQUARE.to_vec();
        wider.push(extra);
        let wide = hold_account(&joint(&wider, &pulls, kind, c)).unwrap();
        let narrow = hold_account(&joint(&SQUARE, &pulls, kind, c)).unwrap();
        prop_assert!(wide.margin_g >= narrow.margin_g * 0.999, "{} {}", wide.margin_g, narrow.margin_g);
    }

    #[test]
    fn heavier_part_never_holds_better(pulls in pulls_in_square(), kind in kinds(), c in centre(), times in 1.0..10.0f64) {
        let light = joint(&SQUARE, &pulls, kind, c);
        let mut heavy = light;
        heavy.load.weight_n *= times;
        let (light, heavy) = (hold_account(&light).unwrap(), hold_account(&heavy).unwrap());
        prop_assert!(heavy.margin_g <= light.margin_g * (1.0 + 1e-9));
    }

    #[test]
    fn worst_directions_are_unit_vectors(pulls in pulls_in_square(), kind in kinds(), c in centre()) {
        for m in hold_account(&joint(&SQUARE, &pulls, kind, c)).unwrap().modes {
            let norm: f64 = m.direction.iter().map(|x| x * x).sum();
            prop_assert!((norm - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn no_number_breaks_it(
        patch in prop::collection::vec([any::<f64>(), any::<f64>()], 0..6),
        pulls in prop::collection::vec(([any::<f64>(), any::<f64>()], any::<f64>()), 0..4),
        c in [any::<f64>(), any::<f64>(), any::<f64>()],
        kind in kinds(),
        wild in any::<bool>(),
    ) {
        let tame = |x: f64| if wild { x } else { x % 1e9 };
        let patch: Vec<_> = patch.iter().map(|p| p.map(tame)).collect();
        let pulls: Vec<_> = pulls.iter().map(|(p, f)| Pull { at_mm: p.map(tame), force_n: tame(*f) }).collect();
        if let Ok(account) = hold_account(&joint(&patch, &pulls, kind, c.map(tame))) {
            prop_assert!(account.margin_g >= 0.0);
        }
        let _ = tip_force_n(&patch, &pulls, c[0]);
    }
}

/// One pull off the middle, the load far to one side: the worst centre lies on the far side of the pull's spread, where
/// the ratio of grip to lever is spread / (distance + spread).
#[test]
fn worst_centre_of_a_single_pull_is_exact() {
    let at_mm = [0.689_083_055_402_398_3, -0.773_523_893_335_004_6];
    let pulls = [Pull {
        at_mm,
        force_n: 0.1,
    }];
    let c = [-13.437_283_519_643_085, 0.0, 0.0];
    let account = hold_account(&joint(&SQUARE, &pulls, PegKind::None, c)).unwrap();
    let spread = (5.0 - at_mm[1].abs()) / 2.0;
    let lever = ((at_mm[0] - c[0]).powi(2) + at_mm[1].powi(2)).sqrt() + spread;
    let grip = 0.3 * spread;
    let exact = grip * 0.1 / (0.5 * (lever * lever + grip * grip).sqrt());
    let found = margin(&account, Mode::SlideTurn);
    assert!((found / exact - 1.0).abs() < 1e-6, "{found} {exact}");
}
