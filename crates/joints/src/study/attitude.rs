//! The model turned to each attitude and shaken.

use lodewright_geometry::scale;
use lodewright_kit::{VariantIx, Vec3};
use serde::Serialize;

use crate::pull::End;
use crate::statics::JointModel;

/// Which side of the base points down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Attitude {
    /// As drawn.
    Upright,
    /// On its head.
    UpsideDown,
    /// On its left side.
    OnLeft,
    /// On its right side.
    OnRight,
    /// Standing on its front.
    NoseDown,
    /// Standing on its back.
    NoseUp,
}

impl Attitude {
    /// All six.
    pub const ALL: [Self; 6] = [
        Self::Upright,
        Self::UpsideDown,
        Self::OnLeft,
        Self::OnRight,
        Self::NoseDown,
        Self::NoseUp,
    ];

    /// Gravity in the mating frame, from the base's front, left and up there.
    pub(crate) fn down(self, [front, left, up]: [Vec3; 3]) -> Vec3 {
        match self {
            Self::Upright => scale(up, -1.0),
            Self::UpsideDown => up,
            Self::OnLeft => left,
            Self::OnRight => scale(left, -1.0),
            Self::NoseDown => front,
            Self::NoseUp => scale(front, -1.0),
        }
    }
}

/// One attitude with what the joint bears in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AttitudeCase {
    /// The attitude.
    pub attitude: Attitude,
    /// Shaking in any direction that it bears on top of gravity, g; negative where it does not bear its weight at rest.
    pub shake_g: f64,
    /// The variant that bears least.
    pub variant: Option<VariantIx>,
    /// Whether that reaches what the plan asks.
    pub reaches: bool,
}

impl JointModel {
    /// All attitudes, each with its worst load, everything at its weak end. Loads of a model that hangs by the joint are left
    /// out: who lifts it chooses the attitude. Empty where nothing loads the joint.
    pub fn attitudes(&self) -> Vec<AttitudeCase> {
        let weak = self.pulls(End::Weak);
        let worst = |attitude| {
            let (shake_g, load) = self.least_shake_g(attitude, &weak)?;
            Some(AttitudeCase {
                attitude,
                shake_g,
                variant: load.variants.first().copied(),
                reaches: self.withstands(shake_g),
            })
        };
        Attitude::ALL.into_iter().filter_map(worst).collect()
    }
}
