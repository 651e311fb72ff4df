//! What a joint comes to in a plan worked out anew: choice of sizes, poles and all.

use lodewright_assembly::Joint;
use lodewright_joints::{JointModel, Verdict};

use crate::Analysis;

/// A joint in a plan, and how all others do there.
pub(super) struct Outcome {
    pub model: JointModel,
    pub verdict: Verdict,
    /// Every joint that something holds, this one among them.
    pub others: Vec<Other>,
}

/// A joint beside the one in question.
pub(super) struct Other {
    pub joint: Joint,
    /// Whether all is met.
    pub is_good: bool,
}

impl Outcome {
    pub(super) fn of(analysis: &Analysis, joint: &Joint) -> Option<Self> {
        let board = analysis.board();
        let model = analysis.study(board.find(joint)?)?;
        // Other joints feel a change only through a shared socket or part, or through the whole plan.
        let others = board.all_joints().filter_map(|j| {
            Some(Other {
                joint: board.joints[j],
                is_good: analysis.study(j)?.is_good_so_far(),
            })
        });
        Some(Self {
            verdict: model.judge(),
            others: others.collect(),
            model,
        })
    }
}
