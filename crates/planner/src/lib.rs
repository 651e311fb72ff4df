//! The facade of the core: a plan in, every answer out. The app and the programs reach the core through this crate only.

mod analysis;
mod cautions;
mod cost;
mod csv;
mod fewest;
mod hand_over;
mod hole_place;
mod measured_rates;
mod placement;
mod quote;
mod repairs;
pub mod report;
mod shopping;
mod stowing;
mod study;
mod summary;
mod swaps;
mod trips;
mod words;

pub use analysis::{Analysis, JointAnswer, Weakest};
pub use cautions::{Caution, FIRST_OF_ALL};
pub use cost::VariantCost;
pub use fewest::{CountAt, FamilyWords, HoleChange, Proposal};
pub use hand_over::{Card, HandOver, InventoryLine, SeatLine};
pub use hole_place::FacePlace;
pub use measured_rates::Timed;
pub use placement::PlacedPart;
pub use quote::{CostLine, Quote, Saving, WorkLine};
pub use report::{ReportError, report_json};
pub use shopping::{ShopKind, ShopLine};
pub use stowing::{FilledSpace, LyingPart, StowPlan, StowRefusal};
pub use study::{
    Advice, Formula, Input, UnintendedPairWords, formula_text, formulas, is_free, move_pair,
    place_for_pair, with_pair, with_size, without_pair,
};
pub use summary::Figures;
pub use swaps::{Swap, SwapMove};
pub use trips::{Leg, Trip};
pub use words::{
    ContradictionWords, FaceWords, HoleWords, StepWords, WrongPlacementWords, all_of,
    attitude_words, filling_words, fit_words, from_words, gap_words, gives_way_words, inch_words,
    list_mm, minutes, misfit_words, mm, place_words, pole_words, reason_words,
    would_give_way_words,
};

pub use lodewright_assembly::{Apart, BigUint, Joint, JointIx};
pub use lodewright_bench as bench;
pub use lodewright_geometry as geometry;
pub use lodewright_joints as joints;
pub use lodewright_kit as kit;
pub use lodewright_planfile as planfile;
