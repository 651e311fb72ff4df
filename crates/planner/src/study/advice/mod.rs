//! What would help a joint. Every piece of advice is an edit that was tried: the plan with it is worked out anew, so that
//! the margin beside it is the margin it gives, choice of sizes, poles and all.

mod changes;
mod outcome;
mod pegs;
mod places;
mod room;
mod sizes;
mod whole_plan;

pub use places::place_for_pair;

use lodewright_assembly::{Joint, JointIx};
use lodewright_joints::{Filling, JointModel, Verdict};
use lodewright_kit::{Edit, Plan};
use tiny_sort::stable::{sort, sort_by_key};

use crate::Analysis;
use crate::words::{all_of, filling_words, joint_words};
use changes::{Change, Changes};
use outcome::{Other, Outcome};

/// A change that helps.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// What to do, in one sentence.
    pub said: String,
    /// The edit that does it.
    pub edit: Edit,
    /// The joint's smallest margin then, multiples of the weight.
    pub margin_x_weight: f64,
    /// Whether all that is asked of the joint is met then: it holds, lets go where it must, the glue and the hand bear it.
    pub good: bool,
    /// What the planner then fits, where that is not what is there now.
    pub takes: Option<String>,
    /// What it costs elsewhere, as sentences.
    pub but: Vec<String>,
}

/// Margins closer than this are the same for a builder, multiples of the weight.
const WORTH_SAYING_X_WEIGHT: f64 = 0.05;
/// Pieces of advice at the most.
const MOST: usize = 12;

impl Analysis {
    /// The changes that help a joint, those that mend it first, then by how much they change on the bench. Empty where the
    /// joint is well as it is or nothing that was tried helps.
    pub fn advice(&self, joint: JointIx) -> Vec<Advice> {
        let joint = &self.board().joints[joint];
        let Some(now) = Outcome::of(self, joint) else {
            return Vec::new();
        };
        if now.verdict.is_good_so_far() {
            return Vec::new();
        }
        let mut helpful: Vec<Advice> = Changes::to_try(self, joint, &now)
            .into_iter()
            .filter_map(|change| self.tried(joint, &now, change))
            .collect();
        // The order in which changes are tried is that of what they cost on the bench; sorting keeps it among equals.
        sort_by_key(&mut helpful, |a| (!a.good, !a.but.is_empty()));
        helpful.truncate(MOST);
        helpful
    }

    fn tried(&self, joint: &Joint, now: &Outcome, change: Change) -> Option<Advice> {
        let after = self.edited(&change.edit).ok()?;
        let then = Outcome::of(&after, joint)?;
        let margin_x_weight = then.verdict.margin_x_weight()?;
        let good = then.verdict.is_good_so_far();
        let before = now.verdict.margin_x_weight().unwrap_or(0.0);
        let aims_lower = now.verdict.holds_enough();
        let helps = good || (!aims_lower && margin_x_weight > before + WORTH_SAYING_X_WEIGHT);
        if !helps {
            return None;
        }
        let was_good = |joint: &Joint| now.others.iter().any(|o| o.joint == *joint && o.is_good);
        let spoiled = then
            .others
            .iter()
            .filter(|o| !o.is_good && o.joint != *joint && was_good(&o.joint));
        let said = |o: &Other| {
            let words = joint_words(after.plan(), &o.joint);
            format!("{words} then no longer does all that is asked of it.")
        };
        let mut but: Vec<String> = spoiled.map(said).collect();
        but.extend(worse(&now.verdict, &then.verdict));
        Some(Advice {
            said: change.said,
            edit: change.edit,
            margin_x_weight,
            good,
            takes: sizes_taken(self.plan(), &now.model, &then.model),
            but,
        })
    }
}

/// The pieces of the joint in words, where they are not the ones that are there now.
fn sizes_taken(plan: &Plan, now: &JointModel, then: &JointModel) -> Option<String> {
    let pieces = |model: &JointModel| {
        let all = model
            .pairs
            .iter()
            .flat_map(|p| [p.socket.filling, p.plug.filling]);
        let mut all: Vec<Filling> = all.collect();
        sort(&mut all);
        all.dedup();
        all
    };
    let (before, after) = (pieces(now), pieces(then));
    (before != after).then(|| {
        let words: Vec<String> = after.iter().map(|f| filling_words(plan, *f)).collect();
        all_of(&words)
    })
}

/// What gets worse at the joint itself.
fn worse(before: &Verdict, after: &Verdict) -> Vec<String> {
    let mut said = Vec::new();
    if before.is_comfortable() && !after.is_comfortable() {
        said.push(format!(
            "By hand it then takes {:.1} N to pull it off.",
            after.hand_n
        ));
    }
    if before.lets_go() && !after.lets_go() {
        said.push("It then no longer lets go before the part snaps.".to_owned());
    }
    if before.glue_bears() && !after.glue_bears() {
        said.push("The glue of its magnets then bears too little.".to_owned());
    }
    said
}
