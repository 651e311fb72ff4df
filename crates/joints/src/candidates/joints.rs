//! Steps at one joint: another pose, or doing without it.

use lodewright_assembly::JointIx;
use lodewright_kit::Pose;
use tiny_sort::stable::sort_by;

use super::Candidate;
use crate::context::Context;
use crate::mating::mates_as;
use crate::pole_constraints::{Asks, Links};
use crate::possible_placements::possible_placements;
use crate::pull::Fillings;
use crate::remedy::RemedyKind;

pub(super) fn of_joint(
    context: &Context,
    fillings: &Fillings,
    links: &mut Links,
    joint: JointIx,
    list: &mut Vec<Candidate>,
) {
    let board = &context.board;
    let j = board.joints[joint];
    let removes: Vec<usize> = (0..links.asks.len())
        .filter(|i| links.asks[*i] == Asks::Joint(joint))
        .collect();
    if removes.is_empty() {
        return;
    }
    let mut of = |kind, adds| {
        list.push(Candidate {
            removes: removes.clone(),
            adds,
            ..Candidate::plain(kind)
        });
    };
    // What a part carries would go with it.
    if board.carried(j.part).is_empty() {
        of(RemedyKind::GiveUp { joint }, Vec::new());
    }
    // A plug without sites of its own has its holes opposite the socket's whichever way it sits.
    if board.plug(joint).sites.is_none() {
        return;
    }
    let mut poses = possible_placements(board, j.part, j.plug, j.socket);
    // Of poses that bring the same matings the one nearest to the planned one is enough.
    let change = |p: &Pose| {
        let by = (p.turn_deg - j.pose.turn_deg).rem_euclid(360.0);
        by.min(360.0 - by) + if p.over == j.pose.over { 0.0 } else { 1.0 }
    };
    sort_by(&mut poses, |a, b| change(a).total_cmp(&change(b)));
    let mut brought: Vec<Vec<[usize; 2]>> = Vec::new();
    for pose in poses.into_iter().filter(|p| *p != j.pose) {
        let turned = lodewright_assembly::Joint { pose, ..j };
        let adds: Vec<usize> = mates_as(board, &context.holes, turned)
            .iter()
            .filter_map(|m| links.meet(&context.holes, m, fillings, Asks::Candidate(joint)))
            .collect();
        let ends = |i: &usize| [links.constraints[*i].a, links.constraints[*i].b];
        let brings: Vec<_> = adds.iter().map(ends).collect();
        // Constraints that no candidate brings would always hold, so that those of a pose left out are taken back.
        if brought.contains(&brings) || brings.is_empty() {
            links.take_back(adds.len());
            continue;
        }
        brought.push(brings);
        of(RemedyKind::Turn { joint, pose }, adds);
    }
}
