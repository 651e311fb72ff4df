//! The proposal of the fewest magnets on the demo: it does what it promises, and one fewer fails.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop on a broken setup"
)]

use lodewright_planner::joints::Filling;
use lodewright_planner::kit::{Attach, Fit, Ix, PegKind, Plan, SocketIx};
use lodewright_planner::{Analysis, JointIx, Proposal, planfile};

fn demo() -> Plan {
    let file = include_bytes!("../../../examples/demo.lodewright.json");
    planfile::read(file).unwrap().plan
}

fn analysis(plan: &Plan) -> Analysis {
    Analysis::of(plan.clone()).unwrap()
}

/// The demo with few sizes to choose from, so that a debug build is quick; every kind of joint is still there.
fn small() -> Plan {
    let mut plan = demo();
    plan.stock
        .magnets
        .retain(|m| ["disc-3x1", "disc-4x2", "disc-5x2"].contains(&m.id.as_str()));
    plan.stock.steel.truncate(1);
    for site in plan.sockets.iter_mut().flat_map(|s| &mut s.sites) {
        site.fit = Fit::Auto;
    }
    let plugs = plan.parts.iter_mut().flat_map(|p| &mut p.plugs);
    for site in plugs.flat_map(|p| p.sites.iter_mut().flatten()) {
        site.fit = Fit::Auto;
    }
    plan
}

fn magnets(answers: &Analysis) -> usize {
    let list = answers.fillings().values().iter();
    list.filter(|f| matches!(f, Filling::Magnet(_))).count()
}

fn proposed(answers: &Analysis) -> Proposal {
    answers.propose(&mut |_, _| true)
}

/// Joints that do all that is asked of them.
fn good(answers: &Analysis) -> Vec<String> {
    let is_good = |j: JointIx| answers.study(j).is_some_and(|m| m.judge().is_good());
    let all = answers.joints().iter().filter(|(j, _)| is_good(*j));
    all.map(|(_, joint)| joint.words.clone()).collect()
}

#[test]
fn the_proposal_does_what_it_promises() {
    let plan = small();
    let answers = analysis(&plan);
    let found = proposed(&answers);
    assert!(found.proven && found.checked);
    assert!(found.magnets[1] < found.magnets[0], "{:?}", found.magnets);
    let after = plan.edited(found.edit.as_ref().unwrap()).unwrap();
    let then = analysis(&after);
    assert_eq!(magnets(&then), found.magnets[1]);
    assert_eq!(then.buy().cost_cents, found.cents[1]);
    let good = good(&then);
    for joint in then.joints().values() {
        let is_held = joint.separable.is_some()
            && after.sockets[joint.joint.socket].attach == Attach::Magnets;
        let expected = is_held && !found.unmet.contains(&joint.words);
        let magnetic = !joint.report.pairs.is_empty();
        assert!(
            !expected || !magnetic || good.contains(&joint.words),
            "{}",
            joint.words
        );
    }
    // Once taken it stays: nothing is left to change.
    assert_eq!(proposed(&then).edit, None);
}

/// One fewer fails: with any single magnet of a family taken out, some joint of that family no longer does what is asked.
#[test]
fn no_magnet_can_be_left_out() {
    let plan = small();
    let answers = analysis(&plan);
    let found = proposed(&answers);
    let after = plan.edited(found.edit.as_ref().unwrap()).unwrap();
    let then = analysis(&after);
    let before = good(&then).len();
    let mut tried = 0;
    for s in SocketIx::all(&after.sockets) {
        for k in 0..after.sockets[s].sites.len() {
            if !matches!(after.sockets[s].sites[k].fit, Fit::Magnet(_)) {
                continue;
            }
            let mut fewer = after.clone();
            fewer.sockets[s].sites[k].fit = Fit::Empty;
            let without = analysis(&fewer);
            // Joints that cannot be met anyway prove nothing.
            let counts = without
                .joints()
                .values()
                .iter()
                .any(|j| j.joint.socket == s && !found.unmet.contains(&j.words));
            if counts {
                assert!(
                    good(&without).len() < before,
                    "{} {k}",
                    after.sockets[s].name
                );
                tried += 1;
            }
        }
    }
    assert!(tried >= 5, "{tried}");
}

#[test]
fn families_have_their_reasons_and_can_be_taken_alone() {
    let plan = small();
    let answers = analysis(&plan);
    let found = proposed(&answers);
    let summed: u32 = found.families.iter().filter_map(|f| f.magnets).sum();
    assert!(summed as usize <= found.magnets[1]);
    for family in &found.families {
        if family.magnets != Some(0) {
            assert!(
                !family.reason.is_empty()
                    && family.reason.iter().all(|r| family.joints.contains(r))
            );
        }
        if let Some(edit) = &family.edit {
            let alone = plan.edited(edit).unwrap();
            analysis(&alone);
        }
    }
}

/// Asking for more never takes fewer magnets, as long as every joint can be met.
#[test]
fn more_hold_takes_no_fewer_magnets() {
    let plan = small();
    let counts = analysis(&plan).counts_by_target(&[1.0, 2.0, 3.0, 4.0], &mut |_, _| true);
    assert_eq!(counts.len(), 4);
    for pair in counts.windows(2) {
        assert!(pair[1].unmet >= pair[0].unmet, "{counts:?}");
        assert!(
            pair[0].unmet != pair[1].unmet || pair[1].magnets >= pair[0].magnets,
            "{counts:?}"
        );
    }
    assert!(counts.iter().all(|c| c.proven));
}

#[test]
fn a_stop_is_not_called_proven() {
    let plan = small();
    let answers = analysis(&plan);
    let stopped = answers.propose(&mut |done, _| done < 2);
    assert!(!stopped.proven);
}

