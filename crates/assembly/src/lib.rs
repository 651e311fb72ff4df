//! What sits where: the plan as indexed joints and cells, its legal models and their exact number, what may be glued,
//! how a model stands in space, and how to change one model into another.
//!
//! A *joint* is one part by one plug in one pose in one socket; a *model* says for every socket which joint is made
//! there. Nothing here knows of magnets.

mod board;
mod clash;
mod glue;
mod model;
mod model_count;
mod placement;
mod search;
mod situation;
mod swap;

pub use board::{Board, Joint, JointIx};
pub use clash::{Barred, Bars, Chain, Clash, Clashes, clashes};
pub use glue::{Apart, GlueAnswer, Lone, glue_answer};
pub use model::{Model, first_model, models, nearest_model};
pub use model_count::ModelCounts;
/// A number of models: often more than any integer of fixed width holds.
pub use num_bigint::BigUint;
pub use placement::{Placement, placement};
pub use swap::{Change, SwapStep, changes};
