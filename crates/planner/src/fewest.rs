//! The fewest magnets, as a proposal in words.

use lodewright_assembly::{Board, glue_answer};
use lodewright_bench::buy_list;
use lodewright_joints::{Fewest, Filled, Filling, JointModel, Context, filling_size, fixed, poles};
use lodewright_kit::{Edit, Plan};
use serde::{Deserialize, Serialize};

use crate::Answers;
use crate::words::{filling_words, hole_words};

/// One hole that the proposal fills differently.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct HoleChange {
    /// Where it is.
    pub place: String,
    /// What is there now.
    pub from: String,
    /// What would be.
    pub to: String,
}

/// Why one magnet fewer fails, for a family of joints.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FamilyWords {
    /// Its joints.
    pub joints: Vec<String>,
    /// Magnets that it takes; `None` where no choice does all that is asked.
    pub magnets: Option<u32>,
    /// No choice takes fewer.
    pub least: u32,
    /// Whether that is proven.
    pub proven: bool,
    /// Joints that together force that number, or that cannot all be met.
    pub reason: Vec<String>,
    /// Whether no smaller set of joints does.
    pub smallest: bool,
    /// Magnets that must keep apart, where that is part of the reason.
    pub apart: Vec<String>,
    /// Whether no choice keeps its magnets apart, so that it was counted without that.
    pub crowded: bool,
    /// Other choices with as many magnets, counted up to a hundred; the one proposed costs least beside the rest.
    pub others: usize,
    /// The edit that takes this family's choice alone; `None` where it changes nothing.
    pub edit: Option<Edit>,
}

/// A choice of magnets to take or leave.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Proposal {
    /// Magnets now and then.
    pub magnets: [usize; 2],
    /// Cost of what is to be bought now and then, hundredths of the currency.
    pub cents: [u64; 2],
    /// Whether no choice takes fewer (all holes of one face taking magnets of one size).
    pub proven: bool,
    /// Whether the proof was read and found sound by code of its own.
    pub checked: bool,
    /// Sockets where a friction pin would stand in for magnets.
    pub pins: Vec<String>,
    /// Joints that then do not do all that is asked though they do now, and that cannot be met at all.
    pub unmet: Vec<String>,
    /// Holes that change.
    pub changes: Vec<HoleChange>,
    /// By family of joints.
    pub families: Vec<FamilyWords>,
    /// The edit that takes all of it; `None` where nothing changes.
    pub edit: Option<Edit>,
}

/// Works the fewest magnets out; the answers must be of this plan. `None` for a plan without answers. `watch` hears how much is
/// done of how much; where it answers `false`, what is not done comes back unproven.
pub fn propose(
    plan: &Plan,
    answers: &Answers,
    watch: &mut dyn FnMut(usize, usize) -> bool,
) -> Option<Proposal> {
    let board = Board::of(plan).ok()?;
    let glue = glue_answer(&board);
    let context = Context::of(&board, &glue);
    if answers.fillings.len() != context.holes.holes.len() {
        return None;
    }
    let now = &answers.fillings;
    let price = |fillings: &[Filling]| (cents(&context, fillings), bits(plan, fillings));
    let found = lodewright_joints::fewest(&context, now, &price, watch);
    let counted = |list: &[Filling]| {
        list.iter()
            .filter(|f| matches!(f, Filling::Magnet(_)))
            .count()
    };
    let words = |joints: &[usize]| joints.iter().map(|j| board.words(*j)).collect();
    let place = |hole: usize| hole_words(plan, answers, hole).said();
    let families = found.families.iter().map(|f| FamilyWords {
        joints: words(&f.joints),
        magnets: f.magnets,
        least: f.least,
        proven: f.proven,
        reason: words(&f.reason),
        apart: f
            .reason_apart
            .iter()
            .map(|[a, b]| format!("{} and {}", place(*a), place(*b)))
            .collect(),
        crowded: f.crowded,
        smallest: f.smallest,
        others: f.others,
        edit: f.taken.as_ref().and_then(|t| fixed(&context, now, t)),
    });
    let changes = (0..found.fillings.len()).filter(|h| found.fillings[*h] != now[*h]);
    let whole = Filled {
        fillings: found.fillings.iter().copied().enumerate().collect(),
        pins: found.pins.clone(),
    };
    let edit = fixed(&context, now, &whole);
    Some(Proposal {
        magnets: [counted(now), counted(&found.fillings)],
        cents: [cents(&context, now), cents(&context, &found.fillings)],
        proven: found.proven,
        checked: found.checked,
        pins: found
            .pins
            .iter()
            .map(|s| plan.sockets[*s].name.clone())
            .collect(),
        unmet: unmet(plan, &found, edit.as_ref())
            .iter()
            .map(|j| board.words(*j))
            .collect(),
        changes: changes
            .map(|h| HoleChange {
                place: place(h),
                from: filling_words(plan, now[h]),
                to: filling_words(plan, found.fillings[h]),
            })
            .collect(),
        families: families.collect(),
        edit,
    })
}

fn cents(context: &Context, fillings: &[Filling]) -> u64 {
    buy_list(context, fillings).cost_cents
}

/// How many hole diameters a choice needs.
fn bits(plan: &Plan, fillings: &[Filling]) -> usize {
    let mut widths: Vec<u64> = fillings
        .iter()
        .filter_map(|f| filling_size(plan, *f).map(|(d, _)| d.to_bits()))
        .collect();
    widths.sort_unstable();
    widths.dedup();
    widths.len()
}

/// The fewest magnets for one hold target.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct CountAt {
    /// The target, multiples of the weight.
    pub target_g: f64,
    /// Magnets that it takes.
    pub magnets: usize,
    /// Whether that is proven.
    pub proven: bool,
    /// Joints that no choice makes reach it.
    pub unmet: usize,
}

/// How the fewest magnets grow with the hold target: for each of these targets the plan is worked out anew. Empty for a
/// plan without answers.
pub fn counts_by_target(
    plan: &Plan,
    targets_g: &[f64],
    watch: &mut dyn FnMut(usize, usize) -> bool,
) -> Vec<CountAt> {
    let mut all = Vec::new();
    let steps = 1000;
    for (i, target_g) in targets_g.iter().enumerate() {
        let mut other = plan.clone();
        other.settings.hold_target_g = *target_g;
        let Ok(answers) = crate::derive(&other) else {
            break;
        };
        let mut here = |done: usize, of: usize| {
            watch(
                i * steps + steps * done / of.max(1),
                targets_g.len() * steps,
            )
        };
        let Some(found) = propose(&other, &answers, &mut here) else {
            break;
        };
        all.push(CountAt {
            target_g: *target_g,
            magnets: found.magnets[1],
            proven: found.proven,
            unmet: found.unmet.len(),
        });
    }
    all
}

/// Joints that do not do all that is asked with the choice: worked out anew, poles and the weight of all magnets included.
fn unmet(plan: &Plan, found: &Fewest, edit: Option<&Edit>) -> Vec<usize> {
    let after = edit.and_then(|e| plan.edited(e).ok());
    let plan = after.as_ref().unwrap_or(plan);
    let Ok(board) = Board::of(plan) else {
        return Vec::new();
    };
    let glue = glue_answer(&board);
    let context = Context::of(&board, &glue);
    let poles = poles(&board, &context.holes, &context.mates, &found.fillings).poles;
    let is_good = |joint: usize| {
        let model = JointModel::of(&context, joint, &found.fillings, &poles);
        model.is_none_or(|m| m.account(plan).is_good())
    };
    (0..context.mates.len())
        .filter(|j| context.is_magnetic(*j) && !is_good(*j))
        .collect()
}
