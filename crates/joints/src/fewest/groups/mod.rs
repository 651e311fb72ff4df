//! Holes of one face together, with every way to fill them.

mod uniform_size;
mod options;
mod pins;

pub(super) use options::Choice;
pub(super) use pins::is_idle;

use std::collections::BTreeMap;

use lodewright_solve::parity::solve_parity;

use crate::pole_constraints::{Links, node};
use crate::pull::Filling;
use crate::context::Context;
use options::Asked;

/// Holes that are filled together.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub holes: Vec<usize>,
    pub options: Vec<Choice>,
}

/// All holes, grouped by the faces that they share.
pub(super) fn groups(context: &Context, now: &[Filling]) -> Vec<Group> {
    let holes = &context.holes;
    let count = holes.holes.len();
    let mut root: Vec<usize> = (0..count).collect();
    let mut first_of: BTreeMap<(bool, usize, usize), usize> = BTreeMap::new();
    for face in &holes.faces {
        let key = (face.on_socket, face.owner, face.plug);
        let first = *first_of.entry(key).or_insert(face.hole);
        let (a, b) = (find(&mut root, first), find(&mut root, face.hole));
        root[a.max(b)] = a.min(b);
    }
    let wanted = wanted(context);
    let signed = contradicting(context, &wanted);
    let mut by_root: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for hole in 0..count {
        by_root.entry(find(&mut root, hole)).or_default().push(hole);
    }
    by_root
        .into_values()
        .map(|holes| Group {
            options: Asked {
                context,
                holes: &holes,
                wanted: &wanted,
                signed: &signed,
                now,
            }
            .options(),
            holes,
        })
        .collect()
}

fn find(root: &mut [usize], mut at: usize) -> usize {
    while root[at] != at {
        root[at] = root[root[at]];
        at = root[at];
    }
    at
}

/// By hole: whether a joint held by magnets uses it.
fn wanted(context: &Context) -> Vec<bool> {
    let mut wanted = vec![false; context.holes.holes.len()];
    for (joint, mates) in context.mates.iter().enumerate() {
        if context.is_magnetic(joint) {
            for mate in mates {
                wanted[context.holes.faces[mate.socket_face].hole] = true;
                wanted[context.holes.faces[mate.plug_face].hole] = true;
            }
        }
    }
    wanted
}

/// By hole: whether poles could contradict there, with magnets in every hole that is wanted.
fn contradicting(context: &Context, wanted: &[bool]) -> Vec<bool> {
    let all: Vec<Filling> = wanted
        .iter()
        .map(|w| {
            if *w {
                Filling::Magnet(0)
            } else {
                Filling::Empty
            }
        })
        .collect();
    let links = Links::of(context.board, &context.holes, &context.mates, &all);
    let mut signed = vec![false; wanted.len()];
    let Ok(solution) = solve_parity(2 * wanted.len(), &links.constraints, &links.pins) else {
        return signed;
    };
    for (hole, signed) in signed.iter_mut().enumerate() {
        let component = solution.component_of[node(hole, false)];
        *signed = wanted[hole] && !solution.components[component].consistent;
    }
    signed
}
