//! Which way a face looks: the six faces of a part's box.

use serde::{Deserialize, Serialize};

use lodewright_geometry::{Frame, Vec3, cross, dot};

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
    fn first_axis(self) -> Vec3 {
        match self {
            Self::Up | Self::Down => [1.0, 0.0, 0.0],
            // x = y × z with y = up.
            Self::Front => [0.0, 1.0, 0.0],
            Self::Back => [0.0, -1.0, 0.0],
            Self::Left => [-1.0, 0.0, 0.0],
            Self::Right => [1.0, 0.0, 0.0],
        }
    }

    /// A frame on a face: z out of it, its in-plane axes as the sides lie, then spun about z.
    pub fn frame(self, origin_mm: Vec3, spin_deg: f64) -> Frame {
        let (x, z) = (self.first_axis(), self.normal());
        let axes = [x, cross(z, x), z];
        Frame { origin_mm, axes }.turned(spin_deg)
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

    /// The side that a direction points to; of equal ones the first of [`Facing::ALL`].
    pub fn nearest(direction: Vec3) -> Self {
        let along = |f: Self| dot(direction, f.normal());
        Self::ALL.into_iter().fold(
            Self::Up,
            |best, f| if along(f) > along(best) { f } else { best },
        )
    }

    /// The word for people.
    pub fn word(self) -> &'static str {
        self.words()[0]
    }

    /// The word for people, where a direction is meant and not a face.
    pub fn way(self) -> &'static str {
        self.words()[1]
    }

    fn words(self) -> [&'static str; 2] {
        match self {
            Self::Up => ["top", "top"],
            Self::Down => ["underside", "bottom"],
            Self::Front => ["front", "front"],
            Self::Back => ["back", "back"],
            Self::Left => ["left side", "left"],
            Self::Right => ["right side", "right"],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_normal_is_nearest_to_its_own_face() {
        for f in Facing::ALL {
            assert_eq!(Facing::nearest(f.normal()), f);
            assert_eq!(f.opposite().opposite(), f);
        }
    }

    #[test]
    fn face_frames_are_right_handed() {
        for f in Facing::ALL {
            let axes = f.frame([0.0; 3], 0.0).axes;
            assert_eq!(cross(axes[0], axes[1]), axes[2], "{f:?}");
        }
    }

    #[test]
    fn upright_faces_carry_their_second_axis_up() {
        for f in [Facing::Front, Facing::Back, Facing::Left, Facing::Right] {
            assert_eq!(f.frame([0.0; 3], 0.0).axes[1], [0.0, 0.0, 1.0], "{f:?}");
        }
    }
}
