//! Which pole faces out at every magnet, and where that cannot be.

use lodewright_assembly::JointIx;
use lodewright_kit::{Ix, Pole, Table};
use lodewright_solve::parity::{
    Constraint, Link, Pin, choose_signs, fewest_edges_to_drop, solve_parity,
};
use serde::Serialize;

use crate::holes::{FaceIx, HoleIx, Holes};
use crate::mating::Mate;
use crate::pull::{Filling, Fillings};

/// Poles of a plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Poles {
    /// The pole at a hole's first face; `None` for a hole without a magnet.
    pub poles: Table<HoleIx, Option<Pole>>,
    /// Sets of matings that cannot all attract.
    pub contradictions: Vec<Contradiction>,
}

/// Matings that cannot all attract: an odd cycle.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Contradiction {
    /// The holes of the cycle in order.
    pub holes: Vec<HoleIx>,
    /// The joints that ask for it, in the same order; a wished pole has none.
    pub joints: Vec<Option<JointIx>>,
    /// The cycle step by step.
    pub steps: Vec<PoleStep>,
}

/// A step round an odd cycle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PoleStep {
    /// This magnet is taken to show N.
    Say(HoleIx),
    /// Then this one has to show this pole for this joint; the last one of a cycle cannot.
    Then(JointIx, HoleIx, Pole),
    /// The plan fixes the pole of the magnet before.
    Fixed,
}

/// A mating of two magnets as a demand on the poles of two holes.
struct Demand {
    joint: JointIx,
    holes: [HoleIx; 2],
    /// Whether the first faces must show different poles.
    differ: bool,
}

/// Solves for the poles. House convention: N out on the host, wherever a family of magnets leaves the choice.
pub fn poles(holes: &Holes, mates: &Table<JointIx, Vec<Mate>>, fillings: &Fillings) -> Poles {
    let magnet = |hole: HoleIx| matches!(fillings[hole], Filling::Magnet(_));
    let mut demands: Vec<Demand> = Vec::new();
    for (joint, mates) in mates.iter() {
        for mate in mates {
            let pair = mate.holes(holes);
            if pair.into_iter().all(magnet) {
                let flips = holes.faces[mate.socket_face].far ^ mate.shows_back(holes);
                let demand = Demand {
                    joint,
                    holes: pair,
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
    let pins: Vec<Pin> = HoleIx::each(&holes.holes)
        .filter(|(h, _)| magnet(*h))
        .filter_map(|(h, hole)| {
            Some(Pin {
                node: h.get(),
                value: hole.pinned? == Pole::N,
            })
        })
        .collect();
    let constraints: Vec<Constraint> = demands
        .iter()
        .map(|d| Constraint {
            a: d.holes[0].get(),
            b: d.holes[1].get(),
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
        .map(|c| tell(&demands, &c.cycle, &c.nodes))
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
        .filter(|f| f.owner.is_socket() && !f.far)
        .map(|f| Pin {
            node: f.hole.get(),
            value: true,
        })
        .collect();
    let values = choose_signs(&solution, &north_on_hosts).unwrap_or_default();
    let pole = |h: HoleIx| {
        if values.get(h.get()).copied().flatten().unwrap_or(true) {
            Pole::N
        } else {
            Pole::S
        }
    };
    Poles {
        poles: Table::of(&holes.holes, |h, _| magnet(h).then(|| pole(h))),
        contradictions,
    }
}

/// Whether two mating magnets with these poles pull.
pub fn attract(holes: &Holes, mate: &Mate, poles: &Table<HoleIx, Option<Pole>>) -> bool {
    let [a, b] = mate.holes(holes);
    let shown = |hole: HoleIx, flip: bool| poles[hole].map(|p| if flip { p.other() } else { p });
    shown(a, holes.faces[mate.socket_face].far) != shown(b, mate.shows_back(holes))
}

/// The pole that a face shows in its mating plane.
pub fn shown_pole(
    holes: &Holes,
    face: FaceIx,
    poles: &Table<HoleIx, Option<Pole>>,
) -> Option<Pole> {
    let f = &holes.faces[face];
    poles[f.hole].map(|p| if f.far { p.other() } else { p })
}

/// Walks round the cycle: each magnet's pole follows from the one before, and the last step contradicts the first.
fn tell(demands: &[Demand], cycle: &[Link], nodes: &[Option<usize>]) -> Contradiction {
    let n = nodes.len();
    // Begin at a magnet, not at the common ground of fixed poles.
    let start = nodes.iter().position(Option::is_some).unwrap_or(0);
    let at = |i: usize| nodes[(start + i) % n.max(1)].map(HoleIx::new);
    let mut pole = Pole::N;
    let mut steps: Vec<PoleStep> = at(0).map(PoleStep::Say).into_iter().collect();
    let mut joints = Vec::new();
    for i in 0..n {
        match cycle[(start + i) % n] {
            Link::Constraint(c) => {
                let d = &demands[c];
                if d.differ {
                    pole = pole.other();
                }
                joints.push(Some(d.joint));
                steps.extend(at(i + 1).map(|to| PoleStep::Then(d.joint, to, pole)));
            }
            Link::Pin(_) => {
                joints.push(None);
                steps.push(PoleStep::Fixed);
            }
        }
    }
    Contradiction {
        holes: nodes.iter().flatten().copied().map(HoleIx::new).collect(),
        joints,
        steps,
    }
}
