//! The cheapest ways out of contradicting poles, each carried out on the plan and worked through again before it is shown.

use lodewright_assembly::{Board, Joint, glue_answer};
use lodewright_kit::{Edit, Fit, Plan, Pole};
use lodewright_solve::parity::{RepairProblem, Repaired, cheapest_repairs};
use serde::Serialize;
use tiny_sort::stable::sort_by;

use crate::candidates::{Candidate, Standing, candidates};
use crate::initial_sizes::initial_sizes;
use crate::pole_constraints::Links;
use crate::poles::{Contradiction, name, poles};
use crate::context::Context;
use crate::plan_draft::Draft;
use crate::{Filling, filling_size};

/// Prices of the kinds of repair, in no unit: what matters is their order. Common practice, no source.
pub mod price {
    /// A wished pole is given up: nothing is built differently.
    pub const FREE_POLE: u64 = 5;
    /// A hole stays empty: one magnet less, where the others of its joints are enough.
    pub const LEAVE_EMPTY: u64 = 8;
    /// Steel instead of one magnet: weaker, but it attracts both poles.
    pub const KEEPER: u64 = 10;
    /// Two blind holes instead of one right through.
    pub const SPLIT: u64 = 20;
    /// A part sits in another pose than was planned.
    pub const TURN: u64 = 30;
    /// A part is done without in a socket.
    pub const GIVE_UP: u64 = 80;
    /// On top: a joint then misses its target.
    pub const SHORT: u64 = 40;
    /// On top: a piece that is glued has to come out.
    pub const GLUED: u64 = 100;
}

/// What is done in one step of a remedy.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "kind")]
pub enum RemedyKind {
    /// Steel instead of a magnet.
    Keeper {
        /// Index of the hole.
        hole: usize,
        /// Index of the steel in stock.
        steel: usize,
    },
    /// Nothing instead of a magnet.
    LeaveEmpty {
        /// Index of the hole.
        hole: usize,
    },
    /// Two blind holes, each with a magnet, instead of one right through.
    Split {
        /// Index of the hole.
        hole: usize,
        /// Depth of each, mm.
        depth_mm: f64,
    },
    /// A pole that was wished for is left to the planner.
    FreePole {
        /// Index of the hole.
        hole: usize,
    },
    /// A joint's part sits in another pose.
    Turn {
        /// Index of the joint.
        joint: usize,
        /// The pose.
        #[serde(skip)]
        pose: lodewright_kit::Pose,
    },
    /// A joint's part is not put there.
    GiveUp {
        /// Index of the joint.
        joint: usize,
    },
}

/// One step of a remedy.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RemedyStep {
    /// What is done.
    #[serde(flatten)]
    pub kind: RemedyKind,
    /// Its price: see [`price`].
    pub weight: u64,
    /// Whether a piece that is glued already has to come out for it.
    pub glued: bool,
    /// The step as a sentence.
    pub said: String,
}

/// A way out of all contradictions at once.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// What is done; no part of it alone would do.
    pub steps: Vec<RemedyStep>,
    /// Its price.
    pub weight: u64,
    /// The least margin of the joints that it touches, in multiples of what they carry; `None` where none is held by
    /// magnets.
    pub margin_g: Option<f64>,
    /// That joint, in words.
    pub weakest: Option<String>,
    /// Whether every joint that it touches reaches its target.
    pub reaches_target: bool,
    /// What changes, and what comes of it, as sentences.
    pub story: Vec<String>,
    /// The edits that carry it out.
    pub edits: Vec<Edit>,
}

/// A contradiction with its headline.
#[derive(Clone, Debug, PartialEq)]
pub struct Clash {
    /// What cannot be, in one sentence.
    pub said: String,
    /// The holes, joints and the story.
    pub contradiction: Contradiction,
}

/// Ways out of all contradictions.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Repairs {
    /// One for each family of magnets that contradicts itself.
    pub clashes: Vec<Clash>,
    /// Cheapest first; of equal price the stronger one first. Empty where nothing contradicts.
    pub remedies: Vec<Remedy>,
    /// The first so many are known to be the cheapest of all that these kinds of step allow.
    pub proven: usize,
    /// No remedy costs less.
    pub lower_bound: u64,
    /// Whether none of the kinds of step is enough.
    pub impossible: bool,
}

/// More sets are looked at than shown, since prices become known only when a set is worked through.
const LOOK_AT: usize = 3;

