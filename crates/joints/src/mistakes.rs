//! Parts put in the wrong place or the wrong way round: which of that draws the part in, and which poles make as much of
//! it as possible push off.

use std::collections::BTreeMap;
use tiny_sort::stable::sort_by;

use lodewright_assembly::Joint;
use lodewright_geometry::distance;
use lodewright_kit::{Edit, Pole, Pose};
use lodewright_solve::parity::{SignProblem, Solution, Sum, Term, most_low_sums, solve_parity};
use serde::Serialize;

use crate::candidates::pose_words;
use crate::holes::Face;
use crate::links::{Links, node};
use crate::mating::Mate;
use crate::poles::attract;
use crate::pull::{End, Filling, filling_size, gap_at, gap_stack};
use crate::scene::Scene;
use crate::sites::Draft;
use crate::tries::tries;

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
pub struct Mistake {
    /// What goes where, and how: the first of the poses.
    pub joint: Joint,
    /// All poses in which the hand feels the same.
    pub poses: Vec<Pose>,
    /// The same in words.
    pub words: String,
    /// Whether some variant has the part in this socket by this plug, only in another pose.
    pub own_socket: bool,
    /// Pairs of faces within reach, as indices of holes, socket's first.
    pub pairs: Vec<[usize; 2]>,
    /// Net pull with the poles as they are, strong end, N; negative pushes off.
    pub now_n: f64,
    /// The same with the poles proposed.
    pub after_n: f64,
    /// Whether some choice of poles, for this placement alone, makes it push off.
    pub can_repel: bool,
    /// Where it does not push off in the end: why, and what would make it, as a sentence.
    pub said: Option<String>,
}

