//! The net force of one placement as a sum over the signs of families of magnets.

use std::collections::BTreeMap;

use lodewright_assembly::Joint;
use lodewright_geometry::distance;
use lodewright_kit::{Plan, Pole, Table};
use lodewright_solve::parity::{Solution, Sum, Term};

use crate::context::Context;
use crate::hole_runs::Owner;
use crate::holes::HoleIx;
use crate::mating::Mate;
use crate::pole_constraints::node;
use crate::poles::attract;
use crate::pull::{End, Filling, Fillings, filling_size, gap_at, gap_stack};

/// Offsets are rounded to this, mm, so that equal pairs are computed once; a pull changes by far less than a percent.
const OFFSET_STEP_MM: f64 = 0.02;

pub(super) fn micro(force_n: f64) -> i64 {
    // A cast saturates; forces of this trade are far below.
    (force_n * 1e6).round() as i64
}

pub(super) fn newton(micro_n: i64) -> f64 {
    micro_n as f64 / 1e6
}

/// The pairs of holes within reach in a placement, and its net pull as a sum over signs of families, µN.
pub(super) fn meeting(
    context: &Context,
    fillings: &Fillings,
    poles: &Table<HoleIx, Option<Pole>>,
    families: &Solution,
    joint: Joint,
) -> (Vec<[HoleIx; 2]>, Sum) {
    let plan = context.plan();
    let [socket, plug] = Owner::of_joint(&joint);
    let mut pairs = Vec::new();
    let mut sum = Sum::default();
    let mut terms: BTreeMap<[usize; 2], i64> = BTreeMap::new();
    for (socket_face, a) in context.holes.faces_on(socket) {
        for (plug_face, b) in context.holes.faces_on(plug) {
            let pieces = [a.hole, b.hole].map(|h| fillings[h]);
            let exact_mm = distance(a.at_mm, joint.pose.place(b.at_mm));
            if reach_mm(plan, pieces).is_none_or(|reach_mm| exact_mm > reach_mm) {
                continue;
            }
            let mate = Mate {
                socket_face,
                plug_face,
                from_behind: joint.pose.over,
                at_mm: a.at_mm,
                offset_mm: (exact_mm / OFFSET_STEP_MM).round() * OFFSET_STEP_MM,
            };
            let gap_mm = gap_at(
                plan,
                gap_stack(plan, &context.holes, &mate, fillings).gap_mm,
                End::Strong,
            );
            let pulls = context.pulls();
            let pull = micro(pulls.attraction_n(plan, pieces, gap_mm, mate.offset_mm, End::Strong));
            if pull == 0 {
                continue;
            }
            pairs.push([a.hole, b.hole]);
            if !both_magnets(pieces) {
                sum.constant += pull;
                continue;
            }
            let now = if attract(&context.holes, &mate, poles) {
                pull
            } else {
                -pull
            };
            let [p, q] = [a.hole, b.hole].map(|h| families.component_of[node(h, false)]);
            if p == q {
                sum.constant += now;
            } else {
                *terms.entry([p.min(q), p.max(q)]).or_default() += now;
            }
        }
    }
    let term = |([a, b], coefficient): ([usize; 2], i64)| Term { a, b, coefficient };
    sum.terms = terms.into_iter().map(term).collect();
    (pairs, sum)
}

fn both_magnets(pieces: [Filling; 2]) -> bool {
    pieces.iter().all(|p| matches!(p, Filling::Magnet(_)))
}

/// How far apart the axes of two pieces may lie for the hand to feel them; none where one is empty.
fn reach_mm(plan: &Plan, pieces: [Filling; 2]) -> Option<f64> {
    let [(a_mm, _), (b_mm, _)] = [
        filling_size(plan, pieces[0])?,
        filling_size(plan, pieces[1])?,
    ];
    Some(if both_magnets(pieces) {
        a_mm + b_mm
    } else {
        plan.settings.facing_tolerance_mm
    })
}

/// Signs of one placement that are tried one by one; with more the sum of all terms stands for the lowest value.
const FEW_SIGNS: usize = 12;

/// The lowest value that a sum takes over all signs.
pub(super) fn lowest(sum: &Sum, fixed: &[Option<bool>]) -> i64 {
    let mut free: Vec<usize> = sum.terms.iter().flat_map(|t| [t.a, t.b]).collect();
    free.retain(|f| fixed[*f].is_none());
    free.sort_unstable();
    free.dedup();
    if free.len() > FEW_SIGNS {
        return sum.constant - sum.terms.iter().map(|t| t.coefficient.abs()).sum::<i64>();
    }
    let mut signs = vec![true; fixed.len()];
    let all = 0..1_usize << free.len();
    let value = |bits: usize| {
        for (i, family) in free.iter().enumerate() {
            signs[*family] = bits >> i & 1 == 0;
        }
        sum.value(&signs)
    };
    all.map(value).min().unwrap_or(sum.constant)
}
