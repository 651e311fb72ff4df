//! The model turned to each attitude and shaken.

use lodewright_geometry::{Vec3, scale};
use lodewright_kit::Plan;
use lodewright_solve::hold::{self, DroopedPulls};
use serde::Serialize;

use super::JointModel;
use crate::pull::End;

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

    /// In words.
    pub fn said(self) -> &'static str {
        match self {
            Self::Upright => "upright",
            Self::UpsideDown => "upside down",
            Self::OnLeft => "on its left side",
            Self::OnRight => "on its right side",
            Self::NoseDown => "nose down",
            Self::NoseUp => "nose up",
        }
    }

    /// Gravity in the mating frame, from the base's front, left and up there.
    fn down(self, [front, left, up]: [Vec3; 3]) -> Vec3 {
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
    /// Index of the variant that bears least.
    pub variant: Option<usize>,
    /// Whether that reaches what the plan asks.
    pub reaches: bool,
}

/// All attitudes, each with its worst load, everything at its weak end. Loads of a model that hangs by the joint are left
/// out: who lifts it chooses the attitude. Empty where nothing loads the joint.
pub fn attitudes(plan: &Plan, model: &JointModel) -> Vec<AttitudeCase> {
    let weak = model.pulls(plan, End::Weak, 0.0);
    let drooped = |i: usize, extra_mm: f64| match model.pairs.get(i) {
        Some(pair) => pair.pull_n(plan, End::Weak, extra_mm).unwrap_or(0.0),
        None => weak.get(i).map_or(0.0, |p| p.force_n),
    };
    let worst = |attitude: Attitude| {
        let carried = model.loads.iter().filter(|load| !load.lifted);
        let cases = carried.filter_map(|load| {
            let joint = model.statics(plan, load, &weak, DroopedPulls::AtExtraGap(&drooped));
            let shaken = hold::shaken(&joint, attitude.down(load.base_axes)).ok()?;
            Some((shaken.shake_g, load.variants.first().copied()))
        });
        let (shake_g, variant) = cases.reduce(|a, b| if b.0 < a.0 { b } else { a })?;
        Some(AttitudeCase {
            attitude,
            shake_g,
            variant,
            reaches: shake_g >= plan.settings.shake_g,
        })
    };
    Attitude::ALL.into_iter().filter_map(worst).collect()
}
