//! From bytes to a plan.

use lodewright_kit::{CheckedPlan, Plan, Problem};
use serde_json::Value;

use super::{bounds, envelope, header, json_path, migrate};
use crate::error::shown;
use crate::{MAX_BYTES, ReadError, VERSION};

/// A plan from a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Loaded {
    /// The plan.
    pub plan: Plan,
    /// What is wrong in it without making it useless: problems of severity `Wrong`.
    pub notes: Vec<Problem>,
}

/// Reads a plan file. A byte order mark at its beginning is passed over.
///
/// # Errors
/// A [`ReadError`] that says what was given, what it must be and what to do.
///
/// # Examples
/// ```
/// use lodewright_planfile::{read, ReadError};
///
/// let error = read(b"{\"format\": \"lodewright-plan\",").unwrap_err();
/// assert!(matches!(error, ReadError::NotJson { line: 1, .. }));
/// ```
pub fn read(bytes: &[u8]) -> Result<Loaded, ReadError> {
    if bytes.len() > MAX_BYTES {
        return Err(ReadError::TooLarge { bytes: bytes.len() });
    }
    read_text(text_of(bytes)?)
}

pub(crate) fn read_text(text: &str) -> Result<Loaded, ReadError> {
    let file: Value = serde_json::from_str(text).map_err(|e| not_json(text, &e))?;
    let version = header::version(&file)?;
    bounds::check(&file)?;
    if version < u64::from(VERSION) {
        let lifted = migrate::lifted(file, version);
        let plan = envelope::parse_lifted(&lifted)?;
        return same_kinds(&lifted, plan);
    }
    match envelope::parse(text) {
        Ok(plan) => same_kinds(&file, plan),
        // A newer file that holds what this reader does not know: something would be lost.
        Err(_) if version > u64::from(VERSION) => Err(header::newer(version)),
        Err(error) => Err(error),
    }
}

fn same_kinds(file: &Value, plan: Plan) -> Result<Loaded, ReadError> {
    if let (Some(given), Ok(written)) = (file.get("plan"), serde_json::to_value(&plan)) {
        bounds::same_kinds(given, &written)?;
    }
    checked(plan)
}

pub(crate) fn text_of(bytes: &[u8]) -> Result<&str, ReadError> {
    let text = std::str::from_utf8(bytes).map_err(|e| ReadError::NotText {
        byte: e.valid_up_to(),
    })?;
    Ok(text.strip_prefix('\u{feff}').unwrap_or(text))
}

/// Lists in lists, levels, that serde_json reads; it says by words alone that there are more.
const DEEPEST: usize = 127;

fn not_json(text: &str, e: &serde_json::Error) -> ReadError {
    if json_path::depth_at(text, e.line(), e.column()) > DEEPEST {
        return ReadError::TooDeep { line: e.line() };
    }
    let message = e.to_string();
    let place = format!(" at line {} column {}", e.line(), e.column());
    ReadError::NotJson {
        line: e.line(),
        column: e.column(),
        message: shown(message.strip_suffix(&place).unwrap_or(&message)),
    }
}

fn checked(plan: Plan) -> Result<Loaded, ReadError> {
    let plan = CheckedPlan::of(plan).map_err(ReadError::Refused)?;
    Ok(Loaded {
        notes: plan.problems().to_vec(),
        plan: plan.into_plan(),
    })
}
