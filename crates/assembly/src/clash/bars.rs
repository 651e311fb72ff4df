//! What has to be off while another part comes off or goes on, and the order of handlings that follows.

use std::collections::BTreeSet;

use super::Chain;
use crate::{Board, JointIx, Model};

/// Pairs of seats: the second stands in the way of the first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bars(BTreeSet<(Chain, Chain)>);

impl Bars {
    pub(super) fn note(&mut self, part: Chain, behind: Chain) {
        self.0.insert((part, behind));
    }

    /// The pairs: a part's seat, and the seat of what stands in its way.
    pub fn iter(&self) -> impl Iterator<Item = (&Chain, &Chain)> {
        self.0.iter().map(|(a, b)| (a, b))
    }

    /// The pairs that a model has, by the joints that the two parts sit by.
    pub fn in_model(&self, board: &Board, model: &Model) -> Vec<[JointIx; 2]> {
        let made = |chain: &Chain| {
            let is_made = |j: &JointIx| model.joints[board.joints[*j].socket] == Some(*j);
            chain.last().copied().filter(|_| chain.iter().all(is_made))
        };
        let both = self.0.iter().map(|(a, b)| Some([made(a)?, made(b)?]));
        both.flatten().collect()
    }
}
