//! One joint looked at closely: what it would hold with its pieces elsewhere or of another size, in every attitude, between
//! holding and letting go.

mod attitude;
mod curves;
mod fit;
mod window;

pub use attitude::{Attitude, AttitudeCase};
pub use curves::{PlaceCurve, PlacePoint, SizePoint};
pub use fit::{FitFacts, FitWarning, Neighbour, fit_facts};
pub use window::Window;
