//! Holes of one face together, with every way to fill them.

mod options;
mod pins;
mod uniform_size;

pub(super) use options::Choice;
pub(super) use pins::is_idle;

use std::collections::BTreeMap;

use lodewright_kit::{Ix, MagnetIx, Table};
use lodewright_solve::parity::solve_parity;

use super::is_known;
use crate::context::Context;
use crate::hole_runs::Owner;
use crate::holes::HoleIx;
use crate::pole_constraints::{Links, node};
use crate::pull::{Filling, Fillings};
use options::Asked;

/// Holes that are filled together.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub holes: Vec<HoleIx>,
    pub options: Vec<Choice>,
}

/// All holes, grouped by the faces that they share.
pub(super) fn groups(context: &Context, now: &Fillings) -> Vec<Group> {
    let holes = &context.holes;
    let mut root = Table::<HoleIx, _>::of(&holes.holes, |hole, _| hole);
    let mut first_of: BTreeMap<Owner, HoleIx> = BTreeMap::new();
    for face in &holes.faces {
        let first = *first_of.entry(face.owner).or_insert(face.hole);
        let (a, b) = (find(&mut root, first), find(&mut root, face.hole));
        root[a.max(b)] = a.min(b);
    }
    let wanted = wanted(context);
    let kept = Table::of(&holes.holes, |hole, _| {
        let mut joints = context.magnetic();
        joints.any(|j| !is_known(context, j) && context.uses(j, hole))
    });
    let signed = contradicting(context, &wanted);
    let mut by_root: BTreeMap<HoleIx, Vec<HoleIx>> = BTreeMap::new();
    for hole in HoleIx::all(&holes.holes) {
        by_root.entry(find(&mut root, hole)).or_default().push(hole);
    }
    by_root
        .into_values()
        .map(|holes| Group {
            options: Asked {
                context,
                holes: &holes,
                wanted: &wanted,
                kept: &kept,
                signed: &signed,
                now,
            }
            .options(),
            holes,
        })
        .collect()
}

fn find(root: &mut Table<HoleIx, HoleIx>, mut at: HoleIx) -> HoleIx {
    while root[at] != at {
        root[at] = root[root[at]];
        at = root[at];
    }
    at
}

/// Whether a joint held by magnets uses a hole.
fn wanted(context: &Context) -> Table<HoleIx, bool> {
    let mut wanted = Table::of(&context.holes.holes, |_, _| false);
    for mate in context.magnetic().flat_map(|j| &context.mates[j]) {
        for hole in mate.holes(&context.holes) {
            wanted[hole] = true;
        }
    }
    wanted
}

/// Whether poles could contradict at a hole, with magnets in every hole that is wanted.
fn contradicting(context: &Context, wanted: &Table<HoleIx, bool>) -> Table<HoleIx, bool> {
    let holes = &context.holes.holes;
    let all = Table::of(holes, |hole, _| match wanted[hole] {
        true => Filling::Magnet(MagnetIx::new(0)),
        false => Filling::Empty,
    });
    let links = Links::of(&context.board, &context.holes, &context.mates, &all);
    let Ok(solution) = solve_parity(2 * holes.len(), &links.constraints, &links.pins) else {
        return Table::of(holes, |_, _| false);
    };
    Table::of(holes, |hole, _| {
        let component = solution.component_of[node(hole, false)];
        wanted[hole] && !solution.components[component].consistent
    })
}
