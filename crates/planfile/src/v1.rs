//! Version 1: the plan of today in an envelope.

use lodewright_kit::Plan;
use serde::{Deserialize, Deserializer, Serialize};
use serde_json::Value;

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
    /// The oldest version whose readers lose nothing of this file; written by a newer program that used nothing new.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oldest_reader: Option<u32>,
    /// The plan.
    pub plan: P,
}

pub(crate) fn parse(text: &str) -> Result<Plan, ReadError> {
    from(&mut serde_json::Deserializer::from_str(text))
}

/// The same from a file that was lifted from an older version.
pub(crate) fn parse_lifted(file: Value) -> Result<Plan, ReadError> {
    from(file)
}

fn from<'de, D: Deserializer<'de>>(json: D) -> Result<Plan, ReadError> {
    let envelope: Envelope<Plan> =
        serde_path_to_error::deserialize(json).map_err(|e| ReadError::Shape {
            path: shown(&e.path().to_string()),
            said: shown(&e.inner().to_string()),
        })?;
    Ok(envelope.plan)
}
