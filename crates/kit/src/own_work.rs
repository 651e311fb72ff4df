//! What the builder adds to the work order: steps of their own, steps split, and what they want done after what.

use serde::{Deserialize, Serialize};

/// The builder's own hand in the order of work. Steps are named by their keys, as progress names them.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct OwnWork {
    /// Steps of the builder's own.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<OwnStep>,
    /// Steps done in several goes.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub splits: Vec<Split>,
    /// What comes after what, beyond what the work itself asks for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pins: Vec<Pin>,
}

impl OwnWork {
    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        self.steps.is_empty() && self.splits.is_empty() && self.pins.is_empty()
    }
}

/// A step that the builder wrote.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct OwnStep {
    /// Its key: `own:` and a word.
    pub key: String,
    /// What to do.
    pub name: String,
    /// Hands-on time, min.
    pub hands_min: f64,
    /// Wait after it, min.
    #[serde(default)]
    pub wait_min: f64,
}

/// A step done in several goes, one after another: a coat of primer, then two of colour.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Split {
    /// The step's key.
    pub step: String,
    /// The goes, in their order.
    pub goes: Vec<Go>,
}

/// One go.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Go {
    /// What to do.
    pub name: String,
    /// Hands-on time, min.
    pub hands_min: f64,
    /// Wait after it, min.
    #[serde(default)]
    pub wait_min: f64,
}

/// One step comes after another.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Pin {
    /// Key of the later step.
    pub step: String,
    /// Key of the earlier step.
    pub after: String,
}
