//! From fact to sentence: the only place where the core makes prose. A fact goes in, a sentence comes out, and nothing reads
//! one back.

mod clashes;
mod fits;
mod holes;
mod joints;
mod numbers;
mod poles;
mod reasons;
mod steps;

pub use fits::{fit_words, misfit_words};
pub use holes::{FaceWords, HoleWords, filling_words, place_words, pole_words};
pub(crate) use joints::joint_words;
pub use joints::{attitude_words, gap_words, gives_way_words, would_give_way_words};
pub use numbers::{all_of, inch_words, list_mm, minutes, mm};
pub use poles::{ContradictionWords, WrongPlacementWords};
pub use reasons::reason_words;
pub use steps::{StepWords, from_words};
