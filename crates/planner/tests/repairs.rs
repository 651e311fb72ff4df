//! Ways out of contradicting poles on whole plans: every one is carried out and worked through again.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot build its plan has failed"
)]

use lodewright_planner::joints::{
    Feel, Filling, HoleIx, Owner, Reason, RemedyKind, Repairs, price,
};
use lodewright_planner::kit::{
    Edit, Facing, Fit, Ix, Mass, Plan, Pole, SiteId, SocketIx, SocketSiteRef,
};
use lodewright_planner::{Analysis, planfile};
use proptest::prelude::*;

fn plan(grid: &str) -> Plan {
    let mut plan = Plan::empty("test")
        .edited(&Edit::PasteGrid(grid.to_owned()))
        .unwrap();
    for part in &mut plan.parts {
        part.mass = Mass::Weighed { mass_g: 4.0 };
    }
    plan
}

fn demo() -> Plan {
    let file = include_bytes!("../../../examples/demo.lodewright.json");
    planfile::read(file).unwrap().plan
}

fn analysis(plan: &Plan) -> Analysis {
    Analysis::of(plan.clone()).unwrap()
}

/// Two sockets on the two faces of one wall, sharing one hole.
fn wall(grid: &str) -> Plan {
    let mut plan = plan(grid);
    plan.sockets[0].facing = Facing::Left;
    plan.sockets[1].facing = Facing::Right;
    plan.sockets[1].sites[0].through = Some(SocketSiteRef {
        socket: plan.sockets[0].id.clone(),
        site: SiteId::new("a"),
    });
    plan
}

fn carried_out(plan: &Plan, edits: &[Edit]) -> Plan {
    edits
        .iter()
        .fold(plan.clone(), |plan, edit| plan.edited(edit).unwrap())
}

/// Carries every remedy out: no contradiction is left, the joints hold what was said, and no joint repels.
fn check(answers: &Analysis, found: &Repairs) {
    let plan: &Plan = answers.plan();
    let target_x_weight = plan.settings.hold_target_g;
    assert_eq!(found.clashes.len(), answers.contradictions().len());
    for remedy in &found.remedies {
        assert!(!remedy.edits.is_empty() && remedy.weight >= found.lower_bound);
        let after = analysis(&carried_out(plan, &remedy.edits));
        assert!(after.contradictions().is_empty(), "{:?}", remedy.steps);
        let pairs = after.joints().values().iter().flat_map(|j| &j.report.pairs);
        assert!(
            pairs.into_iter().all(|p| p.weak_n >= 0.0),
            "{:?}",
            remedy.steps
        );
        if let Some((margin_x_weight, weakest)) = &remedy.weakest {
            let words = after.words_of(weakest);
            let report = &after.joints()[after.board().find(weakest).unwrap()].report;
            let least = report.worst().unwrap().margin_x_weight;
            assert!((least - margin_x_weight).abs() < 1e-9, "{words}");
            let short = least < target_x_weight;
            assert!(
                !(remedy.all_good && (short || report.is_in_trouble())),
                "{words}"
            );
            // Where even the weakest holds enough, something other than its hold speaks against a joint.
            let is_other = |r: &Reason| !matches!(r, Reason::TooWeak { .. });
            let mut reasons = after.in_trouble().flat_map(|j| &j.report.reasons);
            assert!(remedy.all_good || short || reasons.any(is_other), "{words}");
        } else {
            assert!(remedy.all_good, "{:?}", remedy.steps);
        }
        // No step is idle: the edits of fewer steps leave a contradiction. Looked at where each step is one edit.
        let one_edit =
            |k: &RemedyKind| matches!(k, RemedyKind::Keeper { .. } | RemedyKind::LeaveEmpty { .. });
        let apart = remedy.edits.len() == remedy.steps.len()
            && remedy.steps.iter().all(|s| one_edit(&s.kind));
        if apart && remedy.steps.len() > 1 {
            for i in 0..remedy.edits.len() {
                let mut fewer = remedy.edits.clone();
                fewer.remove(i);
                let after = analysis(&carried_out(plan, &fewer));
                assert!(!after.contradictions().is_empty(), "{:?}", remedy.steps);
            }
        }
    }
    assert!(
        found
            .remedies
            .windows(2)
            .all(|w| w[0].weight <= w[1].weight)
    );
}

