//! Bounds that are looked at before a file's entries are: lists and texts no longer than any plan may have, so that the
//! plan's own check takes a time bounded by the file's length; and objects where objects belong.

use lodewright_kit::limits;
use serde_json::Value;

use crate::ReadError;
use crate::error::shown;

/// Lists that are left out of a file when they are empty; everything else that may be left out is no list.
const EMPTY_LEFT_OUT: [&str; 8] = [
    "bits_mm", "steps", "splits", "pins", "extras", "spaces", "upright", "marks",
];

/// Bytes of the longest character in UTF-8.
const WIDEST: usize = 4;

/// Refuses lists and texts that no plan may have. The plan's own check draws the lines more tightly, entry by entry.
pub(crate) fn check(file: &Value) -> Result<(), ReadError> {
    walk(file, &mut Vec::new())
}

fn walk<'a>(value: &'a Value, path: &mut Vec<Step<'a>>) -> Result<(), ReadError> {
    match value {
        Value::Array(list) => {
            let most = if matches!(last_name(path), Some("done" | "marks")) {
                limits::DONE
            } else {
                limits::PARTS
            };
            refuse_longer(list.len(), most, "entries", path)?;
            for (i, entry) in list.iter().enumerate() {
                path.push(Step::Index(i));
                walk(entry, path)?;
                path.pop();
            }
        }
        Value::Object(fields) => {
            for (name, entry) in fields {
                path.push(Step::Name(name));
                walk(entry, path)?;
                path.pop();
            }
        }
        Value::String(text) => {
            let most = match last_name(path) {
                Some("note") => limits::NOTE * WIDEST,
                // Plain letters and digits, or it is refused anyway.
                Some("picture") => limits::PICTURE,
                _ => limits::LABEL * WIDEST,
            };
            refuse_longer(text.len(), most, "bytes", path)?;
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
    Ok(())
}

/// Refuses a list where a named entry's fields belong: the fields would be told apart by their order alone. `written` is
/// what the plan that was read looks like when it is saved.
pub(crate) fn same_kinds(plan: &Value, written: &Value) -> Result<(), ReadError> {
    compare(plan, written, &mut vec![Step::Name("plan")])
}

fn compare<'a>(
    file: &'a Value,
    written: &'a Value,
    path: &mut Vec<Step<'a>>,
) -> Result<(), ReadError> {
    match (file, written) {
        (Value::Array(ours), Value::Array(theirs)) => {
            for (i, (a, b)) in ours.iter().zip(theirs).enumerate() {
                path.push(Step::Index(i));
                compare(a, b, path)?;
                path.pop();
            }
        }
        (Value::Object(ours), Value::Object(theirs)) => {
            for (name, a) in ours {
                path.push(Step::Name(name));
                match theirs.get(name) {
                    Some(b) => compare(a, b, path)?,
                    None if a.is_array() && !EMPTY_LEFT_OUT.contains(&name.as_str()) => {
                        return Err(mixed_up(path, a, "an object with named fields"));
                    }
                    None => {}
                }
                path.pop();
            }
        }
        (Value::Array(_) | Value::Object(_), _) => {
            return Err(mixed_up(path, file, kind(written)));
        }
        _ => {}
    }
    Ok(())
}

fn mixed_up(path: &[Step<'_>], found: &Value, belongs: &str) -> ReadError {
    ReadError::Shape {
        path: spelled(path),
        message: format!("{} stands where {belongs} belongs", kind(found)),
    }
}

fn kind(value: &Value) -> &'static str {
    match value {
        Value::Array(_) => "a list",
        Value::Object(_) => "an object with named fields",
        Value::String(_) => "a word",
        _ => "a single value",
    }
}

/// One step of the way to a value.
pub(crate) enum Step<'a> {
    Name(&'a str),
    Index(usize),
}

fn last_name<'a>(path: &[Step<'a>]) -> Option<&'a str> {
    match path.last() {
        Some(Step::Name(name)) => Some(name),
        _ => None,
    }
}

pub(crate) fn spelled(path: &[Step<'_>]) -> String {
    let mut out = String::new();
    for step in path {
        match step {
            Step::Name(name) if out.is_empty() => out.push_str(name),
            Step::Name(name) => out.push_str(&format!(".{name}")),
            Step::Index(i) => out.push_str(&format!("[{i}]")),
        }
    }
    shown(&out)
}

fn refuse_longer(
    found: usize,
    most: usize,
    what: &str,
    path: &[Step<'_>],
) -> Result<(), ReadError> {
    if found <= most {
        return Ok(());
    }
    Err(ReadError::Shape {
        path: spelled(path),
        message: format!("{found} {what} stand there, and no plan has more than {most}"),
    })
}
