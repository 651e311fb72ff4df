//! The facade of the core: a plan in, every answer out. The app and the programs reach the core through this crate only.

mod answers;
mod beside;
mod cautions;
mod cost;
mod fewest;
mod hand_over;
mod own_rates;
mod quote;
mod repairs;
pub mod report;
mod shopping;
mod standing;
mod stowing;
mod study;
mod swaps;
mod tables;
mod trips;
mod words;

pub use answers::{Answers, DeriveError, JointAnswer, Weakest, derive};
pub use beside::{Figures, figures};
pub use cautions::{Caution, FIRST_OF_ALL, cautions};
pub use cost::{VariantCost, variant_costs};
pub use fewest::{CountAt, FamilyWords, HoleChange, Proposal, counts_by_target, propose};
pub use hand_over::{Card, HandOver, InventoryLine, SeatLine, hand_over};
pub use own_rates::{Timed, rates_as_timed, timed};
pub use quote::{CostLine, Quote, Saving, WorkLine, quote};
pub use repairs::{mistake_proof, repairs};
pub use report::{ReportError, report, report_json};
pub use shopping::{ShopKind, ShopLine, shopping};
pub use standing::{Standing, standing};
pub use stowing::{FilledSpace, LyingPart, StowPlan, StowRefusal, stow_loose};
pub use study::{
    Advice, Formula, Input, StrangerWords, advice, formula_text, formulas, is_free, move_pair,
    place_for_pair, strangers, study, with_pair, with_size, without_pair,
};
pub use swaps::{Swap, SwapMove, swap};
pub use tables::{shopping_csv, work_csv};
pub use trips::{Leg, Trip, round_trip};
pub use words::{
    FaceWords, HoleWords, StepWords, all_of, drill_of, filling_words, from_words, hole_words,
    inch_words, list_mm, minutes, mm, pole_words, step_words,
};

pub use lodewright_bench as bench;
pub use lodewright_geometry as geometry;
pub use lodewright_joints as joints;
pub use lodewright_kit as kit;
pub use lodewright_planfile as planfile;
