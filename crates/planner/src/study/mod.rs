//! One joint looked at closely, on demand: trying places and sizes, advice that was tried, how sure it is, unintended_pairs, and
//! the formula behind every number.

mod advice;
mod change;
pub mod formula_text;
mod formulas;
mod strange;

pub use advice::{Advice, advice, place_for_pair};
pub use change::{is_free, move_pair, with_pair, with_size, without_pair};
pub use formulas::{Formula, Input, formulas};
pub use strange::{UnintendedPairWords, unintended_pairs};

use lodewright_assembly::{Board, glue_answer};
use lodewright_joints::{JointModel, Context};
use lodewright_kit::Plan;

use crate::Answers;

/// The joint of this index by itself, ready to be tried with pieces elsewhere or of other sizes; `None` where it may be
/// glued or nothing holds it. The answers must be of this plan.
pub fn study(plan: &Plan, answers: &Answers, joint: usize) -> Option<JointModel> {
    let board = Board::of(plan).ok()?;
    let glue = glue_answer(&board);
    let context = Context::of(&board, &glue);
    if answers.fillings.len() != context.holes.holes.len() {
        return None;
    }
    JointModel::of(&context, joint, &answers.fillings, &answers.poles)
}
