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
    #[serde(default)]
    oldest_reader: Value,
}

/// The version of a file that can be read: 1 to [`VERSION`], or greater where the file says that readers of [`VERSION`] read
/// all of it.
pub(crate) fn version(file: &Value) -> Result<u64, ReadError> {
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
            let enough = header.oldest_reader.as_u64().unwrap_or(found);
            if found <= u64::from(VERSION) || (1..=u64::from(VERSION)).contains(&enough) {
                Ok(found)
            } else {
                Err(newer(found))
            }
        }
    }
}

pub(crate) fn newer(found: u64) -> ReadError {
    ReadError::NewerVersion {
        found,
        known: VERSION,
    }
}
