//! Parts put in the wrong place or the wrong way round: which of that draws the part in, and which poles make as much of
//! it as possible push off.

mod families;
mod net_force;
mod stays;

pub use stays::Stays;

use lodewright_assembly::Joint;
use lodewright_kit::{Edit, Ix, PartIx, PlugIx, Pole, Pose, SocketIx, Table};
use lodewright_solve::parity::{SignProblem, Solution, Sum, most_low_sums, solve_parity};
use serde::Serialize;
use tiny_sort::stable::sort_by;

use crate::context::Context;
use crate::holes::HoleIx;
use crate::pole_constraints::{Links, node};
use crate::possible_placements::possible_placements;
use crate::pull::Fillings;
use families::{edits, fixed, votes};
use net_force::{lowest, meeting, micro, newton};
use stays::why;

/// A net force smaller than this is felt as nothing, N: about 5 g. Common practice, no source.
pub const FELT_N: f64 = 0.05;

/// What the hand feels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Feel {
    /// The part is drawn in.
    Attracts,
    /// Neither.
    Nothing,
    /// The part is pushed off.
    Repels,
}

impl Feel {
    fn of(force_n: f64) -> Self {
        match force_n {
            f if f >= FELT_N => Self::Attracts,
            f if f <= -FELT_N => Self::Repels,
            _ => Self::Nothing,
        }
    }
}

/// A placement that no variant asks for; poses in which the same magnets meet the same way are one.
#[derive(Clone, Debug, PartialEq)]
pub struct WrongPlacement {
    /// What goes where, and how: the first of the poses.
    pub joint: Joint,
    /// All poses in which the hand feels the same.
    pub poses: Vec<Pose>,
    /// Whether some variant has the part in this socket by this plug, only in another pose.
    pub own_socket: bool,
    /// Pairs of faces within reach, by their holes, socket's first.
    pub pairs: Vec<[HoleIx; 2]>,
    /// Net pull with the poles as they are, strong end, N; negative pushes off.
    pub now_n: f64,
    /// The same with the poles proposed.
    pub after_n: f64,
    /// Whether some choice of poles, for this placement alone, makes it push off.
    pub can_repel: bool,
    /// Where it does not push off in the end: why.
    pub why: Option<Stays>,
}

impl WrongPlacement {
    /// What is felt with the poles as they are.
    pub fn now(&self) -> Feel {
        Feel::of(self.now_n)
    }

    /// What is felt with the poles proposed.
    pub fn after(&self) -> Feel {
        Feel::of(self.after_n)
    }
}

/// Poles against mistakes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PoleProposal {
    /// The placements in which magnets or steel meet at all: those that attract after all first, strongest first.
    pub mistakes: Vec<WrongPlacement>,
    /// The pole at a hole's first face once the edits are made.
    pub poles: Table<HoleIx, Option<Pole>>,
    /// Families of magnets whose poles are free to choose together.
    pub free_families: usize,
    /// Of these, how many change.
    pub changed_families: usize,
    /// Whether no other choice makes more of the mistakes push off.
    pub proven: bool,
    /// The edits that fix one pole in each family that changes; empty where nothing is gained.
    pub edits: Vec<Edit>,
}

impl PoleProposal {
    /// How many mistakes are felt so with the poles as they are, and with the poles proposed.
    pub fn count(&self, feel: Feel) -> [usize; 2] {
        let count = |of: &dyn Fn(&WrongPlacement) -> Feel| {
            self.mistakes.iter().filter(|m| of(m) == feel).count()
        };
        [count(&WrongPlacement::now), count(&WrongPlacement::after)]
    }
}

