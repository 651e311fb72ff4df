//! Families of magnets whose poles can be swapped together: which may be, which would rather not, and the edits that do it.

use lodewright_kit::{Edit, Pole, Table};
use lodewright_solve::parity::Solution;

use crate::context::Context;
use crate::holes::HoleIx;
use crate::plan_draft::Draft;
use crate::pole_constraints::{hole_of, node};

/// By family: `true` (as now) where it cannot be swapped: without a magnet, contradictory, with a fixed pole or a piece
/// that is glued in.
pub(super) fn fixed(
    context: &Context,
    families: &Solution,
    poles: &Table<HoleIx, Option<Pole>>,
) -> Vec<Option<bool>> {
    let free = |family: &lodewright_solve::parity::Component| {
        let mut holes = family.nodes.iter().map(|n| hole_of(*n));
        family.free && holes.all(|h| poles[h].is_some() && !context.is_glued(h))
    };
    families
        .components
        .iter()
        .map(|c| (!free(c)).then_some(true))
        .collect()
}

/// By family: how much its poles as they are keep the house convention, N out on the host, and a little for staying.
pub(super) fn votes(
    context: &Context,
    families: &Solution,
    poles: &Table<HoleIx, Option<Pole>>,
) -> Vec<i64> {
    let mut votes = vec![1; families.components.len()];
    for face in context
        .holes
        .faces
        .iter()
        .filter(|f| f.owner.is_socket() && !f.far)
    {
        let vote = match poles[face.hole] {
            Some(Pole::N) => 2,
            Some(Pole::S) => -2,
            None => 0,
        };
        votes[families.component_of[node(face.hole, false)]] += vote;
    }
    votes
}

/// Fixes one pole in each family that is swapped: on a socket where it has one there, so that plugs without sites of
/// their own keep following it.
pub(super) fn edits(
    context: &Context,
    families: &Solution,
    poles: &Table<HoleIx, Option<Pole>>,
    flipped: &dyn Fn(usize) -> bool,
) -> Vec<Edit> {
    let mut draft = Draft::new(context);
    for (f, family) in families.components.iter().enumerate() {
        if !flipped(f) {
            continue;
        }
        let holes = || family.nodes.iter().map(|n| hole_of(*n));
        let is_on_socket = |h: &HoleIx| context.holes.holes[*h].owner.is_socket();
        if let Some(hole) = holes().find(is_on_socket).or_else(|| holes().next()) {
            draft.pole(hole, poles[hole]);
        }
    }
    draft.edits()
}
