//! From a plan to text.

use lodewright_kit::{Plan, Severity};

use super::envelope::Envelope;
use crate::{FORMAT, MAX_BYTES, VERSION, WriteError};

/// Writes a plan as the text of a file: fields in the order of the types, entries in the order of the plan, one a line,
/// a line end at the end.
///
/// # Errors
/// A [`WriteError`] where the file could not be read again.
///
/// # Examples
/// ```
/// use lodewright_kit::Plan;
/// use lodewright_planfile::{read, write};
///
/// let plan = Plan::empty("Works railcar");
/// let text = write(&plan).unwrap();
/// assert_eq!(read(text.as_bytes()).unwrap().plan, plan);
/// ```
pub fn write(plan: &Plan) -> Result<String, WriteError> {
    let mut text = serde_json::to_string_pretty(&envelope(plan)?).map_err(|e| not_json(&e))?;
    text.push('\n');
    not_too_large(text)
}

/// The same without blanks, for what is compressed.
pub(crate) fn write_dense(plan: &Plan) -> Result<String, WriteError> {
    not_too_large(serde_json::to_string(&envelope(plan)?).map_err(|e| not_json(&e))?)
}

fn envelope(plan: &Plan) -> Result<Envelope<&Plan>, WriteError> {
    let refused: Vec<_> = plan
        .problems()
        .into_iter()
        .filter(|p| p.severity == Severity::Refused)
        .collect();
    if !refused.is_empty() {
        return Err(WriteError::Refused(refused));
    }
    Ok(Envelope {
        format: FORMAT.to_owned(),
        version: VERSION,
        oldest_reader: None,
        plan,
    })
}

fn not_json(e: &serde_json::Error) -> WriteError {
    WriteError::NotJson {
        message: e.to_string(),
    }
}

fn not_too_large(text: String) -> Result<String, WriteError> {
    if text.len() > MAX_BYTES {
        return Err(WriteError::TooLarge { bytes: text.len() });
    }
    Ok(text)
}
