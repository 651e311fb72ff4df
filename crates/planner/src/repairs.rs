//! Ways out of contradicting poles, and poles with which wrong placements repel.

use lodewright_joints::{PoleProposal, Repairs};

use crate::Analysis;

/// Remedies that are shown.
const SHOWN: usize = 6;

impl Analysis {
    /// The cheapest ways out of all contradictions, best first, each with the edits that carry it out; empty where nothing
    /// contradicts.
    pub fn repairs(&self) -> Repairs {
        let now = self.up_to_date();
        let clashes = now.contradictions();
        lodewright_joints::repairs(now.context(), now.fillings(), clashes, SHOWN)
    }

    /// Wrong placements, and poles with which as many of them as possible repel, as a proposal: the house convention holds
    /// until its edits are made.
    pub fn propose_poles(&self) -> PoleProposal {
        let now = self.up_to_date();
        lodewright_joints::propose_poles(now.context(), now.fillings(), now.poles())
    }
}
