//! The facade of the core: a plan in, every answer out. The app and the programs reach the core through this crate only.

mod answers;
mod cautions;
mod cost;
mod fewest;
mod repairs;
mod report;
mod study;
mod swaps;
mod words;

pub use answers::{Answers, DeriveError, JointAnswer, Weakest, derive};
pub use cautions::{Caution, FIRST_OF_ALL, cautions};
pub use cost::{VariantCost, variant_costs};
pub use fewest::{FamilyWords, HoleChange, Proposal, propose};
pub use repairs::repairs;
