//! How a part is drawn: a simple shape that fills its box.

use serde::{Deserialize, Serialize};

use crate::Facing;

/// A simple shape that fills a part's box.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum Drawn {
    /// The box itself.
    #[default]
    Box,
    /// A thin box.
    Plate,
    /// A barrel along the longest side.
    Barrel,
    /// A flat frame: four bars around the largest face of the box.
    Frame,
    /// A standing figure.
    Figure,
    /// An outline drawn by hand, as thick as the box; it is stretched to fill the box.
    Outline {
        /// The side from which it was drawn.
        seen_from: Facing,
        /// Its corners in the axes of that side, mm.
        points_mm: Vec<[f64; 2]>,
    },
}

impl Drawn {
    #[doc(hidden)]
    pub fn is_box(&self) -> bool {
        *self == Self::Box
    }

    /// The word for people.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Box => "Box",
            Self::Plate => "Plate",
            Self::Barrel => "Barrel",
            Self::Frame => "Frame",
            Self::Figure => "Figure",
            Self::Outline { .. } => "Outline",
        }
    }
}
