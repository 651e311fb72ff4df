//! How a joint gives way, as a fact.

use lodewright_assembly::{Board, JointIx};
use lodewright_kit::Facing;
use lodewright_solve::hold::Mode;
use serde::Serialize;

/// How a joint gives way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum GivesWay {
    /// Opens about the edge of the contact that lies towards this side of the host.
    Tip(Facing),
    /// Slides.
    Slide,
    /// Turns in its plane.
    Turn,
    /// Slides and turns.
    SlideTurn,
    /// Is pulled straight off.
    Pull,
    /// Droops on its peg, then is pulled straight off.
    DroopThenPull,
    /// The faces do not touch.
    NoContact,
    /// Nothing pulls.
    NoPull,
}

impl GivesWay {
    /// The same from the statics' mode.
    pub(crate) fn of(board: &Board, joint: JointIx, mode: &Mode) -> Self {
        match mode {
            Mode::Tip { from_mm, to_mm, .. } => {
                let (x, y) = (to_mm[0] - from_mm[0], to_mm[1] - from_mm[1]);
                let socket = board.joints[joint].socket;
                let host = board.part(board.host(socket));
                // The hull runs counter-clockwise, so outwards is to the right of the edge.
                Self::Tip(board.socket(socket).side_of_host(host, [y, -x]))
            }
            Mode::Slide => Self::Slide,
            Mode::Turn => Self::Turn,
            Mode::SlideTurn => Self::SlideTurn,
            Mode::StraightPull => Self::Pull,
            Mode::DroopedPull => Self::DroopThenPull,
            Mode::NoPatch => Self::NoContact,
            Mode::NoPull => Self::NoPull,
        }
    }
}
