//! Changes to try on a joint, in the order in which they are tried.

use lodewright_assembly::Joint;
use lodewright_kit::{Edit, Plan};

use super::outcome::Outcome;
use crate::Analysis;

/// A change in words and as an edit.
pub(super) struct Change {
    pub said: String,
    pub edit: Edit,
}

/// The changes to one joint as they are gathered.
pub(super) struct Changes<'a> {
    pub analysis: &'a Analysis,
    pub plan: &'a Plan,
    pub joint: &'a Joint,
    pub now: &'a Outcome,
    all: Vec<Change>,
}

impl<'a> Changes<'a> {
    /// Changes to try, those first that cost least on the bench.
    pub fn to_try(analysis: &'a Analysis, joint: &'a Joint, now: &'a Outcome) -> Vec<Change> {
        let mut changes = Self {
            analysis,
            plan: analysis.plan(),
            joint,
            now,
            all: Vec::new(),
        };
        let too_strong = now.verdict.holds_enough();
        changes.keep_peg();
        if too_strong {
            changes.sizes(false);
            changes.thicker_walls();
        } else {
            changes.masks();
            changes.sizes(true);
            for pair in &now.model.pairs {
                changes.outward(pair);
            }
            changes.magnets_for_steel();
            changes.second_pair();
            changes.thinner_walls();
            changes.roomier();
            changes.pegs();
            changes.lower_target();
        }
        changes.all
    }

    /// Adds a change, where there is an edit that makes it.
    pub fn add(&mut self, said: String, edit: Option<Edit>) {
        self.all.extend(edit.map(|edit| Change { said, edit }));
    }
}
