//! One joint looked at closely: what it would hold with its pieces elsewhere or of another size, in every attitude, between
//! holding and letting go.

mod attitude;
mod curves;
mod fit;
mod model;
mod window;

pub use attitude::{Attitude, AttitudeCase, attitudes};
pub use curves::{PlaceCurve, PlacePoint, SizePoint, place_curve, size_curve};
pub use fit::{DRILL_POINT, FitFacts, GOOD_WALL_MM, LEAST_WALL_MM, fit_facts};
pub use model::{JointModel, ModelAccount, ModelLoad, ModelPair, ModelPiece, PairSide};
pub use window::{Window, window};
