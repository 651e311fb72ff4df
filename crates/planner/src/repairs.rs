//! Ways out of contradicting poles, and poles that make mistakes push off.

use lodewright_assembly::{Board, glue_answer};
use lodewright_joints::{MistakeProof, Repairs, Scene};
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
    let mut scene = Scene::of(&board, &glue);
    if scene.holes.holes.len() != answers.fillings.len() {
        return Repairs::default();
    }
    lodewright_joints::repairs(
        &mut scene,
        &answers.fillings,
        &answers.contradictions,
        SHOWN,
    )
}

/// Wrong placements of a plan with these answers, and poles with which as many of them as possible push off, as a
/// proposal: the house convention holds until its edits are made. Empty where the answers are not this plan's.
pub fn mistake_proof(plan: &Plan, answers: &Answers) -> MistakeProof {
    let Ok(board) = Board::of(plan) else {
        return MistakeProof::default();
    };
    let glue = glue_answer(&board);
    let scene = Scene::of(&board, &glue);
    if scene.holes.holes.len() != answers.fillings.len() {
        return MistakeProof::default();
    }
    lodewright_joints::mistake_proof(&scene, &answers.fillings, &answers.poles)
}
