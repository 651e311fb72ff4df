//! The head of a file: what it says it is, read before its shape is looked at.

use serde::Deserialize;
use serde_json::Value;

use crate::error::shown;
use crate::{FORMAT, ReadError, VERSION};

/// What every version has.
#[derive(Deserialize)]
struct Header {
    #[serde(default)]
    format: Value,
    #[serde(default)]
    version: Value,
}

/// The version of a file that can be read.
pub(crate) fn version(file: &Value) -> Result<u32, ReadError> {
    // A list would be taken for an object whose entries have no names.
    if !file.is_object() {
        return Err(ReadError::NotAPlan);
    }
    let header = Header::deserialize(file).map_err(|_| ReadError::NotAPlan)?;
    if header.format.as_str() != Some(FORMAT) {
        return Err(ReadError::NotAPlan);
    }
    match header.version.as_u64() {
        None | Some(0) => Err(ReadError::BadVersion {
            found: match header.version {
                Value::Null => "missing".to_owned(),
                other => shown(&other.to_string()),
            },
        }),
        Some(found) => {
            u32::try_from(found)
                .ok()
                .filter(|v| *v <= VERSION)
                .ok_or(ReadError::NewerVersion {
                    found,
                    known: VERSION,
                })
        }
    }
}