impl Mistake {
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
pub struct MistakeProof {
    /// The placements in which magnets or steel meet at all: those that attract after all first, strongest first.
    pub mistakes: Vec<Mistake>,
    /// By hole: the pole at its first face once the edits are made.
    pub poles: Vec<Option<Pole>>,
    /// Families of magnets whose poles are free to choose together.
    pub free_families: usize,
    /// Of these, how many change.
    pub changed_families: usize,
    /// Whether no other choice makes more of the mistakes push off.
    pub proven: bool,
    /// The edits that fix one pole in each family that changes; empty where nothing is gained.
    pub edits: Vec<Edit>,
}

impl MistakeProof {
    /// How many mistakes are felt so with the poles as they are, and with the poles proposed.
    pub fn count(&self, feel: Feel) -> [usize; 2] {
        let count =
            |of: &dyn Fn(&Mistake) -> Feel| self.mistakes.iter().filter(|m| of(m) == feel).count();
        [count(&Mistake::now), count(&Mistake::after)]
    }
}

/// Proposes poles with which as many wrong placements as possible push off.
///
/// Wrong placements are those that [`tries`] finds a hand could make and no variant asks for, where faces come within
/// reach: magnets whose axes lie no farther apart than their diameters together, steel within the plan's facing
/// tolerance. The net force sums the pulls of all such pairs at the strong end; torques are not looked at. Each family of
/// magnets tied together by intended matings, without a pole that is fixed and without a glued magnet, may be swapped as
/// a whole. Exact, see [`most_low_sums`]: most placements that push off by [`FELT_N`] or more, then least total force of
/// those that draw in, then the poles as they are.
pub fn mistake_proof(
    scene: &Scene<'_, '_>,
    fillings: &[Filling],
    poles: &[Option<Pole>],
) -> MistakeProof {
    let mut out = MistakeProof {
        poles: poles.to_vec(),
        ..MistakeProof::default()
    };
    let links = Links::of(scene.board, &scene.holes, &scene.mates, fillings);
    let nodes = 2 * scene.holes.holes.len();
    let Ok(families) = solve_parity(nodes, &links.constraints, &links.pins) else {
        return out;
    };
    let fixed = fixed(scene, &families, poles);
    let mut sums: Vec<Sum> = Vec::new();
    for joint in wrong_placements(scene) {
        let (pairs, sum) = meeting(scene, fillings, poles, &families, joint);
        if pairs.is_empty() {
            continue;
        }
        let same = |(m, s): &(&mut Mistake, &Sum)| {
            let place = |j: Joint| (j.socket, j.part, j.plug, j.pose.over);
            place(m.joint) == place(joint) && m.pairs == pairs && **s == sum
        };
        if let Some((known, _)) = out.mistakes.iter_mut().zip(&sums).find(same) {
            known.poses.push(joint.pose);
            continue;
        }
        out.mistakes
            .push(mistake(scene, joint, pairs, &sum, &fixed));
        sums.push(sum);
    }
    let votes = votes(scene, &families, poles);
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
    for (hole, pole) in out.poles.iter_mut().enumerate() {
        if flipped(families.component_of[node(hole, false)]) {
            *pole = pole.map(Pole::other);
        }
    }
    for (mistake, sum) in out.mistakes.iter_mut().zip(&sums) {
        mistake.after_n = newton(sum.value(&choice.signs));
        mistake.words = words(scene, mistake);
        mistake.said = why(scene, fillings, mistake);
    }
    sort_by(&mut out.mistakes, |a, b| {
        (a.after(), b.after_n)
            .partial_cmp(&(b.after(), a.after_n))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    out.edits = edits(scene, &families, &out.poles, &flipped);
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
fn fixed(scene: &Scene<'_, '_>, families: &Solution, poles: &[Option<Pole>]) -> Vec<Option<bool>> {
    let done = &scene.board.plan.progress.done;
    let glued = |hole: usize| {
        let h = &scene.holes.holes[hole];
        done.contains(&format!("glue:{}:{}", scene.board.part(h.part).id, h.label))
    };
    let free = |family: &lodewright_solve::parity::Component| {
        let mut holes = family.nodes.iter().map(|n| n / 2);
        family.free && holes.all(|h| poles[h].is_some() && !glued(h))
    };
    families
        .components
        .iter()
        .map(|c| (!free(c)).then_some(true))
        .collect()
}

/// By family: how much its poles as they are keep the house convention, N out on the host, and a little for staying.
fn votes(scene: &Scene<'_, '_>, families: &Solution, poles: &[Option<Pole>]) -> Vec<i64> {
    let mut votes = vec![1; families.components.len()];
    for face in scene.holes.faces.iter().filter(|f| f.on_socket && !f.far) {
        let vote = match poles[face.hole] {
            Some(Pole::N) => 2,
            Some(Pole::S) => -2,
            None => 0,
        };
        votes[families.component_of[node(face.hole, false)]] += vote;
    }
    votes
}

fn wrong_placements(scene: &Scene<'_, '_>) -> Vec<Joint> {
    let board = scene.board;
    let mut out = Vec::new();
    for socket in 0..board.counts().1 {
        for (part, p) in board.plan.parts.iter().enumerate() {
            for plug in 0..p.plugs.len() {
                for pose in tries(board, part, plug, socket) {
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
    scene: &Scene<'_, '_>,
    fillings: &[Filling],
    poles: &[Option<Pole>],
    families: &Solution,
    joint: Joint,
) -> (Vec<[usize; 2]>, Sum) {
    let plan = scene.board.plan;
    let faces = || scene.holes.faces.iter().enumerate();
    let on_socket = |f: &Face| f.on_socket && f.owner == joint.socket;
    let on_plug = |f: &Face| !f.on_socket && f.owner == joint.part && f.plug == joint.plug;
    let mut pairs = Vec::new();
    let mut sum = Sum::default();
    let mut terms: BTreeMap<[usize; 2], i64> = BTreeMap::new();
    for (socket_face, a) in faces().filter(|(_, f)| on_socket(f)) {
        for (plug_face, b) in faces().filter(|(_, f)| on_plug(f)) {
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
                gap_stack(plan, &scene.holes, &mate, fillings).gap_mm,
                End::Strong,
            );
            let pull = micro(scene.attraction_n(x, y, gap_mm, mate.offset_mm, End::Strong));
            if pull == 0 {
                continue;
            }
            pairs.push([a.hole, b.hole]);
            if !both {
                sum.constant += pull;
                continue;
            }
            let now = if attract(&scene.holes, &mate, poles) {
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
    scene: &Scene<'_, '_>,
    joint: Joint,
    pairs: Vec<[usize; 2]>,
    sum: &Sum,
    fixed: &[Option<bool>],
) -> Mistake {
    let now_n = newton(sum.value(&vec![true; fixed.len()]));
    let home = |j: &&Joint| (j.part, j.plug, j.socket) == (joint.part, joint.plug, joint.socket);
    Mistake {
        joint,
        poses: vec![joint.pose],
        words: String::new(),
        own_socket: scene.board.joints.iter().any(|j| home(&j)),
        pairs,
        now_n,
        after_n: now_n,
        can_repel: lowest(sum, fixed) <= -micro(FELT_N),
        said: None,
    }
}

/// What goes where, in which poses.
fn words(scene: &Scene<'_, '_>, mistake: &Mistake) -> String {
    let (board, joint) = (scene.board, mistake.joint);
    let (part, socket) = (board.part(joint.part), board.socket(joint.socket));
    let plug = if part.plugs.len() > 1 {
        format!(" by its plug '{}'", part.plugs[joint.plug].id)
    } else {
        String::new()
    };
    let poses: Vec<String> = mistake.poses.iter().map(|p| pose_words(*p)).collect();
    let poses = match poses.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => poses.concat(),
    };
    format!("{} on {}{plug}, {poses}", part.name, socket.name)
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

fn why(scene: &Scene<'_, '_>, fillings: &[Filling], mistake: &Mistake) -> Option<String> {
    if mistake.after() == Feel::Repels {
        return None;
    }
    let steel = mistake
        .pairs
        .iter()
        .flatten()
        .any(|h| matches!(fillings[*h], Filling::Steel(_)));
    let pinned = mistake
        .pairs
        .iter()
        .flatten()
        .any(|h| scene.holes.holes[*h].pinned.is_some());
    let said = if mistake.can_repel {
        "Other poles would make it push off, but then at least as many other mistakes would not."
    } else if mistake.after() == Feel::Nothing {
        "Nothing is felt: pulls and pushes are small or cancel out. A keyed peg would stop it."
    } else if steel {
        "Steel is drawn by either pole. A magnet instead of the steel, or a keyed peg, would stop it."
    } else if mistake.own_socket && mistake.pairs.len() == 1 {
        "One magnet in the middle shows the same pole whichever way round. A second pair off centre, or a keyed peg, \
         would stop it."
    } else if mistake.own_socket {
        "The same magnets meet whichever way round, or ones whose poles other joints tie together. A further pair off \
         centre, or a keyed peg, would stop it."
    } else if pinned {
        "Poles that the plan fixes make it draw in. Leaving one of them to the planner, or a keyed peg, would stop it."
    } else {
        "Parts that fit both places tie their poles together. A pair off centre at another place on each, or a keyed peg, \
         would stop it."
    };
    Some(said.to_owned())
}

/// Fixes one pole in each family that is swapped: on a socket where it has one there, so that plugs without sites of
/// their own keep following it.
fn edits(
    scene: &Scene<'_, '_>,
    families: &Solution,
    poles: &[Option<Pole>],
    flipped: &dyn Fn(usize) -> bool,
) -> Vec<Edit> {
    let mut draft = Draft::new(scene.board, &scene.holes);
    for (f, family) in families.components.iter().enumerate() {
        if !flipped(f) {
            continue;
        }
        let holes = || family.nodes.iter().map(|n| n / 2);
        let socket_face = |h: &usize| {
            let mut faces = scene.holes.faces.iter();
            faces.any(|f| f.hole == *h && f.on_socket && !f.far)
        };
        if let Some(hole) = holes().find(socket_face).or_else(|| holes().next()) {
            draft.pole(hole, poles[hole]);
        }
    }
    draft.edits()
}
