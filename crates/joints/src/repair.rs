//! The cheapest ways out of contradicting poles, each carried out on the plan and worked through again before it is shown.

use lodewright_assembly::Joint;
use lodewright_solve::parity::{RepairProblem, Repaired, cheapest_repairs};
use tiny_sort::stable::sort_by;

use crate::candidates::{Candidate, Viability, candidates};
use crate::context::Context;
use crate::plan_draft::Draft;
use crate::pole_constraints::Links;
use crate::poles::Contradiction;
use crate::pull::Fillings;
use crate::remedy::{Remedy, RemedyKind, Repairs, price};
use crate::settled::{Settled, SettledJoint};

/// More sets are looked at than shown, since prices become known only when a set is worked through.
const LOOK_AT: usize = 3;

/// The `most` cheapest ways out of all contradictions of a plan with these fillings.
///
/// Candidates touch only families of magnets that contradict themselves. Each is priced as if all went well, the
/// cheapest sets are found, and what they use is worked through and priced anew until nothing changes: an optimistic
/// price is a lower bound, so the order is right in the end. Two steps that weaken both sides of one pair, or the same
/// hole twice, do not go together. A set is dropped if the plan that its edits make still contradicts itself. A step is
/// judged by the matings that it takes away; should the plan as it then is need even fewer steps, since several holes left
/// empty or parts moved leave other magnets without a mate, the fewer are listed and nothing is called proven.
pub fn repairs(
    context: &Context,
    fillings: &Fillings,
    contradictions: &[Contradiction],
    most: usize,
) -> Repairs {
    let mut out = Repairs {
        clashes: contradictions.to_vec(),
        ..Repairs::default()
    };
    if contradictions.is_empty() {
        return out;
    }
    let mut links = Links::of(&context.board, &context.holes, &context.mates, fillings);
    let (mut list, conflicts) = candidates(context, fillings, &mut links);
    let nodes = 2 * context.holes.holes.len();
    let found = loop {
        let repairs: Vec<_> = list.iter().map(Candidate::repair).collect();
        let problem = RepairProblem {
            nodes,
            constraints: &links.constraints,
            pins: &links.pins,
            repairs: &repairs,
            conflicts: &conflicts,
        };
        let Ok(found) = cheapest_repairs(&problem, most * LOOK_AT) else {
            return out;
        };
        let used: Vec<usize> = found.sets.iter().flat_map(|s| s.repairs.clone()).collect();
        let mut changed = false;
        for r in used {
            if list[r].viability == Viability::Unknown {
                list[r].work_through(context);
                changed |= list[r].viability != Viability::Fine;
            }
        }
        if !changed {
            break found;
        }
    };
    out.impossible = found.impossible;
    out.lower_bound = found.lower_bound;
    rank(&mut out, context, &list, &found, most);
    if let Some(first) = out.remedies.first() {
        out.lower_bound = out.lower_bound.min(first.weight);
    }
    out
}

/// Carries the sets out, leaves out what does not come true, and puts the rest in order.
fn rank(out: &mut Repairs, context: &Context, list: &[Candidate], found: &Repaired, most: usize) {
    let known = |all: &[Remedy], new: &Remedy| all.iter().any(|r| r.steps == new.steps);
    let mut surprised = false;
    for set in &found.sets {
        let mut steps: Vec<&Candidate> = set.repairs.iter().map(|r| &list[*r]).collect();
        while let Some(idle) = idle(context, &steps) {
            steps.remove(idle);
            surprised = true;
        }
        let remedy = remedy(context, &steps);
        out.remedies
            .extend(remedy.filter(|r| !known(&out.remedies, r)));
    }
    let margin = |r: &Remedy| r.weakest.map_or(f64::INFINITY, |(m, _)| m);
    sort_by(&mut out.remedies, |a, b| {
        a.weight
            .cmp(&b.weight)
            .then(margin(b).total_cmp(&margin(a)))
            .then(a.steps.len().cmp(&b.steps.len()))
    });
    let sure = |r: &&Remedy| !surprised && found.rest.is_none_or(|rest| r.weight <= rest);
    out.proven = out.remedies.iter().take_while(sure).count().min(most);
    out.remedies.truncate(most);
}

/// A step without which the changed plan would not contradict itself either, where steps have effects beyond the
/// matings that they take away.
fn idle(context: &Context, steps: &[&Candidate]) -> Option<usize> {
    let count = |of: fn(&RemedyKind) -> bool| steps.iter().filter(|s| of(&s.kind)).count();
    let empty = count(|k| matches!(k, RemedyKind::LeaveEmpty { .. }));
    let moved = count(|k| matches!(k, RemedyKind::Turn { .. } | RemedyKind::GiveUp { .. }));
    if steps.len() < 2 || empty + 2 * moved < 2 {
        return None;
    }
    (0..steps.len()).find(|i| {
        let mut draft = Draft::new(context);
        let mut others = steps.iter().enumerate().filter(|(k, _)| k != i);
        let done = others.try_for_each(|(_, s)| s.carry_out(context, &mut draft));
        done.and_then(|()| Settled::of(draft.plan, context, &[]))
            .is_some_and(|after| !after.contradicts)
    })
}

fn remedy(context: &Context, steps: &[&Candidate]) -> Option<Remedy> {
    let mut draft = Draft::new(context);
    for step in steps {
        step.carry_out(context, &mut draft)?;
    }
    let edits = draft.edits();
    let after = Settled::of(draft.plan, context, &touched(context, steps))?;
    if after.contradicts {
        return None;
    }
    let all_good = after.joints.iter().all(|j| j.is_good);
    let least = |a: SettledJoint, b: SettledJoint| {
        if b.margin_x_weight < a.margin_x_weight {
            b
        } else {
            a
        }
    };
    let weakest = after.joints.into_iter().reduce(least);
    let priced = steps.iter().any(|s| s.viability == Viability::Short);
    let more = if all_good || priced { 0 } else { price::SHORT };
    Some(Remedy {
        steps: steps.iter().map(|s| s.step()).collect(),
        weight: steps.iter().map(|s| s.repair().weight).sum::<u64>() + more,
        weakest: weakest.map(|w| (w.margin_x_weight, w.joint)),
        all_good,
        edits,
    })
}

/// The joints whose hold a set of steps may change, as they are afterwards.
fn touched(context: &Context, steps: &[&Candidate]) -> Vec<Joint> {
    let mut joints: Vec<Joint> = Vec::new();
    for j in context.board.all_joints() {
        let mut joint = context.board.joints[j];
        let (mut gone, mut touches) = (false, false);
        for step in steps {
            match step.kind {
                RemedyKind::Keeper { hole, .. }
                | RemedyKind::LeaveEmpty { hole }
                | RemedyKind::Split { hole, .. }
                | RemedyKind::FreePole { hole } => touches |= context.uses(j, hole),
                RemedyKind::Turn {
                    joint: turned,
                    pose,
                } if turned == j => {
                    touches = true;
                    joint.pose = pose;
                }
                RemedyKind::GiveUp { joint } if joint == j => gone = true,
                RemedyKind::Turn { .. } | RemedyKind::GiveUp { .. } => {}
            }
        }
        if touches && !gone && !joints.contains(&joint) {
            joints.push(joint);
        }
    }
    joints
}
