//! Version 1: the plan of today in an envelope.

use lodewright_kit::Plan;
use serde::{Deserialize, Serialize};

use crate::ReadError;
use crate::error::shown;

/// A plan file.
#[derive(Debug, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(crate) struct Envelope<P> {
    /// The word by which the file is known as a plan.
    pub format: String,
    /// The version of its shape.
    pub version: u32,
    /// The plan.
    pub plan: P,
}

pub(crate) fn parse(text: &str) -> Result<Plan, ReadError> {
    let mut json = serde_json::Deserializer::from_str(text);
    let envelope: Envelope<Plan> =
        serde_path_to_error::deserialize(&mut json).map_err(|e| ReadError::Shape {
            path: shown(&e.path().to_string()),
            said: shown(&e.inner().to_string()),
        })?;
    Ok(envelope.plan)
}
