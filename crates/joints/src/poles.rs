//! Which pole faces out at every magnet, and where that cannot be.

use lodewright_assembly::JointIx;
use lodewright_kit::{Ix, Pole, Table};
use lodewright_solve::parity::{
    Constraint, Link, Pin, Solution, choose_signs, fewest_edges_to_drop, solve_parity,
};
use serde::Serialize;

use crate::holes::{FaceIx, Hole, HoleIx, Holes};
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
///
/// ```
/// # use lodewright_joints::Context;
/// # use std::rc::Rc;
/// # use lodewright_assembly::{Board, glue_answer};
/// # use lodewright_kit::{Edit, Plan};
/// # let grid = "\tWorks\tParade\nNose\tPlough\tHook\n".to_owned();
/// # let plan = Plan::empty("Tug").edited(&Edit::PasteGrid(grid))?;
/// # let board = Rc::new(Board::of(lodewright_kit::CheckedPlan::of(plan).map_err(|p| p[0].to_string())?));
/// # let glue = Rc::new(glue_answer(&board));
/// # let context = Context::of(board, glue);
/// use lodewright_joints::{initial_sizes, poles};
/// use lodewright_kit::Pole::{N, S};
///
/// let fillings = initial_sizes(&context).fillings;
/// let found = poles(&context.holes, &context.mates, &fillings);
/// assert!(found.contradictions.is_empty());
/// // N out on the host, so that both parts show S.
/// assert_eq!(found.poles.values(), [Some(N), Some(S), Some(S)]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn poles(holes: &Holes, mates: &Table<JointIx, Vec<Mate>>, fillings: &Fillings) -> Poles {
    let demands = demands(holes, mates, fillings);
    let pins = pins(holes, fillings);
    let constraint = |d: &Demand| Constraint {
        a: d.holes[0].get(),
        b: d.holes[1].get(),
        differ: d.differ,
    };
    let constraints: Vec<Constraint> = demands.iter().map(constraint).collect();
    let n = holes.holes.len();
    let Ok(mut solution) = solve_parity(n, &constraints, &pins) else {
        return Poles::default();
    };
    let contradictions: Vec<Contradiction> = solution
        .contradictions
        .iter()
        .map(|c| tell(&demands, &c.cycle, &c.nodes))
        .collect();
    if !contradictions.is_empty()
        && let Some(rest) = without_the_fewest(n, &constraints, &pins)
    {
        solution = rest;
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
        poles: Table::of(&holes.holes, |h, _| is_magnet(fillings, h).then(|| pole(h))),
        contradictions,
    }
}

fn is_magnet(fillings: &Fillings, hole: HoleIx) -> bool {
    matches!(fillings[hole], Filling::Magnet(_))
}

/// Every mating of two magnets as a demand, each once.
fn demands(holes: &Holes, mates: &Table<JointIx, Vec<Mate>>, fillings: &Fillings) -> Vec<Demand> {
    let mut demands: Vec<Demand> = Vec::new();
    for (joint, mates) in mates.iter() {
        for mate in mates {
            let pair = mate.holes(holes);
            if !pair.into_iter().all(|h| is_magnet(fillings, h)) {
                continue;
            }
            let flips = holes.faces[mate.socket_face].far ^ mate.shows_back(holes);
            let demand = Demand {
                joint,
                holes: pair,
                differ: !flips,
            };
            let same = |d: &Demand| d.holes == demand.holes && d.differ == demand.differ;
            if !demands.iter().any(same) {
                demands.push(demand);
            }
        }
    }
    demands
}

/// The poles that are wished for or glued in.
fn pins(holes: &Holes, fillings: &Fillings) -> Vec<Pin> {
    let magnets = HoleIx::each(&holes.holes).filter(|(h, _)| is_magnet(fillings, *h));
    let pin = |(h, hole): (HoleIx, &Hole)| {
        Some(Pin {
            node: h.get(),
            value: hole.pinned? == Pole::N,
        })
    };
    magnets.filter_map(pin).collect()
}

/// The rest of a plan that contradicts itself still wants poles: as few matings as possible are left out.
fn without_the_fewest(n: usize, constraints: &[Constraint], pins: &[Pin]) -> Option<Solution> {
    let weights = vec![1; constraints.len()];
    let drop = fewest_edges_to_drop(n, constraints, &weights, pins).ok()?;
    let all = constraints.iter().enumerate();
    let kept: Vec<_> = all
        .filter(|(i, _)| !drop.dropped.contains(i))
        .map(|(_, c)| *c)
        .collect();
    solve_parity(n, &kept, pins).ok()
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
