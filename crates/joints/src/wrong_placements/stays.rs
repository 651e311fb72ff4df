//! Why a wrong placement does not push off.

use serde::Serialize;

use super::{Feel, WrongPlacement};
use crate::context::Context;
use crate::pull::{Filling, Fillings};

/// Why a wrong placement does not push off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stays {
    /// Other poles would make it, at the price of at least as many other placements.
    OthersCountMore,
    /// Nothing is felt: pulls and pushes are small or cancel out.
    NothingFelt,
    /// Steel is drawn by either pole.
    Steel,
    /// One magnet shows the same pole whichever way round.
    OneMagnet,
    /// The same magnets meet whichever way round, or ones whose poles other joints tie together.
    SameMagnets,
    /// Poles that the plan fixes.
    FixedPoles,
    /// Parts that fit both places tie their poles together.
    TiedPoles,
}

pub(super) fn why(
    context: &Context,
    fillings: &Fillings,
    mistake: &WrongPlacement,
) -> Option<Stays> {
    if mistake.after() == Feel::Repels {
        return None;
    }
    let mut holes = mistake.pairs.iter().flatten();
    let steel = holes
        .clone()
        .any(|h| matches!(fillings[*h], Filling::Steel(_)));
    let pinned = holes.any(|h| context.holes.holes[*h].pinned.is_some());
    Some(if mistake.can_repel {
        Stays::OthersCountMore
    } else if mistake.after() == Feel::Nothing {
        Stays::NothingFelt
    } else if steel {
        Stays::Steel
    } else if mistake.own_socket && mistake.pairs.len() == 1 {
        Stays::OneMagnet
    } else if mistake.own_socket {
        Stays::SameMagnets
    } else if pinned {
        Stays::FixedPoles
    } else {
        Stays::TiedPoles
    })
}
