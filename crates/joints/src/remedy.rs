//! A way out of contradicting poles: its steps, their prices and what comes of it.

use lodewright_assembly::{Joint, JointIx};
use lodewright_kit::{Edit, Pose, SteelIx};
use serde::Serialize;

use crate::holes::HoleIx;
use crate::poles::Contradiction;

/// Prices of the kinds of repair, in no unit: what matters is their order. Common practice, no source.
pub mod price {
    /// A wished pole is given up: nothing is built differently.
    pub const FREE_POLE: u64 = 5;
    /// A hole stays empty: one magnet less, where the others of its joints are enough.
    pub const LEAVE_EMPTY: u64 = 8;
    /// Steel instead of one magnet: weaker, but it attracts both poles.
    pub const KEEPER: u64 = 10;
    /// Two blind holes instead of one right through.
    pub const SPLIT: u64 = 20;
    /// A part sits in another pose than was planned.
    pub const TURN: u64 = 30;
    /// A part is done without in a socket.
    pub const GIVE_UP: u64 = 80;
    /// On top: a joint then does not do all that is asked.
    pub const SHORT: u64 = 40;
    /// On top: a piece that is glued has to come out.
    pub const GLUED: u64 = 100;
}

/// What is done in one step of a remedy.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "kind")]
pub enum RemedyKind {
    /// Steel instead of a magnet.
    Keeper {
        /// The hole.
        hole: HoleIx,
        /// The steel in stock.
        steel: SteelIx,
    },
    /// Nothing instead of a magnet.
    LeaveEmpty {
        /// The hole.
        hole: HoleIx,
    },
    /// Two blind holes, each with a magnet, instead of one right through.
    Split {
        /// The hole.
        hole: HoleIx,
        /// Depth of each, mm.
        depth_mm: f64,
    },
    /// A pole that was wished for is left to the planner.
    FreePole {
        /// The hole.
        hole: HoleIx,
    },
    /// A joint's part sits in another pose.
    Turn {
        /// The joint.
        joint: JointIx,
        /// The pose.
        #[serde(skip)]
        pose: Pose,
    },
    /// A joint's part is not put there.
    GiveUp {
        /// The joint.
        joint: JointIx,
    },
}

/// One step of a remedy.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RemedyStep {
    /// What is done.
    #[serde(flatten)]
    pub kind: RemedyKind,
    /// Its price: see [`price`].
    pub weight: u64,
    /// Whether a piece that is glued already has to come out for it.
    pub glued: bool,
}

/// A way out of all contradictions at once.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// What is done; no part of it alone would do.
    pub steps: Vec<RemedyStep>,
    /// Its price.
    pub weight: u64,
    /// The least margin of the joints that it touches, in multiples of what they carry, and that joint; `None` where none is
    /// held by magnets.
    pub weakest: Option<(f64, Joint)>,
    /// Whether every joint that it touches then does all that is asked.
    pub all_good: bool,
    /// The edits that carry it out.
    pub edits: Vec<Edit>,
}

/// Ways out of all contradictions.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Repairs {
    /// One for each family of magnets that contradicts itself.
    pub clashes: Vec<Contradiction>,
    /// Cheapest first; of equal price the stronger one first. Empty where nothing contradicts.
    pub remedies: Vec<Remedy>,
    /// The first so many are known to be the cheapest of all that these kinds of step allow.
    pub proven: usize,
    /// No remedy costs less.
    pub lower_bound: u64,
    /// Whether none of the kinds of step is enough.
    pub impossible: bool,
}
