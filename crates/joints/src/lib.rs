//! What happens at each joint: which sites face each other, what lies between them, how hard they pull, which poles
//! they show, what the joint holds in every variant, and a first choice of magnets.
//!
//! This crate brings the kit, the field physics and the plain solvers together; each of those knows nothing of the
//! others.

mod account;
mod candidates;
mod choose;
mod curve;
mod fewest;
mod holes;
mod links;
mod load;
mod mating;
mod mistakes;
mod poles;
mod pull;
mod repair;
mod safety;
mod scatter;
mod scene;
mod sites;
mod strangers;
mod study;
mod tries;

pub use account::{
    Held, HoldCase, JointAccount, LetGoCase, ModeWord, PairAccount, accounts, as_grams,
};
pub use candidates::SPLIT_WALL_MM;
pub use choose::{Choice, choose};
pub use curve::{CurvePoint, GapCost, force_curve, gap_costs, keeper_share};
pub use fewest::{Fewest, FewestFamily, Filled, MOST_OTHERS, fewest, fixed};
pub use holes::{Face, Hole, Holes};
pub use load::{LoadCase, Loads, loads};
pub use mating::{Mate, mates};
pub use mistakes::{FELT_N, Feel, Mistake, MistakeProof, mistake_proof};
pub use poles::{Contradiction, Poles, attract, poles, shown_pole};
pub use pull::{
    End, Filling, GapPart, GapStack, disc, filling_mass_g, filling_size, fits, gap_at, gap_stack,
    lasting_loss, pull_n, strength_of,
};
pub use repair::{Clash, Remedy, RemedyKind, RemedyStep, Repairs, price, repairs};
pub use safety::{MagnetFacts, magnet_facts};
pub use scatter::{DRAWS, ScatterAnswer, ScatterError, Source, scatter};
pub use scene::{G_M_S2, Scene};
pub use strangers::{Meeting, Stranger, strangers};
pub use study::{
    Attitude, AttitudeCase, DRILL_POINT, FitFacts, GOOD_WALL_MM, JointModel, LEAST_WALL_MM,
    ModelAccount, ModelLoad, ModelPair, ModelPiece, PairSide, PlaceCurve, PlacePoint, SizePoint,
    Window, attitudes, fit_facts, place_curve, size_curve, window,
};
pub use tries::{PEG_FINDS_MM, TOUCHING_SHARE, tries};
