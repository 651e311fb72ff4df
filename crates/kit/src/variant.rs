//! Variants: what sits in each socket.

use serde::{Deserialize, Serialize};

use crate::{Part, PartId, Plug, PlugId, SocketId, VariantId};

/// One named finished model.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Variant {
    /// Its id.
    pub id: VariantId,
    /// Its label.
    pub name: String,
    /// What sits where; a socket that is not named here stays empty.
    #[serde(default)]
    pub cells: Vec<Cell>,
}

impl Variant {
    /// The cell of a socket, where there is one.
    pub fn cell(&self, socket: &SocketId) -> Option<&Cell> {
        self.cells.iter().find(|c| c.socket == *socket)
    }
}

/// What one variant allows in one socket.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Cell {
    /// The socket.
    pub socket: SocketId,
    /// The seats to choose from; one is a fixed choice, several a free option.
    pub seats: Vec<Seat>,
    /// Whether the socket may also stay empty.
    #[serde(default, skip_serializing_if = "is_false")]
    pub may_be_empty: bool,
}

impl Cell {
    /// Whether the owner has a choice here.
    pub fn is_free(&self) -> bool {
        self.seats.len() + usize::from(self.may_be_empty) > 1
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands a reference")]
pub(crate) fn is_false(b: &bool) -> bool {
    !b
}

/// A part sitting by one of its plugs, in a pose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Seat {
    /// The part.
    pub part: PartId,
    /// The plug; the part's first where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plug: Option<PlugId>,
    /// How it sits.
    #[serde(default, skip_serializing_if = "Pose::is_straight")]
    pub pose: Pose,
}

impl Seat {
    /// The part by its first plug, unturned.
    pub fn straight(part: PartId) -> Self {
        Self {
            part,
            plug: None,
            pose: Pose::default(),
        }
    }

    /// The plug: the one named, or the part's first.
    pub fn plug_in<'a>(&self, part: &'a Part) -> Option<&'a Plug> {
        match &self.plug {
            Some(id) => part.plug(id),
            None => part.plugs.first(),
        }
    }
}

/// How a plug sits in a socket.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Pose {
    /// Turned about the mating plane's normal, degrees, from the first in-plane axis towards the second.
    #[serde(default)]
    pub turn_deg: f64,
    /// Turned over: the plug's far face mates.
    #[serde(default, skip_serializing_if = "is_false")]
    pub over: bool,
}

impl Pose {
    /// Neither turned nor turned over.
    pub fn is_straight(&self) -> bool {
        self.turn_deg == 0.0 && !self.over
    }

    /// Where a point of the plug comes to lie in the socket's in-plane axes, mm.
    pub fn place(&self, at_mm: [f64; 2]) -> [f64; 2] {
        let frame = crate::Frame::WORLD.turned(self.turn_deg);
        let [x, y, _] =
            frame.to_outer([at_mm[0], if self.over { -at_mm[1] } else { at_mm[1] }, 0.0]);
        [x, y]
    }
}