/// The `most` cheapest ways out of all contradictions of a plan with these fillings.
///
/// Candidates touch only families of magnets that contradict themselves. Each is priced as if all went well, the
/// cheapest sets are found, and what they use is worked through and priced anew until nothing changes: an optimistic
/// price is a lower bound, so the order is right in the end. Two steps that weaken both sides of one pair, or the same
/// hole twice, do not go together. A set is dropped if the plan that its edits make still contradicts itself. A step is
/// judged by the matings that it takes away; should the plan as it then is need even fewer steps, since several holes left
/// empty or parts moved leave other magnets without a mate, the fewer are listed and nothing is called proven.
pub fn repairs(
    context: &mut Context,
    fillings: &[Filling],
    contradictions: &[Contradiction],
    most: usize,
) -> Repairs {
    let mut out = Repairs {
        clashes: contradictions.iter().map(|c| clash(context, c)).collect(),
        ..Repairs::default()
    };
    if contradictions.is_empty() {
        return out;
    }
    let mut links = Links::of(context.board, &context.holes, &context.mates, fillings);
    let (mut list, conflicts) = candidates(context, fillings, &mut links);
    let nodes = 2 * context.holes.holes.len();
    let found = loop {
        let repairs: Vec<_> = list.iter().map(Candidate::repair).collect();
        let problem = RepairProblem {
            nodes,
            constraints: &links.constraints,
            pins: &links.pins,
            repairs: &repairs,
            conflicts: &conflicts,
        };
        let Ok(found) = cheapest_repairs(&problem, most * LOOK_AT) else {
            return out;
        };
        let used: Vec<usize> = found.sets.iter().flat_map(|s| s.repairs.clone()).collect();
        let mut changed = false;
        for r in used {
            if list[r].standing == Standing::Unknown {
                list[r].work_through(context);
                changed |= list[r].standing != Standing::Fine;
            }
        }
        if !changed {
            break found;
        }
    };
    out.impossible = found.impossible;
    out.lower_bound = found.lower_bound;
    rank(&mut out, context, &list, &found, most);
    if let Some(first) = out.remedies.first() {
        out.lower_bound = out.lower_bound.min(first.weight);
    }
    out
}

/// Carries the sets out, leaves out what does not come true, and puts the rest in order.
fn rank(
    out: &mut Repairs,
    context: &Context,
    list: &[Candidate],
    found: &Repaired,
    most: usize,
) {
    let known = |all: &[Remedy], new: &Remedy| all.iter().any(|r| r.steps == new.steps);
    let mut surprised = false;
    for set in &found.sets {
        let mut steps: Vec<&Candidate> = set.repairs.iter().map(|r| &list[*r]).collect();
        while let Some(idle) = idle(context, &steps) {
            steps.remove(idle);
            surprised = true;
        }
        let remedy = remedy(context, &steps);
        out.remedies
            .extend(remedy.filter(|r| !known(&out.remedies, r)));
    }
    let margin = |r: &Remedy| r.margin_g.unwrap_or(f64::INFINITY);
    sort_by(&mut out.remedies, |a, b| {
        a.weight
            .cmp(&b.weight)
            .then(margin(b).total_cmp(&margin(a)))
            .then(a.steps.len().cmp(&b.steps.len()))
    });
    let sure = |r: &&Remedy| !surprised && found.rest.is_none_or(|rest| r.weight <= rest);
    out.proven = out.remedies.iter().take_while(sure).count().min(most);
    out.remedies.truncate(most);
}

/// A step without which the changed plan would not contradict itself either, where steps have effects beyond the
/// matings that they take away.
fn idle(context: &Context, steps: &[&Candidate]) -> Option<usize> {
    let count = |of: fn(&RemedyKind) -> bool| steps.iter().filter(|s| of(&s.kind)).count();
    let empty = count(|k| matches!(k, RemedyKind::LeaveEmpty { .. }));
    let moved = count(|k| matches!(k, RemedyKind::Turn { .. } | RemedyKind::GiveUp { .. }));
    if steps.len() < 2 || empty + 2 * moved < 2 {
        return None;
    }
    (0..steps.len()).find(|i| {
        let mut draft = Draft::new(context.board, &context.holes);
        let mut others = steps.iter().enumerate().filter(|(k, _)| k != i);
        let done = others.try_for_each(|(_, s)| s.carry_out(context, &mut draft));
        done.and_then(|()| settled(&draft.plan, context, &[]))
            .is_some_and(|after| !after.contradicts)
    })
}

fn remedy(context: &Context, steps: &[&Candidate]) -> Option<Remedy> {
    let weight: u64 = steps.iter().map(|s| s.repair().weight).sum();
    let mut draft = Draft::new(context.board, &context.holes);
    for step in steps {
        step.carry_out(context, &mut draft)?;
    }
    let edits = draft.edits();
    let touched = touched(context, steps);
    let after = settled(&draft.plan, context, &touched)?;
    if after.contradicts {
        return None;
    }
    let target_g = context.board.plan.settings.hold_target_g;
    let weakest = after.margins.into_iter().min_by(|a, b| a.1.total_cmp(&b.1));
    let reaches_target = weakest.as_ref().is_none_or(|(_, m)| *m >= target_g);
    let priced = steps.iter().any(|s| s.standing == Standing::Short);
    let steps: Vec<RemedyStep> = steps.iter().filter_map(|s| s.step(context)).collect();
    let mut story: Vec<String> = steps.iter().map(|s| s.said.clone()).collect();
    if let Some((words, margin_g)) = &weakest {
        let target = if reaches_target {
            String::new()
        } else {
            format!(", which misses the target of {target_g}")
        };
        story.push(format!(
            "The weakest joint that this touches, {words}, then bears {margin_g:.1} times what it carries{target}."
        ));
    }
    let more = if reaches_target || priced {
        0
    } else {
        price::SHORT
    };
    Some(Remedy {
        steps,
        weight: weight + more,
        margin_g: weakest.as_ref().map(|(_, m)| *m),
        weakest: weakest.map(|(words, _)| words),
        reaches_target,
        story,
        edits,
    })
}

