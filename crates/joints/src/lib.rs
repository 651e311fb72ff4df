//! What happens at each joint: which sites face each other, what lies between them, how hard they pull, which poles
//! they show, what the joint holds in every variant, and a first choice of magnets.
//!
//! This crate brings the kit, the field physics and the plain solvers together; each of those knows nothing of the
//! others.

mod joint_report;
mod candidates;
mod initial_sizes;
mod curve;
mod fewest;
mod holes;
mod pole_constraints;
mod load;
mod mating;
mod wrong_placements;
mod poles;
mod pull;
mod repair;
mod safety;
mod scatter;
mod context;
mod plan_draft;
mod unintended_pairs;
mod study;
mod possible_placements;

pub use joint_report::{
    Held, HoldCase, JointReport, LetGoCase, ModeWord, PairReport, accounts, as_grams,
};
pub use candidates::SPLIT_WALL_MM;
pub use initial_sizes::{InitialSizes, initial_sizes};
pub use curve::{CurvePoint, GapCost, force_curve, gap_costs, keeper_share};
pub use fewest::{Fewest, FewestFamily, Filled, MOST_OTHERS, fewest, fixed};
pub use holes::{Face, Hole, Holes};
pub use load::{LoadCase, Loads, loads};
pub use mating::{Mate, mates};
pub use wrong_placements::{FELT_N, Feel, WrongPlacement, PoleProposal, propose_poles};
pub use poles::{Contradiction, Poles, attract, poles, shown_pole};
pub use pull::{
    End, Filling, GapPart, GapStack, disc, filling_mass_g, filling_size, fits, gap_at, gap_stack,
    pull_n,
};
pub use repair::{Clash, Remedy, RemedyKind, RemedyStep, Repairs, price, repairs};
pub use safety::{MagnetFacts, magnet_facts};
pub use scatter::{DRAWS, ScatterAnswer, ScatterError, Source, scatter};
pub use context::{G_M_S2, Context};
pub use unintended_pairs::{Meeting, UnintendedPair, unintended_pairs};
pub use study::{
    Attitude, AttitudeCase, DRILL_POINT, FitFacts, GOOD_WALL_MM, JointModel, LEAST_WALL_MM,
    ModelAccount, ModelLoad, ModelPair, ModelPiece, PairSide, PlaceCurve, PlacePoint, SizePoint,
    Window, attitudes, fit_facts, place_curve, size_curve, window,
};
pub use possible_placements::{PEG_FINDS_MM, TOUCHING_SHARE, possible_placements};
