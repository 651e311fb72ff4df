//! Magnets that are not meant to meet, in words.

use lodewright_assembly::{Board, glue_answer};
use lodewright_joints::{Meeting, Context, UnintendedPair};
use lodewright_kit::Plan;

use crate::Answers;
use crate::words::{hole_words, mm};

/// A pair of magnets that feel each other though nobody wants it.
#[derive(Clone, Debug, PartialEq)]
pub struct UnintendedPairWords {
    /// The pair.
    pub pair: UnintendedPair,
    /// What happens, in a sentence or two.
    pub said: String,
    /// What would help.
    pub remedy: String,
}

/// Every such pair above the plan's limit, strongest first. The answers must be of this plan.
pub fn unintended_pairs(plan: &Plan, answers: &Answers) -> Vec<UnintendedPairWords> {
    let Ok(board) = Board::of(plan) else {
        return Vec::new();
    };
    let glue = glue_answer(&board);
    let context = Context::of(&board, &glue);
    if answers.fillings.len() != context.holes.holes.len() {
        return Vec::new();
    }
    let found = lodewright_joints::unintended_pairs(&context, &answers.fillings, &answers.poles);
    found
        .into_iter()
        .map(|pair| words(plan, answers, &board, pair))
        .collect()
}

fn words(plan: &Plan, answers: &Answers, board: &Board, pair: UnintendedPair) -> UnintendedPairWords {
    let [a, b] = pair
        .holes
        .map(|hole| hole_words(plan, answers, hole).said());
    let said = if pair.overlap {
        format!("{a} and {b}: the magnets would share space.")
    } else {
        let how = match pair.attract {
            Some(true) => "draw each other",
            Some(false) => "push each other away",
            None => "feel each other",
        };
        let when = match pair.meeting {
            Meeting::SideBySide => ", side by side",
            Meeting::ThroughThePart => ", through the part",
            Meeting::PartAndHost => "",
        };
        let joint = pair
            .joint
            .map(|j| format!(" while {} is on", board.words(j)))
            .unwrap_or_default();
        format!(
            "{a} and {b} {how}{when}{joint} with {:.2} N at {} mm.",
            pair.force_n,
            mm(pair.apart_mm)
        )
    };
    let glue = match pair.meeting {
        Meeting::PartAndHost => "",
        _ => " Or glue one, let it cure fully, and only then set the other.",
    };
    let remedy = match pair.enough_mm {
        Some(enough_mm) if enough_mm > pair.apart_mm => format!(
            "With their centres {} mm apart it is under {} N.{glue}",
            mm(enough_mm),
            mm(plan.settings.stranger_limit_n)
        ),
        _ => format!("Move one of them to another face, or choose smaller ones.{glue}"),
    };
    UnintendedPairWords { pair, said, remedy }
}
