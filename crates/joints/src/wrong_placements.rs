//! Parts put in the wrong place or the wrong way round: which of that draws the part in, and which poles make as much of
//! it as possible push off.

use std::collections::BTreeMap;
use tiny_sort::stable::sort_by;

use lodewright_assembly::Joint;
use lodewright_geometry::distance;
use lodewright_kit::{Edit, Ix, PartIx, PlugIx, Pole, Pose, SocketIx, Table};
use lodewright_solve::parity::{SignProblem, Solution, Sum, Term, most_low_sums, solve_parity};
use serde::Serialize;

use crate::context::Context;
use crate::holes::{HoleIx, Owner};
use crate::mating::Mate;
use crate::plan_draft::Draft;
use crate::pole_constraints::{Links, hole_of, node};
use crate::poles::attract;
use crate::possible_placements::possible_placements;
use crate::pull::{End, Filling, Fillings, filling_size, gap_at, gap_stack};

/// A net force smaller than this is felt as nothing, N: about 5 g. Common practice, no source.
pub const FELT_N: f64 = 0.05;

/// Offsets are rounded to this, mm, so that equal pairs are computed once; a pull changes by far less than a percent.
const OFFSET_STEP_MM: f64 = 0.02;

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
    let mut sums: Vec<Sum> = Vec::new();
    for joint in wrong_placements(context) {
        let (pairs, sum) = meeting(context, fillings, poles, &families, joint);
        if pairs.is_empty() {
            continue;
        }
        let same = |(m, s): &(&mut WrongPlacement, &Sum)| {
            let place = |j: Joint| (j.socket, j.part, j.plug, j.pose.over);
            place(m.joint) == place(joint) && m.pairs == pairs && **s == sum
        };
        if let Some((known, _)) = out.mistakes.iter_mut().zip(&sums).find(same) {
            known.poses.push(joint.pose);
            continue;
        }
        out.mistakes
            .push(mistake(context, joint, pairs, &sum, &fixed));
        sums.push(sum);
    }
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

fn micro(force_n: f64) -> i64 {
    // A cast saturates; forces of this trade are far below.
    (force_n * 1e6).round() as i64
}

fn newton(micro_n: i64) -> f64 {
    micro_n as f64 / 1e6
}

/// By family: `true` (as now) where it cannot be swapped: without a magnet, contradictory, with a fixed pole or a piece
/// that is glued in.
fn fixed(
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
fn votes(context: &Context, families: &Solution, poles: &Table<HoleIx, Option<Pole>>) -> Vec<i64> {
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

/// The pairs of holes within reach in a placement, and its net pull as a sum over signs of families, µN.
fn meeting(
    context: &Context,
    fillings: &Fillings,
    poles: &Table<HoleIx, Option<Pole>>,
    families: &Solution,
    joint: Joint,
) -> (Vec<[HoleIx; 2]>, Sum) {
    let plan = context.plan();
    let [socket, plug] = Owner::of_joint(&joint);
    let mut pairs = Vec::new();
    let mut sum = Sum::default();
    let mut terms: BTreeMap<[usize; 2], i64> = BTreeMap::new();
    for (socket_face, a) in context.holes.faces_on(socket) {
        for (plug_face, b) in context.holes.faces_on(plug) {
            let [x, y] = [a.hole, b.hole].map(|h| fillings[h]);
            let both = matches!((x, y), (Filling::Magnet(_), Filling::Magnet(_)));
            let reach_mm = match (filling_size(plan, x), filling_size(plan, y)) {
                (Some((da, _)), Some((db, _))) if both => da + db,
                (Some(_), Some(_)) => plan.settings.facing_tolerance_mm,
                _ => continue,
            };
            let exact_mm = distance(a.at_mm, joint.pose.place(b.at_mm));
            if exact_mm > reach_mm {
                continue;
            }
            let mate = Mate {
                socket_face,
                plug_face,
                from_behind: joint.pose.over,
                at_mm: a.at_mm,
                offset_mm: (exact_mm / OFFSET_STEP_MM).round() * OFFSET_STEP_MM,
            };
            let gap_mm = gap_at(
                plan,
                gap_stack(plan, &context.holes, &mate, fillings).gap_mm,
                End::Strong,
            );
            let pulls = context.pulls();
            let pull = micro(pulls.attraction_n(plan, [x, y], gap_mm, mate.offset_mm, End::Strong));
            if pull == 0 {
                continue;
            }
            pairs.push([a.hole, b.hole]);
            if !both {
                sum.constant += pull;
                continue;
            }
            let now = if attract(&context.holes, &mate, poles) {
                pull
            } else {
                -pull
            };
            let [p, q] = [a.hole, b.hole].map(|h| families.component_of[node(h, false)]);
            if p == q {
                sum.constant += now;
            } else {
                *terms.entry([p.min(q), p.max(q)]).or_default() += now;
            }
        }
    }
    let term = |([a, b], coefficient): ([usize; 2], i64)| Term { a, b, coefficient };
    sum.terms = terms.into_iter().map(term).collect();
    (pairs, sum)
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

/// Signs of one placement that are tried one by one; with more the sum of all terms stands for the lowest value.
const FEW_SIGNS: usize = 12;

/// The lowest value that a sum takes over all signs.
fn lowest(sum: &Sum, fixed: &[Option<bool>]) -> i64 {
    let mut free: Vec<usize> = sum.terms.iter().flat_map(|t| [t.a, t.b]).collect();
    free.retain(|f| fixed[*f].is_none());
    free.sort_unstable();
    free.dedup();
    if free.len() > FEW_SIGNS {
        return sum.constant - sum.terms.iter().map(|t| t.coefficient.abs()).sum::<i64>();
    }
    let mut signs = vec![true; fixed.len()];
    let all = 0..1_usize << free.len();
    let value = |bits: usize| {
        for (i, family) in free.iter().enumerate() {
            signs[*family] = bits >> i & 1 == 0;
        }
        sum.value(&signs)
    };
    all.map(value).min().unwrap_or(sum.constant)
}

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

fn why(context: &Context, fillings: &Fillings, mistake: &WrongPlacement) -> Option<Stays> {
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

/// Fixes one pole in each family that is swapped: on a socket where it has one there, so that plugs without sites of
/// their own keep following it.
fn edits(
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
