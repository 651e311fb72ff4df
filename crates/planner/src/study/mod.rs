//! One joint looked at closely, on demand: trying places and sizes, advice that was tried, unintended pairs, and the formula
//! behind every number.

mod advice;
mod change;
pub mod formula_text;
mod formulas;
mod strange;

pub use advice::{Advice, place_for_pair};
pub use change::{is_free, move_pair, with_pair, with_size, without_pair};
pub use formulas::{Formula, Input, formulas};
pub use strange::UnintendedPairWords;

use lodewright_assembly::JointIx;
use lodewright_joints::JointModel;

use crate::Analysis;

impl Analysis {
    /// A joint by itself, ready to be tried with pieces elsewhere or of other sizes; `None` where it may be glued or nothing
    /// holds it.
    pub fn study(&self, joint: JointIx) -> Option<JointModel> {
        self.context()
            .model(joint, self.fillings(), Some(self.poles()))
    }
}
