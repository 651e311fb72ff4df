//! What a joint comes to in a plan worked out anew: choice of sizes, poles and all.

use lodewright_assembly::{Board, Joint, glue_answer};
use lodewright_joints::{JointModel, ModelAccount, Context, initial_sizes, poles};
use lodewright_kit::Plan;

/// A joint in a plan, and how all others do there.
pub(super) struct Outcome {
    pub model: JointModel,
    pub account: ModelAccount,
    /// Every joint that something holds, this one among them.
    pub others: Vec<Other>,
}

/// A joint beside the one in question.
pub(super) struct Other {
    pub joint: Joint,
    pub words: String,
    /// Whether all is met.
    pub is_good: bool,
}

impl Outcome {
    pub(super) fn of(plan: &Plan, joint: &Joint) -> Option<Self> {
        let board = Board::of(plan).ok()?;
        let glue = glue_answer(&board);
        let context = Context::of(&board, &glue);
        let fillings = initial_sizes(&context).fillings;
        let poles = poles(&board, &context.holes, &context.mates, &fillings).poles;
        let model_of = |j: usize| JointModel::of(&context, j, &fillings, &poles);
        let here = board.joints.iter().position(|j| j == joint)?;
        let model = model_of(here)?;
        // Other joints feel a change only through a shared socket or part, or through the whole plan.
        let others = (0..board.joints.len()).filter_map(|j| {
            Some(Other {
                joint: board.joints[j],
                words: board.words(j),
                is_good: model_of(j)?.account(plan).is_good(),
            })
        });
        Some(Self {
            account: model.account(plan),
            others: others.collect(),
            model,
        })
    }
}