#[test]
fn the_demo_has_its_ways_out() {
    let plan = demo();
    let answers = analysis(&plan);
    assert!(!answers.contradictions().is_empty());
    let found = answers.repairs();
    assert!(found.remedies.len() >= 2 && found.proven == found.remedies.len());
    assert!(found.remedies[0].all_good && found.remedies[0].weight == price::KEEPER);
    assert!(
        answers
            .contradiction_words(&found.clashes[0])
            .headline
            .contains("both N and S")
    );
    check(&answers, &found);
}

#[test]
fn mistakes_in_the_demo_push_off_once_the_edits_are_made() {
    let plan = demo();
    let answers = analysis(&plan);
    let found = answers.propose_poles();
    let [now, after] = found.count(Feel::Attracts);
    assert!(found.proven && after < now && !found.edits.is_empty());
    let changed = carried_out(&plan, &found.edits);
    let then = analysis(&changed);
    assert_eq!(*then.poles(), found.poles);
    assert_eq!(then.fillings(), answers.fillings());
    assert_eq!(then.contradictions().len(), answers.contradictions().len());
    let again = then.propose_poles();
    assert_eq!(again.count(Feel::Attracts), [after, after]);
    assert!(again.edits.is_empty());
}

#[test]
fn a_plan_without_contradiction_needs_nothing() {
    let plan = plan("\tA\tB\nNose\tPlough\tHook\n");
    let answers = analysis(&plan);
    assert_eq!(answers.repairs(), Repairs::default());
}

/// A thick wall can take two magnets, a thin one cannot.
#[test]
fn a_through_hole_is_split_where_the_wall_is_thick_enough() {
    let mut plan = wall("\tA\tB\nLeft face\tLocker\tHose\nRight face\tReel\tLocker\n");
    // Nothing else is to be had.
    plan.stock.steel.clear();
    plan.settings.flat_cutter = true;
    let split = |plan: &Plan| {
        let answers = analysis(plan);
        let found = answers.repairs();
        check(&answers, &found);
        let splits = |k: &RemedyKind| matches!(k, RemedyKind::Split { .. });
        found
            .remedies
            .first()
            .is_some_and(|r| r.steps.iter().any(|s| splits(&s.kind)))
    };
    for (depth_mm, possible) in [(2.6, false), (2.7, true), (4.0, true)] {
        for s in &mut plan.sockets {
            s.sites[0].max_depth_mm = depth_mm;
        }
        // Two blind holes of (depth - 0.5) / 2 mm; the thinnest magnet has 1 mm and wants 0.1 mm for glue.
        assert_eq!(split(&plan), possible, "{depth_mm}");
    }
}

#[test]
fn a_wish_is_given_up_before_anything_is_built_differently_but_not_once_it_is_glued() {
    let mut plan = plan("\tA\tB\nNose\tPlough\tHook\n");
    plan.sockets[0].sites[0].pole = Some(Pole::N);
    let plough = plan.parts.iter_mut().find(|p| p.name == "Plough").unwrap();
    let mut site = lodewright_planner::kit::Site::plain(SiteId::new("a"));
    site.pole = Some(Pole::N);
    plough.plugs[0].sites = Some(vec![site]);
    let answers = analysis(&plan);
    assert_eq!(answers.contradictions().len(), 1);
    let found = answers.repairs();
    check(&answers, &found);
    let first = &found.remedies[0];
    assert!(matches!(first.steps[0].kind, RemedyKind::FreePole { .. }));
    assert_eq!((first.weight, found.proven > 0), (price::FREE_POLE, true));
    // Both magnets are glued: steel is no cheaper then, as a glued one has to come out for it as well.
    plan.progress.done = vec!["glue:base:nose/a".into(), "glue:plough:main/a".into()];
    let answers = analysis(&plan);
    let found = answers.repairs();
    check(&answers, &found);
    let least = price::GIVE_UP.min(price::FREE_POLE + price::GLUED);
    assert_eq!(found.remedies[0].weight, least);
    assert!(
        found
            .remedies
            .iter()
            .flat_map(|r| &r.steps)
            .any(|s| s.glued)
    );
}

/// A board used either way up: its own magnet or its partner becomes steel, or it is always put the same way.
#[test]
fn a_board_used_either_way_up() {
    let mut plan = plan("\tA\tB\tC\nTop\tBoard\tBoard\t-\n");
    let plug = &mut plan.parts[1].plugs[0];
    plug.thickness_mm = Some(3.0);
    plug.sites = Some(vec![lodewright_planner::kit::Site::plain(SiteId::new("a"))]);
    plan.variants[1].cells[0].seats[0].pose.over = true;
    plan.parts[1].mass = Mass::Weighed { mass_g: 1.0 };
    let answers = analysis(&plan);
    assert_eq!(answers.contradictions().len(), 1);
    let found = answers.repairs();
    check(&answers, &found);
    let kinds: Vec<_> = found.remedies.iter().map(|r| &r.steps[0].kind).collect();
    assert!(
        kinds.iter().any(|k| matches!(k, RemedyKind::Keeper { .. })),
        "{kinds:?}"
    );
    assert!(
        kinds.iter().any(|k| matches!(k, RemedyKind::Turn { .. })),
        "{kinds:?}"
    );
}

