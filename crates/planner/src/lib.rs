//! The facade of the core: a plan in, every answer out. The app and the programs reach the core through this crate only.

mod answers;
mod cautions;
mod cost;
mod fewest;
mod repairs;
mod report;
mod standing;
mod study;
mod swaps;
mod words;

pub use answers::{Answers, DeriveError, JointAnswer, Weakest, derive};
pub use cautions::{Caution, FIRST_OF_ALL, cautions};
pub use cost::{VariantCost, variant_costs};
pub use fewest::{CountAt, FamilyWords, HoleChange, Proposal, counts_by_target, propose};
pub use repairs::{mistake_proof, repairs};
pub use report::{ReportError, report, report_json};
pub use standing::{Standing, standing};
pub use study::{
    Advice, Formula, Input, StrangerWords, advice, formulas, is_free, move_pair, place_for_pair,
    strangers, study, with_pair, with_size, without_pair,
};
pub use swaps::{Swap, SwapMove, swap};
pub use words::{
    FaceWords, HoleWords, StepWords, drill_of, filling_words, from_words, hole_words, list_mm,
    minutes, mm, pole_words, step_words,
};

pub use lodewright_bench as bench;
pub use lodewright_joints as joints;
pub use lodewright_kit as kit;
pub use lodewright_planfile as planfile;
