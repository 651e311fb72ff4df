//! Holes of one face together, with every way to fill them.

use std::collections::BTreeMap;

use lodewright_kit::{Fit, Pole};
use lodewright_solve::parity::solve_parity;

use super::Sign;
use crate::links::{Links, node};
use crate::pull::{Filling, fits};
use crate::scene::Scene;

/// Faces with more holes than this are filled alike throughout, so that their options stay few.
const MOST_FREE: usize = 5;

/// One way to fill the holes of a group.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Choice {
    pub fillings: Vec<Filling>,
    /// The pole at the first face, for magnets whose poles could contradict each other.
    pub signs: Vec<Sign>,
}

/// Holes that are filled together.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub holes: Vec<usize>,
    pub options: Vec<Choice>,
}

/// All holes, grouped by the faces that they share.
pub(super) fn groups(scene: &Scene<'_, '_>, now: &[Filling]) -> Vec<Group> {
    let holes = &scene.holes;
    let count = holes.holes.len();
    let mut root: Vec<usize> = (0..count).collect();
    let mut first_of: BTreeMap<(bool, usize, usize), usize> = BTreeMap::new();
    for face in &holes.faces {
        let key = (face.on_socket, face.owner, face.plug);
        let first = *first_of.entry(key).or_insert(face.hole);
        let (a, b) = (find(&mut root, first), find(&mut root, face.hole));
        root[a.max(b)] = a.min(b);
    }
    let wanted = wanted(scene);
    let signed = contradicting(scene, &wanted);
    let mut by_root: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for hole in 0..count {
        by_root.entry(find(&mut root, hole)).or_default().push(hole);
    }
    by_root
        .into_values()
        .map(|holes| Group {
            options: options(scene, &holes, &wanted, &signed, now),
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
fn wanted(scene: &Scene<'_, '_>) -> Vec<bool> {
    let mut wanted = vec![false; scene.holes.holes.len()];
    for (joint, mates) in scene.mates.iter().enumerate() {
        if scene.is_magnetic(joint) {
            for mate in mates {
                wanted[scene.holes.faces[mate.socket_face].hole] = true;
                wanted[scene.holes.faces[mate.plug_face].hole] = true;
            }
        }
    }
    wanted
}

/// By hole: whether poles could contradict there, with magnets in every hole that is wanted.
fn contradicting(scene: &Scene<'_, '_>, wanted: &[bool]) -> Vec<bool> {
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
    let links = Links::of(scene.board, &scene.holes, &scene.mates, &all);
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

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Fixed(Filling),
    Nothing,
    Magnet,
    Steel,
}

fn options(
    scene: &Scene<'_, '_>,
    holes: &[usize],
    wanted: &[bool],
    signed: &[bool],
    now: &[Filling],
) -> Vec<Choice> {
    let plan = scene.board.plan;
    let is_free = |h: usize| wanted[h] && scene.holes.holes[h].fit == Fit::Auto;
    let free = holes.iter().filter(|h| is_free(**h)).count();
    let states = |h: usize| -> Vec<State> {
        if !wanted[h] {
            let stays = if scene.holes.holes[h].fit == Fit::Auto {
                Filling::Empty
            } else {
                now[h]
            };
            return vec![State::Fixed(stays)];
        }
        if is_free(h) {
            vec![State::Nothing, State::Magnet, State::Steel]
        } else {
            vec![State::Fixed(now[h])]
        }
    };
    let mut patterns: Vec<Vec<State>> = vec![Vec::new()];
    for h in holes {
        let mut longer = Vec::new();
        for pattern in &patterns {
            for state in states(*h) {
                let is_alike = free <= MOST_FREE
                    || !is_free(*h)
                    || holes
                        .iter()
                        .zip(pattern)
                        .all(|(o, s)| !is_free(*o) || *s == state);
                if is_alike {
                    let mut pattern = pattern.clone();
                    pattern.push(state);
                    longer.push(pattern);
                }
            }
        }
        patterns = longer;
    }
    let mut all: Vec<Choice> = Vec::new();
    for pattern in &patterns {
        let needs_size = pattern.contains(&State::Magnet);
        let sizes = if needs_size {
            plan.stock.magnets.len()
        } else {
            1
        };
        for size in 0..sizes {
            let filled: Option<Vec<Filling>> = holes
                .iter()
                .zip(pattern)
                .map(|(h, state)| filling(scene, *h, *state, size))
                .collect();
            if let Some(fillings) = filled {
                all.extend(with_signs(scene, holes, &fillings, signed));
            }
        }
    }
    all.sort();
    all.dedup();
    // A solver wants at least one option: what is there now.
    if all.is_empty() {
        all.push(Choice {
            fillings: holes.iter().map(|h| now[*h]).collect(),
            signs: vec![None; holes.len()],
        });
    }
    all
}

/// What a state comes to at a hole; `None` where it does not fit.
fn filling(scene: &Scene<'_, '_>, hole: usize, state: State, size: usize) -> Option<Filling> {
    let plan = scene.board.plan;
    let h = &scene.holes.holes[hole];
    match state {
        State::Fixed(filling) => Some(filling),
        State::Nothing => Some(Filling::Empty),
        State::Magnet => fits(plan, h, size).then_some(Filling::Magnet(size)),
        State::Steel => {
            let glue_mm = if h.through {
                0.0
            } else {
                plan.settings.glue_allowance_mm
            };
            let takes = |s: &lodewright_kit::SteelStock| {
                s.diameter_mm + plan.settings.hole_allowance_mm <= h.max_diameter_mm
                    && s.thickness_mm + glue_mm <= h.max_depth_mm
            };
            // The widest carries the most flux.
            let widest = plan
                .stock
                .steel
                .iter()
                .enumerate()
                .filter(|(_, s)| takes(s));
            widest
                .max_by(|(i, a), (j, b)| a.diameter_mm.total_cmp(&b.diameter_mm).then(j.cmp(i)))
                .map(|(i, _)| Filling::Steel(i))
        }
    }
}

/// Every pole of every magnet whose poles could contradict.
fn with_signs(
    scene: &Scene<'_, '_>,
    holes: &[usize],
    fillings: &[Filling],
    signed: &[bool],
) -> Vec<Choice> {
    let mut all = vec![Vec::new()];
    for (h, filling) in holes.iter().zip(fillings) {
        let asks = signed[*h] && matches!(filling, Filling::Magnet(_));
        let poles: Vec<Sign> = match scene.holes.holes[*h].pinned {
            _ if !asks => vec![None],
            Some(pole) => vec![Some(pole)],
            None => vec![Some(Pole::N), Some(Pole::S)],
        };
        all = all
            .into_iter()
            .flat_map(|signs: Vec<Sign>| {
                poles.iter().map(move |p| {
                    let mut signs = signs.clone();
                    signs.push(*p);
                    signs
                })
            })
            .collect();
    }
    all.into_iter()
        .map(|signs| Choice {
            fillings: fillings.to_vec(),
            signs,
        })
        .collect()
}
