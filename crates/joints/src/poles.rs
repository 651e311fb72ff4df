//! Which pole faces out at every magnet, and where that cannot be.

use lodewright_assembly::Board;
use lodewright_kit::Pole;
use lodewright_solve::parity::{
    Constraint, Link, Pin, choose_signs, fewest_edges_to_drop, solve_parity,
};
use serde::Serialize;

use crate::{Filling, Mate, holes::Holes};

/// Poles of a plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Poles {
    /// By hole: the pole at its first face; `None` for a hole without a magnet.
    pub poles: Vec<Option<Pole>>,
    /// Sets of matings that cannot all attract.
    pub contradictions: Vec<Contradiction>,
}

/// Matings that cannot all attract: an odd cycle.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Contradiction {
    /// The holes of the cycle in order.
    pub holes: Vec<usize>,
    /// The joints that ask for it, in the same order; a wished pole has none.
    pub joints: Vec<Option<usize>>,
    /// The cycle as sentences.
    pub story: Vec<String>,
}

/// A mating of two magnets as a demand on the poles of two holes.
struct Demand {
    joint: usize,
    holes: [usize; 2],
    /// Whether the first faces must show different poles.
    differ: bool,
}

/// Solves for the poles. House convention: N out on the host, wherever a family of magnets leaves the choice.
pub fn poles(board: &Board, holes: &Holes, mates: &[Vec<Mate>], fillings: &[Filling]) -> Poles {
    let magnet = |hole: usize| matches!(fillings[hole], Filling::Magnet(_));
    let mut demands: Vec<Demand> = Vec::new();
    for (joint, mates) in mates.iter().enumerate() {
        for mate in mates {
            let (a, b) = (&holes.faces[mate.socket_face], &holes.faces[mate.plug_face]);
            if magnet(a.hole) && magnet(b.hole) {
                let flips = a.far ^ b.far ^ mate.from_behind;
                let demand = Demand {
                    joint,
                    holes: [a.hole, b.hole],
                    differ: !flips,
                };
                if !demands
                    .iter()
                    .any(|d| d.holes == demand.holes && d.differ == demand.differ)
                {
                    demands.push(demand);
                }
            }
        }
    }
    let pins: Vec<Pin> = holes
        .holes
        .iter()
        .enumerate()
        .filter(|(h, _)| magnet(*h))
        .filter_map(|(node, hole)| {
            Some(Pin {
                node,
                value: hole.pinned? == Pole::N,
            })
        })
        .collect();
    let constraints: Vec<Constraint> = demands
        .iter()
        .map(|d| Constraint {
            a: d.holes[0],
            b: d.holes[1],
            differ: d.differ,
        })
        .collect();
    let n = holes.holes.len();
    let Ok(mut solution) = solve_parity(n, &constraints, &pins) else {
        return Poles::default();
    };
    let contradictions = solution
        .contradictions
        .iter()
        .map(|c| tell(board, holes, &demands, &c.cycle, &c.nodes))
        .collect::<Vec<_>>();
    if !contradictions.is_empty() {
        // The rest of the plan still wants poles: leave out as few matings as possible.
        let weights = vec![1; constraints.len()];
        if let Ok(drop) = fewest_edges_to_drop(n, &constraints, &weights, &pins) {
            let kept: Vec<_> = constraints
                .iter()
                .enumerate()
                .filter(|(i, _)| !drop.dropped.contains(i))
                .map(|(_, c)| *c)
                .collect();
            if let Ok(rest) = solve_parity(n, &kept, &pins) {
                solution = rest;
            }
        }
    }
    let north_on_hosts: Vec<Pin> = holes
        .faces
        .iter()
        .filter(|f| f.on_socket && !f.far)
        .map(|f| Pin {
            node: f.hole,
            value: true,
        })
        .collect();
    let values = choose_signs(&solution, &north_on_hosts).unwrap_or_default();
    let pole = |h: usize| {
        if values.get(h).copied().flatten().unwrap_or(true) {
            Pole::N
        } else {
            Pole::S
        }
    };
    Poles {
        poles: (0..n).map(|h| magnet(h).then(|| pole(h))).collect(),
        contradictions,
    }
}

/// Whether two mating magnets with these poles pull.
pub fn attract(holes: &Holes, mate: &Mate, poles: &[Option<Pole>]) -> bool {
    let (a, b) = (&holes.faces[mate.socket_face], &holes.faces[mate.plug_face]);
    let shown = |hole: usize, flip: bool| poles[hole].map(|p| if flip { p.other() } else { p });
    shown(a.hole, a.far) != shown(b.hole, b.far ^ mate.from_behind)
}

/// The pole that a face shows in its mating plane.
pub fn shown_pole(holes: &Holes, face: usize, poles: &[Option<Pole>]) -> Option<Pole> {
    let f = &holes.faces[face];
    poles[f.hole].map(|p| if f.far { p.other() } else { p })
}

/// Walks round the cycle: each magnet's pole follows from the one before, and the last step contradicts the first.
fn tell(
    board: &Board,
    holes: &Holes,
    demands: &[Demand],
    cycle: &[Link],
    nodes: &[Option<usize>],
) -> Contradiction {
    let n = nodes.len();
    // Begin at a magnet, not at the common ground of fixed poles.
    let start = nodes.iter().position(Option::is_some).unwrap_or(0);
    let at = |i: usize| nodes[(start + i) % n.max(1)];
    let mut north = true;
    let mut story = Vec::new();
    let mut joints = Vec::new();
    if let Some(first) = at(0) {
        story.push(format!("Say {} shows N.", name(board, holes, first)));
    }
    for i in 0..n {
        let last = i + 1 == n;
        match cycle[(start + i) % n] {
            Link::Constraint(c) => {
                let d = &demands[c];
                north ^= d.differ;
                joints.push(Some(d.joint));
                let Some(to) = at(i + 1) else { continue };
                let pole = if north { "N" } else { "S" };
                let (what, then) = (
                    name(board, holes, to),
                    if last {
                        "would have to show"
                    } else {
                        "must show"
                    },
                );
                story.push(format!(
                    "For {}, {what} {then} {pole}.",
                    board.words(d.joint)
                ));
            }
            Link::Pin(_) => {
                joints.push(None);
                story.push("The plan fixes the pole of this magnet.".to_owned());
            }
        }
    }
    story.push(
        "That is the pole it cannot have. Fit steel in place of one of these magnets, or give one of the joints a site \
         of its own."
            .to_owned(),
    );
    Contradiction {
        holes: nodes.iter().flatten().copied().collect(),
        joints,
        story,
    }
}

/// A magnet as the builder knows it: its site's id, its part, and for a site on a socket the socket's label.
pub(crate) fn name(board: &Board, holes: &Holes, hole: usize) -> String {
    let h = &holes.holes[hole];
    let site = h.label.rsplit('/').next().unwrap_or_default();
    let part = &board.part(h.part).name;
    match holes.faces.iter().find(|f| f.hole == hole && !f.far) {
        Some(f) if f.on_socket => {
            format!("magnet {site} of {part} at {}", board.socket(f.owner).name)
        }
        _ => format!("magnet {site} of {part}"),
    }
}
