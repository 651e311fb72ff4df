//! What may speak against a joint, as facts.

use lodewright_kit::SocketIx;
use serde::Serialize;

use crate::holes::HoleIx;
use crate::room::Misfit;
use crate::study::Attitude;

/// What speaks against a joint.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "reason")]
pub enum Reason {
    /// Two pieces that meet push each other off.
    Repels {
        /// Their holes, the host's first.
        holes: [HoleIx; 2],
    },
    /// Nothing pulls it on.
    NothingPulls,
    /// The outlines of the two faces do not overlap.
    NoContact,
    /// It holds less than is asked.
    TooWeak {
        /// What it holds, multiples of what it carries.
        margin_x_weight: f64,
    },
    /// Turned to an attitude and shaken, it opens or slips.
    ShakenOff {
        /// The attitude.
        attitude: Attitude,
        /// Shaking that it bears there, g.
        shake_g: f64,
    },
    /// A hand needs more than is comfortable.
    HardToPull {
        /// Pull at the strong end, N.
        hand_n: f64,
    },
    /// A piece pulls harder than its glue may bear.
    GlueOverloaded {
        /// Its hole.
        hole: HoleIx,
        /// Mean stress, MPa.
        bond_mpa: f64,
    },
    /// The part breaks at its thin section before the joint opens.
    SnapsFirst {
        /// Force at the reach that opens it, N; `None` where a snug peg keeps it from opening.
        opens_n: Option<f64>,
        /// Force there that snaps the part, N.
        snaps_n: f64,
    },
    /// A piece asks for a hole that cannot be.
    NoRoom {
        /// The hole.
        hole: HoleIx,
        /// Why not.
        misfit: Misfit,
    },
    /// What it carries hangs on a socket that nobody has placed: nothing can be said before.
    NotPlaced {
        /// The socket.
        socket: SocketIx,
    },
    /// A number is beyond what the statics take, so that nothing can be said.
    CannotTell,
}

impl Reason {
    /// The smaller, the more urgent.
    pub fn urgency(&self) -> u8 {
        match self {
            Self::Repels { .. } => 0,
            Self::CannotTell => 1,
            Self::NothingPulls => 2,
            Self::NoContact => 3,
            Self::TooWeak { .. } => 4,
            Self::ShakenOff { .. } => 5,
            Self::SnapsFirst { .. } => 6,
            Self::GlueOverloaded { .. } => 7,
            Self::NoRoom { .. } => 8,
            Self::HardToPull { .. } => 9,
            Self::NotPlaced { .. } => 10,
        }
    }

    /// Whether the joint would hold too little: more pull would help.
    pub fn is_of_holding(&self) -> bool {
        matches!(
            self,
            Self::NothingPulls | Self::NoContact | Self::TooWeak { .. } | Self::ShakenOff { .. }
        )
    }
}
