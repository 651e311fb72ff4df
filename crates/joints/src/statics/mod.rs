//! The statics of one joint: the only model of what it pulls and holds, and the only judge of whether that is enough.

mod bare;
mod give_way;
mod model;
mod thin;
mod verdict;

pub(crate) use bare::{BareJoint, contact_mm};
pub use give_way::GivesWay;
pub use model::{JointModel, ModelLoad, ModelPair, ModelPiece};
pub use verdict::{LoadHold, Reason, Verdict};
