//! Which way a face looks: the six faces of a part's box.

use serde::{Deserialize, Serialize};

use crate::Vec3;

/// The side of a part's box that a face lies on. x runs to the front, y to the left, z up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Facing {
    /// Towards +z.
    Up,
    /// Towards -z.
    Down,
    /// Towards +x.
    Front,
    /// Towards -x.
    Back,
    /// Towards +y.
    Left,
    /// Towards -y.
    Right,
}

impl Facing {
    /// All six, in the order in which they are offered.
    pub const ALL: [Self; 6] = [
        Self::Up,
        Self::Down,
        Self::Front,
        Self::Back,
        Self::Left,
        Self::Right,
    ];

    /// The unit vector out of the face.
    pub fn normal(self) -> Vec3 {
        match self {
            Self::Up => [0.0, 0.0, 1.0],
            Self::Down => [0.0, 0.0, -1.0],
            Self::Front => [1.0, 0.0, 0.0],
            Self::Back => [-1.0, 0.0, 0.0],
            Self::Left => [0.0, 1.0, 0.0],
            Self::Right => [0.0, -1.0, 0.0],
        }
    }

    /// The face on the other side.
    pub fn opposite(self) -> Self {
        match self {
            Self::Up => Self::Down,
            Self::Down => Self::Up,
            Self::Front => Self::Back,
            Self::Back => Self::Front,
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// The first in-plane axis of a face whose z axis is `self`: upright faces carry their second axis upwards, level
    /// faces their first axis to the front.
    pub(crate) fn first_axis(self) -> Vec3 {
        match self {
            Self::Up | Self::Down => [1.0, 0.0, 0.0],
            // x = y × z with y = up.
            Self::Front => [0.0, 1.0, 0.0],
            Self::Back => [0.0, -1.0, 0.0],
            Self::Left => [-1.0, 0.0, 0.0],
            Self::Right => [1.0, 0.0, 0.0],
        }
    }

    /// Half the size of a box of `size_mm` in this direction, mm.
    pub fn half_extent_mm(self, size_mm: Vec3) -> f64 {
        let [x, y, z] = size_mm;
        0.5 * match self {
            Self::Up | Self::Down => z,
            Self::Front | Self::Back => x,
            Self::Left | Self::Right => y,
        }
    }

    /// The word for people.
    pub fn word(self) -> &'static str {
        match self {
            Self::Up => "top",
            Self::Down => "underside",
            Self::Front => "front",
            Self::Back => "back",
            Self::Left => "left side",
            Self::Right => "right side",
        }
    }
}
