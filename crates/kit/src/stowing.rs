//! Room for loose parts: hollows in the model, trays, boxes.

use serde::{Deserialize, Serialize};

use crate::{PartId, Vec3};

/// Where loose parts may lie, and how.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Stowing {
    /// The spaces, those to be filled first in front.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub spaces: Vec<StowSpace>,
    /// Room kept free round each part, for padding and fingers, mm.
    pub padding_mm: f64,
    /// Parts that must not be laid on their side.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub upright: Vec<PartId>,
}

/// One hollow, tray or box.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct StowSpace {
    /// Its label.
    pub name: String,
    /// Inside, along x, y, z (up), mm.
    pub inside_mm: Vec3,
    /// How many there are.
    pub count: u32,
}

impl Default for Stowing {
    /// No space yet; 1 mm of padding: common practice, no source.
    fn default() -> Self {
        Self {
            spaces: Vec::new(),
            padding_mm: 1.0,
            upright: Vec::new(),
        }
    }
}

impl Stowing {
    /// Whether nothing was changed.
    pub fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}