/// Where a friction pin may stand in and holds, it costs no magnet; where it cannot hold, magnets stay.
#[test]
fn a_pin_stands_in_where_it_holds() {
    let mut plan = small();
    let answers = analysis(&plan);
    let joint = answers
        .joints()
        .values()
        .iter()
        .find(|j| {
            let socket = &plan.sockets[j.joint.socket];
            let thin = plan.parts[j.joint.part].thin.is_some();
            j.separable.is_some() && socket.attach == Attach::Magnets && !thin
        })
        .unwrap();
    let socket = joint.joint.socket;
    plan.sockets[socket].peg.kind = PegKind::Keyed;
    let before = proposed(&analysis(&plan));
    // Far below any weight there, and well above it but within what a hand pulls.
    for (pull_n, stands) in [(0.001, false), (8.0, true)] {
        plan.sockets[socket].may_pin_n = Some(pull_n);
        let answers = analysis(&plan);
        let found = proposed(&answers);
        assert!(found.proven && found.checked);
        assert_eq!(!found.pins.is_empty(), stands, "{pull_n}");
        if !stands {
            assert_eq!(found.magnets[1], before.magnets[1]);
            continue;
        }
        assert!(found.magnets[1] < before.magnets[1]);
        let after = plan.edited(found.edit.as_ref().unwrap()).unwrap();
        assert_eq!(after.sockets[socket].attach, Attach::Friction(pull_n));
        // The sites wait unchanged for the day when magnets are wanted after all.
        assert_eq!(after.sockets[socket].sites, plan.sockets[socket].sites);
        let then = analysis(&after);
        assert_eq!(magnets(&then), found.magnets[1]);
        let joints = then.joints().iter();
        let there = joints.filter(|(_, j)| j.joint.socket == socket && j.separable.is_some());
        assert!(there.clone().count() > 0);
        for (j, joint) in there {
            let model = then.study(j).unwrap();
            assert!(model.judge().is_good(), "{}", joint.words);
        }
    }
}

/// With room enough nothing the planner chooses is a stranger to its neighbour; where a limit leaves no room, that is said.
#[test]
fn what_is_chosen_keeps_apart() {
    let mut plan = small();
    // Of these three sizes, at their strongest and largest, one family needs some that pull more than the usual 0.1 N on a
    // neighbour.
    for (limit_n, crowded) in [(0.3, false), (0.1, true), (0.001, true)] {
        plan.settings.stranger_limit_n = limit_n;
        let answers = analysis(&plan);
        let found = proposed(&answers);
        assert!(found.proven && found.checked);
        assert_eq!(
            found.families.iter().any(|f| f.crowded),
            crowded,
            "{limit_n}"
        );
        if crowded {
            continue;
        }
        let after = plan.edited(found.edit.as_ref().unwrap()).unwrap();
        let then = analysis(&after);
        assert_eq!(then.unintended_pairs(), Vec::new());
    }
}

/// Holes that are free in the search below.
const FREE: usize = 4;

/// What goes in each site.
fn fits_of(plan: &mut Plan) -> Vec<&mut Fit> {
    let sockets = plan.sockets.iter_mut().flat_map(|s| s.sites.iter_mut());
    let plugs = plan.parts.iter_mut().flat_map(|p| &mut p.plugs);
    let plugs = plugs.flat_map(|p| p.sites.iter_mut().flatten());
    sockets
        .map(|s| &mut s.fit)
        .chain(plugs.map(|s| &mut s.fit))
        .collect()
}

/// Against every filling of a small plan: none with fewer magnets does all that is asked and keeps apart.
#[test]
fn no_filling_of_a_small_plan_beats_the_search() {
    let file = include_bytes!("../../../examples/minimal.lodewright.json");
    let mut plan = planfile::read(file).unwrap().plan;
    plan.stock.magnets.truncate(2);
    plan.stock.steel.truncate(1);
    let answers = analysis(&plan);
    // Four holes are free, the rest as a first search filled them: every filling of four can be looked at.
    let mut filled = plan
        .edited(proposed(&answers).edit.as_ref().unwrap())
        .unwrap();
    for fit in fits_of(&mut filled).into_iter().take(FREE) {
        *fit = Fit::Auto;
    }
    let plan = filled;
    let answers = analysis(&plan);
    let found = proposed(&answers);
    assert!(found.proven && found.checked && found.unmet.is_empty());
    let mut fits = vec![Fit::Empty];
    fits.extend(plan.stock.magnets.iter().map(|m| Fit::Magnet(m.id.clone())));
    fits.extend(plan.stock.steel.iter().map(|s| Fit::Steel(s.id.clone())));
    let mut least = usize::MAX;
    for code in 0..fits.len().pow(u32::try_from(FREE).unwrap()) {
        let mut other = plan.clone();
        let mut rest = code;
        for fit in fits_of(&mut other).into_iter().take(FREE) {
            *fit = fits[rest % fits.len()].clone();
            rest /= fits.len();
        }
        let Ok(answers) = Analysis::of(other) else {
            continue;
        };
        let all_good = answers.joints().iter().all(|(j, joint)| {
            joint.separable.is_none() || answers.study(j).is_some_and(|m| m.judge().is_good())
        });
        if all_good && answers.problems().is_empty() && answers.unintended_pairs().is_empty() {
            least = least.min(magnets(&answers));
        }
    }
    let mut joints = answers.joints().values().iter();
    assert!(joints.any(|j| j.separable.is_some() && !j.report.pairs.is_empty()));
    assert_eq!(found.magnets[1], least);
}