/// The joints whose hold a set of steps may change, as they are afterwards.
fn touched(context: &Context, steps: &[&Candidate]) -> Vec<Joint> {
    let mut joints: Vec<Joint> = Vec::new();
    for (j, joint) in context.board.joints.iter().enumerate() {
        let mut joint = *joint;
        let (mut gone, mut touches) = (false, false);
        for step in steps {
            match step.kind {
                RemedyKind::Keeper { hole, .. }
                | RemedyKind::LeaveEmpty { hole }
                | RemedyKind::Split { hole, .. }
                | RemedyKind::FreePole { hole } => touches |= uses(context, j, hole),
                RemedyKind::Turn {
                    joint: turned,
                    pose,
                } if turned == j => {
                    touches = true;
                    joint.pose = pose;
                }
                RemedyKind::GiveUp { joint } if joint == j => gone = true,
                RemedyKind::Turn { .. } | RemedyKind::GiveUp { .. } => {}
            }
        }
        if touches && !gone && !joints.contains(&joint) {
            joints.push(joint);
        }
    }
    joints
}

/// Whether a joint's matings use a hole.
pub(crate) fn uses(context: &Context, joint: usize, hole: usize) -> bool {
    let faces = context.mates[joint]
        .iter()
        .flat_map(|m| [m.socket_face, m.plug_face]);
    faces.into_iter().any(|f| context.holes.faces[f].hole == hole)
}

/// What a changed plan comes to.
pub(crate) struct Settled {
    pub contradicts: bool,
    /// Of the joints asked for and held by magnets: words and least margin.
    pub margins: Vec<(String, f64)>,
}

/// Works a changed plan through that has the stock and settings of a context's plan.
pub(crate) fn settled(plan: &Plan, like: &Context, joints: &[Joint]) -> Option<Settled> {
    let board = Board::of(plan).ok()?;
    let glue = glue_answer(&board);
    let context = Context::of(&board, &glue).with_pulls_of(like);
    let choice = initial_sizes(&context);
    let poles = poles(&board, &context.holes, &context.mates, &choice.fillings);
    Some(Settled {
        contradicts: !poles.contradictions.is_empty(),
        margins: margins(&context, &choice.fillings, Some(&poles.poles), joints),
    })
}

/// Least margin of each of these joints that is held by magnets.
pub(crate) fn margins(
    context: &Context,
    fillings: &[Filling],
    poles: Option<&[Option<Pole>]>,
    joints: &[Joint],
) -> Vec<(String, f64)> {
    let index = |joint: &Joint| context.board.joints.iter().position(|j| j == joint);
    let magnetic = joints
        .iter()
        .filter_map(index)
        .filter(|j| context.is_magnetic(*j));
    let least = |joint: usize| {
        let cases = context.loads.cases.iter().filter(|c| c.joint == joint);
        let margin = |case| {
            context
                .hold(case, fillings, poles)
                .map_or(0.0, |a| a.margin_g)
        };
        cases.map(margin).min_by(f64::total_cmp)
    };
    magnetic
        .filter_map(|j| Some((context.board.words(j), least(j)?)))
        .collect()
}

/// The headline of a contradiction: the joints that cannot all attract and the magnet that shows it.
fn clash(context: &Context, contradiction: &Contradiction) -> Clash {
    let mut words: Vec<String> = Vec::new();
    for joint in contradiction.joints.iter().flatten() {
        let said = context.board.words(*joint);
        if !words.contains(&said) {
            words.push(said);
        }
    }
    let fixed = contradiction.joints.iter().any(Option::is_none);
    let list = match words.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
    };
    let magnet = contradiction
        .holes
        .first()
        .map_or_else(String::new, |h| name(context.board, &context.holes, *h));
    let wish = if fixed {
        " with the poles that the plan fixes"
    } else {
        ""
    };
    Clash {
        said: format!("For {list}{wish}, {magnet} would have to show both N and S."),
        contradiction: contradiction.clone(),
    }
}

/// A piece of steel in words.
pub(crate) fn steel_words(plan: &Plan, steel: usize) -> String {
    match filling_size(plan, Filling::Steel(steel)) {
        Some((d, h)) => format!("a steel disc of {d} × {h} mm"),
        None => "steel".to_owned(),
    }
}

/// The fit that stands for a piece of steel.
pub(crate) fn steel_fit(plan: &Plan, steel: usize) -> Option<Fit> {
    Some(Fit::Steel(plan.stock.steel.get(steel)?.id.clone()))
}
