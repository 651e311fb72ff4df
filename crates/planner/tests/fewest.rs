//! The proposal of the fewest magnets on the demo: it does what it promises, and one fewer fails.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test may stop on a broken setup"
)]

use lodewright_planner::joints::Filling;
use lodewright_planner::kit::{Attach, Fit, Plan};
use lodewright_planner::{Answers, Proposal, counts_by_target, derive, planfile, propose, study};

fn demo() -> Plan {
    let file = include_bytes!("../../../examples/demo.lodewright.json");
    planfile::read(file).unwrap().plan
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

fn magnets(answers: &Answers) -> usize {
    let list = answers.fillings.iter();
    list.filter(|f| matches!(f, Filling::Magnet(_))).count()
}

fn proposed(plan: &Plan, answers: &Answers) -> Proposal {
    propose(plan, answers, &mut |_, _| true).unwrap()
}

/// Joints that do all that is asked of them.
fn good(plan: &Plan, answers: &Answers) -> Vec<String> {
    let is_good = |j: &usize| study(plan, answers, *j).is_some_and(|m| m.account(plan).is_good());
    let all = (0..answers.joints.len()).filter(is_good);
    all.map(|j| answers.joints[j].words.clone()).collect()
}

#[test]
fn the_proposal_does_what_it_promises() {
    let plan = small();
    let answers = derive(&plan).unwrap();
    let found = proposed(&plan, &answers);
    assert!(found.proven && found.checked);
    assert!(found.magnets[1] < found.magnets[0], "{:?}", found.magnets);
    let after = plan.edited(found.edit.as_ref().unwrap()).unwrap();
    let then = derive(&after).unwrap();
    assert_eq!(magnets(&then), found.magnets[1]);
    assert_eq!(then.buy.cost_cents, found.cents[1]);
    let good = good(&after, &then);
    for joint in &then.joints {
        let is_held = joint.separable_since.is_some()
            && after.sockets[joint.joint.socket].attach == Attach::Magnets;
        let expected = is_held && !found.unmet.contains(&joint.words);
        let magnetic = !joint.account.pairs.is_empty();
        assert!(
            !expected || !magnetic || good.contains(&joint.words),
            "{}",
            joint.words
        );
    }
    // Once taken it stays: nothing is left to change.
    assert_eq!(proposed(&after, &then).edit, None);
}

/// One fewer fails: with any single magnet of a family taken out, some joint of that family no longer does what is asked.
#[test]
fn no_magnet_can_be_left_out() {
    let plan = small();
    let answers = derive(&plan).unwrap();
    let found = proposed(&plan, &answers);
    let after = plan.edited(found.edit.as_ref().unwrap()).unwrap();
    let then = derive(&after).unwrap();
    let before = good(&after, &then).len();
    let mut tried = 0;
    for s in 0..after.sockets.len() {
        for k in 0..after.sockets[s].sites.len() {
            if !matches!(after.sockets[s].sites[k].fit, Fit::Magnet(_)) {
                continue;
            }
            let mut fewer = after.clone();
            fewer.sockets[s].sites[k].fit = Fit::Empty;
            let without = derive(&fewer).unwrap();
            // Joints that cannot be met anyway prove nothing.
            let counts = without
                .joints
                .iter()
                .any(|j| j.joint.socket == s && !found.unmet.contains(&j.words));
            if counts {
                assert!(
                    good(&fewer, &without).len() < before,
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
    let answers = derive(&plan).unwrap();
    let found = proposed(&plan, &answers);
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
            derive(&alone).unwrap();
        }
    }
}

/// Asking for more never takes fewer magnets, as long as every joint can be met.
#[test]
fn more_hold_takes_no_fewer_magnets() {
    let plan = small();
    let counts = counts_by_target(&plan, &[1.0, 2.0, 3.0, 4.0], &mut |_, _| true);
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
    let answers = derive(&plan).unwrap();
    let stopped = propose(&plan, &answers, &mut |done, _| done < 2).unwrap();
    assert!(!stopped.proven);
}
