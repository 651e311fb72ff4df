//! Ways out of contradicting poles, and poles that make mistakes push off.

use lodewright_assembly::{Board, glue_answer};
use lodewright_joints::{PoleProposal, Repairs, Context};
use lodewright_kit::Plan;

use crate::Answers;

/// Remedies that are shown.
const SHOWN: usize = 6;

/// The cheapest ways out of all contradictions of a plan with these answers, best first, each with the edits that carry
/// it out; empty where nothing contradicts, or where the answers are not this plan's.
pub fn repairs(plan: &Plan, answers: &Answers) -> Repairs {
    let Ok(board) = Board::of(plan) else {
        return Repairs::default();
    };
    let glue = glue_answer(&board);
    let mut context = Context::of(&board, &glue);
    if context.holes.holes.len() != answers.fillings.len() {
        return Repairs::default();
    }
    lodewright_joints::repairs(
        &mut context,
        &answers.fillings,
        &answers.contradictions,
        SHOWN,
    )
}

/// Wrong placements of a plan with these answers, and poles with which as many of them as possible push off, as a
/// proposal: the house convention holds until its edits are made. Empty where the answers are not this plan's.
pub fn propose_poles(plan: &Plan, answers: &Answers) -> PoleProposal {
    let Ok(board) = Board::of(plan) else {
        return PoleProposal::default();
    };
    let glue = glue_answer(&board);
    let context = Context::of(&board, &glue);
    if context.holes.holes.len() != answers.fillings.len() {
        return PoleProposal::default();
    }
    lodewright_joints::propose_poles(&context, &answers.fillings, &answers.poles)
}
