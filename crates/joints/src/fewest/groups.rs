//! Holes of one face together, with every way to fill them.

use std::collections::BTreeMap;
use tiny_sort::stable::sort;

use lodewright_kit::{Attach, Fit, Pole};
use lodewright_solve::parity::solve_parity;

use super::Sign;
use crate::links::{Links, node};
use crate::pull::{Filling, fits};
use crate::scene::Scene;

/// Faces with more holes than this are filled alike throughout, so that their options stay few.
const MOST_FREE: usize = 5;
/// So many ways to give magnets to holes of different kinds are tried for one pattern; beyond, all of a face take one size.
const MOST_MIXED: usize = 64;
/// A face with more options than this when holes of different kinds may take different sizes has one size throughout: each pair
/// of options of two faces is tried.
const MOST_OPTIONS: usize = 600;
/// Faces that hang together through holes with more sockets than this that a pin may serve have pins in all or in none.
const MOST_PINNED: usize = 3;

/// One way to fill the holes of a group.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Choice {
    pub fillings: Vec<Filling>,
    /// The pole at the first face, for magnets whose poles could contradict each other.
    pub signs: Vec<Sign>,
    /// Sockets where a friction pin stands in for magnets.
    pub pins: Vec<usize>,
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

/// Sockets at these holes where a friction pin may stand in.
fn may_pin(scene: &Scene<'_, '_>, holes: &[usize]) -> Vec<usize> {
    let mut sockets: Vec<usize> = holes.iter().flat_map(|h| sockets_at(scene, *h)).collect();
    sockets.sort_unstable();
    sockets.dedup();
    sockets.retain(|s| {
        let socket = scene.board.socket(*s);
        socket.may_pin_n.is_some() && socket.attach == Attach::Magnets
    });
    sockets
}

/// Sockets on whose face a hole opens.
pub(super) fn sockets_at(scene: &Scene<'_, '_>, hole: usize) -> impl Iterator<Item = usize> {
    let faces = scene.holes.faces.iter();
    faces
        .filter(move |f| f.hole == hole && f.on_socket)
        .map(|f| f.owner)
}

/// Which of these sockets have a pin, in every way.
fn pin_sets(sockets: &[usize]) -> Vec<Vec<usize>> {
    if sockets.len() > MOST_PINNED {
        return vec![Vec::new(), sockets.to_vec()];
    }
    let mut sets = vec![Vec::new()];
    for socket in sockets {
        let mut with = sets.clone();
        with.iter_mut().for_each(|set| set.push(*socket));
        sets.append(&mut with);
    }
    sets
}

fn options(
    scene: &Scene<'_, '_>,
    holes: &[usize],
    wanted: &[bool],
    signed: &[bool],
    now: &[Filling],
) -> Vec<Choice> {
    let mut all = Vec::new();
    for pins in pin_sets(&may_pin(scene, holes)) {
        // A hole that opens only where a pin stands in has nothing to do.
        let mut wanted = wanted.to_vec();
        for hole in holes {
            let mut at = sockets_at(scene, *hole).peekable();
            if at.peek().is_some() && at.all(|s| pins.contains(&s)) {
                wanted[*hole] = false;
            }
        }
        let with = filled(scene, holes, &wanted, signed, now);
        all.extend(with.into_iter().map(|mut choice| {
            choice.pins.clone_from(&pins);
            choice
        }));
    }
    sort(&mut all);
    all.dedup();
    // A solver wants at least one option: what is there now.
    if all.is_empty() {
        all.push(Choice {
            fillings: holes.iter().map(|h| now[*h]).collect(),
            signs: vec![None; holes.len()],
            pins: Vec::new(),
        });
    }
    all
}

/// Which magnet goes in each hole that takes one, in every way that the custom of one size allows: holes of one kind take one
/// size; holes that differ in width, depth or wall may differ where that is wanted.
fn sizes(
    scene: &Scene<'_, '_>,
    holes: &[usize],
    pattern: &[State],
    may_differ: bool,
) -> Vec<Vec<usize>> {
    let stock = scene.board.plan.stock.magnets.len();
    let taking = |pattern: &[State]| {
        let full = holes.iter().zip(pattern);
        full.filter(|(_, s)| **s == State::Magnet)
            .map(|(h, _)| *h)
            .collect::<Vec<_>>()
    };
    let alike = |a: usize, b: usize| {
        let kind = |h: usize| {
            let hole = &scene.holes.holes[h];
            let faces = scene.holes.faces.iter().filter(|f| f.hole == h);
            let wall_mm = faces.map(|f| f.wall_mm).fold(0.0, f64::max);
            [hole.max_diameter_mm, hole.max_depth_mm, wall_mm].map(f64::to_bits)
        };
        kind(a) == kind(b)
    };
    let mut kinds: Vec<usize> = Vec::new();
    for hole in taking(pattern) {
        if !kinds.iter().any(|k| alike(*k, hole)) {
            kinds.push(hole);
        }
    }
    let ways = u32::try_from(kinds.len())
        .ok()
        .and_then(|k| stock.checked_pow(k));
    let mixed = may_differ && ways.is_some_and(|ways| ways <= MOST_MIXED);
    let of_hole = |size_of_kind: &[usize]| -> Vec<usize> {
        let kind_of = |h: &usize| kinds.iter().position(|k| alike(*k, *h)).unwrap_or(0);
        holes
            .iter()
            .map(|h| size_of_kind.get(kind_of(h)).copied().unwrap_or(0))
            .collect()
    };
    if kinds.is_empty() {
        return vec![vec![0; holes.len()]];
    }
    if !mixed {
        return (0..stock).map(|size| vec![size; holes.len()]).collect();
    }
    let mut ways: Vec<Vec<usize>> = vec![Vec::new()];
    for _ in &kinds {
        ways = ways
            .into_iter()
            .flat_map(|way| {
                (0..stock).map(move |size| {
                    let mut way = way.clone();
                    way.push(size);
                    way
                })
            })
            .collect();
    }
    ways.iter().map(|way| of_hole(way)).collect()
}

fn filled(
    scene: &Scene<'_, '_>,
    holes: &[usize],
    wanted: &[bool],
    signed: &[bool],
    now: &[Filling],
) -> Vec<Choice> {
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
    let mixed: usize = patterns
        .iter()
        .map(|p| sizes(scene, holes, p, true).len())
        .sum();
    let mut all: Vec<Choice> = Vec::new();
    for pattern in &patterns {
        for way in sizes(scene, holes, pattern, mixed <= MOST_OPTIONS) {
            let filled: Option<Vec<Filling>> = holes
                .iter()
                .zip(pattern)
                .zip(&way)
                .map(|((h, state), size)| filling(scene, *h, *state, *size))
                .collect();
            if let Some(fillings) = filled {
                all.extend(with_signs(scene, holes, &fillings, signed));
            }
        }
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
            pins: Vec::new(),
        })
        .collect()
}
