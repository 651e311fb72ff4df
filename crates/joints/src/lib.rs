//! What happens at each joint: which sites face each other, what lies between them, how hard they pull, which poles
//! they show, what the joint holds in every variant, and a first choice of magnets.
//!
//! This crate brings the kit, the field physics and the plain solvers together; each of those knows nothing of the
//! others.

mod bits;
mod candidates;
mod context;
mod crowding;
mod curve;
mod fewest;
mod hole_runs;
mod holes;
mod initial_sizes;
mod joint_report;
mod load;
mod mating;
mod plan_draft;
mod pole_constraints;
mod poles;
mod possible_placements;
mod pull;
mod pull_memory;
mod remedy;
mod repair;
mod room;
mod safety;
mod scatter;
mod settled;
mod statics;
mod study;
mod unintended_pairs;
mod wrong_placements;

pub use bits::{bit_for, hole_mm, is_metric_bit};
pub use candidates::SPLIT_WALL_MM;
pub use context::{Context, G_M_S2};
pub use curve::{CurvePoint, GapCost, force_curve, gap_costs, keeper_share};
pub use fewest::{Fewest, FewestFamily, Filled, MOST_OTHERS, fewest, fixed};
pub use hole_runs::{Owner, Run};
pub use holes::{Face, FaceIx, Hole, HoleIx, Holes};
pub use initial_sizes::{InitialSizes, initial_sizes};
pub use joint_report::{
    Held, HoldCase, JointReport, LetGoCase, PairReport, as_grams, joint_reports,
};
pub use load::{LoadCase, Loads, loads};
pub use lodewright_body::{DRILL_POINT, LEAST_WALL_MM};
pub use mating::{Mate, mates};
pub use poles::{Contradiction, PoleStep, Poles, attract, poles, shown_pole};
pub use possible_placements::{PEG_FINDS_MM, TOUCHING_SHARE, possible_placements};
pub use pull::{
    End, Filling, Fillings, GapLayer, GapPart, GapStack, PairSide, disc, filling_mass_g,
    filling_size, gap_at, gap_stack, glue_room_mm, lasting_loss, pull_n, strength_of,
};
pub use pull_memory::PullMemory;
pub use remedy::{Remedy, RemedyKind, RemedyStep, Repairs, price};
pub use repair::repairs;
pub use room::{GOOD_WALL_MM, Misfit, Room, misfit, point_mm, takes};
pub use safety::{MagnetFacts, magnet_facts};
pub use scatter::{DRAWS, ScatterAnswer, ScatterError, Source, scatter};
pub use statics::{
    GivesWay, JointModel, LoadHold, ModelLoad, ModelPair, ModelPiece, Reason, Verdict,
};
pub use study::{
    Attitude, AttitudeCase, FitFacts, FitWarning, Neighbour, PlaceCurve, PlacePoint, SizePoint,
    Window, fit_facts,
};
pub use unintended_pairs::{Meeting, UnintendedPair, unintended_pairs};
pub use wrong_placements::{FELT_N, Feel, PoleProposal, Stays, WrongPlacement, propose_poles};