/// Proposes poles with which as many wrong placements as possible push off.
///
/// Wrong placements are those that [`possible_placements`] finds a hand could make and no variant asks for, where faces come within
/// reach: magnets whose axes lie no farther apart than their diameters together, steel within the plan's facing
/// tolerance. The net force sums the pulls of all such pairs at the strong end; torques are not looked at. Each family of
/// magnets tied together by intended matings, without a pole that is fixed and without a glued magnet, may be swapped as
/// a whole. Exact, see [`most_low_sums`]: most placements that push off by [`FELT_N`] or more, then least total force of
/// those that draw in, then the poles as they are.
pub fn propose_poles(
    context: &Context,
    fillings: &Fillings,
    poles: &Table<HoleIx, Option<Pole>>,
) -> PoleProposal {
    let mut out = PoleProposal {
        poles: poles.clone(),
        ..PoleProposal::default()
    };
    let links = Links::of(&context.board, &context.holes, &context.mates, fillings);
    let nodes = 2 * context.holes.holes.len();
    let Ok(families) = solve_parity(nodes, &links.constraints, &links.pins) else {
        return out;
    };
    let fixed = fixed(context, &families, poles);
    let sums = gather(
        context,
        fillings,
        poles,
        &families,
        &fixed,
        &mut out.mistakes,
    );
    let votes = votes(context, &families, poles);
    let Ok(choice) = most_low_sums(&SignProblem {
        fixed: &fixed,
        votes: &votes,
        sums: &sums,
        threshold: micro(FELT_N),
    }) else {
        return out;
    };
    out.proven = choice.proven;
    out.free_families = fixed.iter().filter(|f| f.is_none()).count();
    let flipped = |family: usize| !choice.signs[family];
    out.changed_families = (0..choice.signs.len()).filter(|f| flipped(*f)).count();
    for hole in HoleIx::all(&context.holes.holes) {
        if flipped(families.component_of[node(hole, false)]) {
            out.poles[hole] = out.poles[hole].map(Pole::other);
        }
    }
    for (mistake, sum) in out.mistakes.iter_mut().zip(&sums) {
        mistake.after_n = newton(sum.value(&choice.signs));
        mistake.why = why(context, fillings, mistake);
    }
    sort_by(&mut out.mistakes, |a, b| {
        (a.after(), b.after_n)
            .partial_cmp(&(b.after(), a.after_n))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    out.edits = edits(context, &families, &out.poles, &flipped);
    out
}

/// Every placement in which something meets, with its net force; poses in which the same magnets meet the same way once.
fn gather(
    context: &Context,
    fillings: &Fillings,
    poles: &Table<HoleIx, Option<Pole>>,
    families: &Solution,
    fixed: &[Option<bool>],
    mistakes: &mut Vec<WrongPlacement>,
) -> Vec<Sum> {
    let mut sums: Vec<Sum> = Vec::new();
    for joint in wrong_placements(context) {
        let (pairs, sum) = meeting(context, fillings, poles, families, joint);
        if pairs.is_empty() {
            continue;
        }
        let same = |(m, s): &(&mut WrongPlacement, &Sum)| {
            let place = |j: Joint| (j.socket, j.part, j.plug, j.pose.over);
            place(m.joint) == place(joint) && m.pairs == pairs && **s == sum
        };
        if let Some((known, _)) = mistakes.iter_mut().zip(&sums).find(same) {
            known.poses.push(joint.pose);
            continue;
        }
        mistakes.push(mistake(context, joint, pairs, &sum, fixed));
        sums.push(sum);
    }
    sums
}

fn wrong_placements(context: &Context) -> Vec<Joint> {
    let board = &context.board;
    let mut out = Vec::new();
    for socket in SocketIx::all(&board.plan.sockets) {
        for (part, p) in PartIx::each(&board.plan.parts) {
            for plug in PlugIx::all(&p.plugs) {
                for pose in possible_placements(board, part, plug, socket) {
                    let joint = Joint {
                        socket,
                        part,
                        plug,
                        pose,
                    };
                    if !board.joints.contains(&joint) {
                        out.push(joint);
                    }
                }
            }
        }
    }
    out
}

fn mistake(
    context: &Context,
    joint: Joint,
    pairs: Vec<[HoleIx; 2]>,
    sum: &Sum,
    fixed: &[Option<bool>],
) -> WrongPlacement {
    let now_n = newton(sum.value(&vec![true; fixed.len()]));
    let home = |j: &&Joint| (j.part, j.plug, j.socket) == (joint.part, joint.plug, joint.socket);
    WrongPlacement {
        joint,
        poses: vec![joint.pose],
        own_socket: context.board.joints.iter().any(|j| home(&j)),
        pairs,
        now_n,
        after_n: now_n,
        can_repel: lowest(sum, fixed) <= -micro(FELT_N),
        why: None,
    }
}
