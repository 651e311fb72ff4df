//! The newest version: the plan of today in an envelope.

use lodewright_kit::Plan;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::json_path::path_at;
use crate::ReadError;
use crate::error::{in_words, shown};

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
    let envelope: Envelope<Plan> = serde_json::from_str(text).map_err(|e| {
        let message = e.to_string();
        ReadError::Shape {
            path: path_at(text, e.line(), e.column(), &message),
            message: shown(&in_words(&message, e.line(), e.column())),
        }
    })?;
    Ok(envelope.plan)
}

/// The same from a file that was lifted from an older version. By way of text: reading from values would take each type's
/// reader a second time.
pub(crate) fn parse_lifted(file: &Value) -> Result<Plan, ReadError> {
    parse(&file.to_string())
}