/// Kits with walls that several parts use from both sides, poles wished for, and parts used turned over.
fn random() -> impl Strategy<Value = Plan> {
    let cell = prop::collection::vec(0..5_usize, 3);
    (
        prop::collection::vec(cell, 3),
        prop::collection::vec((0..8_usize, any::<bool>()), 0..3),
        prop::collection::vec(0..4_usize, 0..3),
        any::<bool>(),
        2.0..4.0_f64,
    )
        .prop_map(|(cells, wishes, over, own_sites, depth_mm)| {
            let names = ["Ladder", "Hose", "Reel", "Lamp", "-"];
            let mut grid = "\tA\tB\tC\n".to_owned();
            for (s, row) in cells.iter().enumerate() {
                let words: Vec<&str> = row.iter().map(|c| names[*c]).collect();
                grid.push_str(&format!("Face {s}\t{}\n", words.join("\t")));
            }
            let mut plan = wall(&grid);
            for s in &mut plan.sockets {
                s.sites[0].max_depth_mm = depth_mm;
                let mut second = lodewright_planner::kit::Site::plain(SiteId::new("b"));
                second.at_mm = [4.0, 0.0];
                s.sites[0].at_mm = [-4.0, 0.0];
                s.sites.push(second);
            }
            for part in plan.parts.iter_mut().skip(1) {
                part.plugs[0].thickness_mm = Some(3.0);
                if own_sites {
                    let mut site = lodewright_planner::kit::Site::plain(SiteId::new("a"));
                    site.at_mm = [-4.0, 0.0];
                    part.plugs[0].sites = Some(vec![site]);
                }
            }
            for (i, north) in wishes {
                let (s, b) = (i % 3, i / 4);
                let pole = if north { Pole::N } else { Pole::S };
                plan.sockets[s].sites[b].pole = Some(pole);
            }
            for v in over {
                if let Some(cell) = plan.variants.get_mut(v).and_then(|v| v.cells.first_mut()) {
                    cell.seats[0].pose.over = true;
                }
            }
            plan
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn remedies_of_random_plans_come_true(plan in random()) {
        let answers = analysis(&plan);
        let found = answers.repairs();
        check(&answers, &found);
        prop_assert!(answers.contradictions().is_empty() || !found.remedies.is_empty() || found.impossible);
    }

    /// No set of keepers on the host's side is cheaper than what was found: all of them are tried on the plan itself.
    #[test]
    fn no_cheaper_keepers_are_missed(plan in random()) {
        let answers = analysis(&plan);
        prop_assume!(!answers.contradictions().is_empty());
        let found = answers.repairs();
        let target_x_weight = plan.settings.hold_target_g;
        let magnet = |s: usize, i: usize| {
            let (owner, site) = (Owner::Socket(SocketIx::new(s)), &plan.sockets[s].sites[i].id);
            let hole = HoleIx::find(&answers.holes().holes, |h| h.owner == owner && h.site == *site);
            hole.is_some_and(|h| matches!(answers.fillings()[h], Filling::Magnet(_)))
        };
        let places: Vec<(usize, usize)> = [(0, 0), (0, 1), (1, 1), (2, 0), (2, 1)]
            .into_iter()
            .filter(|(s, i)| magnet(*s, *i))
            .collect();
        for set in 1..1_u32 << places.len() {
            let weight = price::KEEPER * u64::from(set.count_ones());
            if found.remedies.first().is_some_and(|r| r.weight <= weight) {
                continue;
            }
            let mut other = plan.clone();
            for (_, (s, i)) in places.iter().enumerate().filter(|(k, _)| set >> k & 1 == 1) {
                other.sockets[*s].sites[*i].fit = Fit::Steel(plan.stock.steel[0].id.clone());
            }
            let after = analysis(&other);
            let holds = |j: &lodewright_planner::JointAnswer| j.report.holds.iter().all(|h| h.margin_x_weight >= target_x_weight);
            let better = after.contradictions().is_empty() && after.joints().values().iter().all(holds);
            prop_assert!(!better, "{set:b} of {places:?}: {:?}", found.remedies.first().map(|r| &r.steps));
        }
    }
}
