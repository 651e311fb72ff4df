//! Which steps there are, and which of them do not go together.

use lodewright_kit::Ix;
use lodewright_solve::parity::solve_parity;

use super::Candidate;
use super::holes::{left_empty, of_hole};
use super::joints::of_joint;
use crate::context::Context;
use crate::holes::HoleIx;
use crate::pole_constraints::{Asks, Links, hole_of, node};
use crate::pull::{Filling, Fillings};
use crate::remedy::RemedyKind;

/// The candidates in families of magnets that contradict themselves, and the pairs that do not go together. Poses that
/// would bring new matings add these to the links.
pub(crate) fn candidates(
    context: &Context,
    fillings: &Fillings,
    links: &mut Links,
) -> (Vec<Candidate>, Vec<[usize; 2]>) {
    let nodes = 2 * context.holes.holes.len();
    let Ok(solution) = solve_parity(nodes, &links.constraints, &links.pins) else {
        return (Vec::new(), Vec::new());
    };
    let bad = |node: usize| !solution.components[solution.component_of[node]].consistent;
    let holes: Vec<HoleIx> = HoleIx::all(&context.holes.holes)
        .filter(|h| matches!(fillings[*h], Filling::Magnet(_)) && bad(node(*h, false)))
        .collect();
    let mut list: Vec<Candidate> = Vec::new();
    for &hole in &holes {
        of_hole(context, links, hole, &mut list);
        list.extend(left_empty(context, fillings, links, hole));
    }
    for joint in context.board.all_joints() {
        if holes.iter().any(|h| context.uses(joint, *h)) {
            of_joint(context, fillings, links, joint, &mut list);
        }
    }
    // A mating that only comes with a new pose goes again with either of its holes.
    for (i, asks) in links.asks.iter().enumerate() {
        let Asks::Candidate(_) = asks else { continue };
        let c = links.constraints[i];
        for candidate in &mut list {
            if let RemedyKind::Keeper { hole, .. } | RemedyKind::LeaveEmpty { hole } =
                candidate.kind
                && [hole_of(c.a), hole_of(c.b)].contains(&hole)
            {
                candidate.removes.push(i);
            }
        }
    }
    let conflicts = conflicts(context, &list);
    (list, conflicts)
}

/// Steps that would leave a pair of faces without any pull, and two kinds of step on one joint.
fn conflicts(context: &Context, list: &[Candidate]) -> Vec<[usize; 2]> {
    let weak = |c: &Candidate| match c.kind {
        RemedyKind::Keeper { hole, .. } | RemedyKind::LeaveEmpty { hole } => Some(hole),
        _ => None,
    };
    let moved = |c: &Candidate| match c.kind {
        RemedyKind::Turn { joint, .. } | RemedyKind::GiveUp { joint } => Some(joint),
        _ => None,
    };
    let meet = |a: HoleIx, b: HoleIx| {
        context.mates.values().iter().flatten().any(|m| {
            let holes = m.holes(&context.holes);
            holes == [a, b] || holes == [b, a]
        })
    };
    let mut out = Vec::new();
    for (i, a) in list.iter().enumerate() {
        for (k, b) in list.iter().enumerate().skip(i + 1) {
            let facing = matches!((weak(a), weak(b)), (Some(x), Some(y)) if meet(x, y));
            let same = matches!((moved(a), moved(b)), (Some(x), Some(y)) if x == y);
            if facing || same {
                out.push([i, k]);
            }
        }
    }
    out
}
