//! From a plan to text.

use lodewright_kit::{Plan, Severity};

use crate::v1::Envelope;
use crate::{FORMAT, MAX_BYTES, VERSION, WriteError};

/// Writes a plan as the text of a file: fields in the order of the types, entries in the order of the plan, one a line,
/// a line end at the end.
///
/// # Errors
/// A [`WriteError`] where the file could not be read again.
pub fn write(plan: &Plan) -> Result<String, WriteError> {
    let refused: Vec<_> = plan
        .problems()
        .into_iter()
        .filter(|p| p.severity == Severity::Refused)
        .collect();
    if !refused.is_empty() {
        return Err(WriteError::Refused(refused));
    }
    let envelope = Envelope {
        format: FORMAT.to_owned(),
        version: VERSION,
        plan,
    };
    let mut text = serde_json::to_string_pretty(&envelope).map_err(|e| WriteError::NotJson {
        said: e.to_string(),
    })?;
    text.push('\n');
    if text.len() > MAX_BYTES {
        return Err(WriteError::TooLarge { bytes: text.len() });
    }
    Ok(text)
}
