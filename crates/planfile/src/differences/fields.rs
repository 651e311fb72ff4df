//! Differences between two entries in words, field by field, whatever the entry.

use serde::Serialize;
use serde_json::Value;

use super::words::from_to;

/// Fields named in one line; the rest is counted.
const NAMED: usize = 4;

/// Which fields differ and how: `size, mm: 80 × 40 × 30 → 82 × 40 × 30`.
pub(super) fn fields<T: Serialize>(ours: &T, theirs: &T) -> String {
    let value = |entry: &T| serde_json::to_value(entry).unwrap_or(Value::Null);
    let mut found = Vec::new();
    walk(&value(ours), &value(theirs), "", &mut found);
    let more = found.len().saturating_sub(NAMED);
    found.truncate(NAMED);
    let mut message = found.join("; ");
    if more > 0 {
        message.push_str(&format!("; and {more} more"));
    }
    if message.is_empty() {
        // Signs of zero and the like.
        message.push_str("differs in what is not shown");
    }
    message
}

fn walk(ours: &Value, theirs: &Value, name: &str, found: &mut Vec<String>) {
    if ours == theirs {
        return;
    }
    if let (Value::Object(a), Value::Object(b)) = (ours, theirs) {
        for (key, value) in a {
            let field = joined(name, key);
            walk(value, b.get(key).unwrap_or(&Value::Null), &field, found);
        }
        for (key, value) in b.iter().filter(|(key, _)| !a.contains_key(*key)) {
            walk(&Value::Null, value, &joined(name, key), found);
        }
        return;
    }
    found.push(match (ours, theirs) {
        (Value::Array(a), Value::Array(b)) if !numbers(a) || !numbers(b) => lists(a, b, name),
        _ => format!("{}{}", colon(name), from_to(&plain(ours), &plain(theirs))),
    });
}

fn lists(a: &[Value], b: &[Value], name: &str) -> String {
    let changed = a.iter().zip(b).filter(|(x, y)| x != y).count();
    if a.len() == b.len() {
        return format!("{}{changed} of {} entries differ", colon(name), a.len());
    }
    format!("{}{} entries → {}", colon(name), a.len(), b.len())
}

fn colon(name: &str) -> String {
    match name {
        "" => String::new(),
        name => format!("{name}: "),
    }
}

/// `size_mm` within `plug` is `plug, size, mm`.
fn joined(outer: &str, key: &str) -> String {
    const UNITS: [&str; 9] = ["mm", "g", "deg", "n", "mpa", "cents", "min", "c", "percent"];
    let word = match key.rsplit_once('_') {
        Some((head, unit)) if UNITS.contains(&unit) => {
            format!("{}, {unit}", head.replace('_', " "))
        }
        _ => key.replace('_', " "),
    };
    if outer.is_empty() {
        word
    } else {
        format!("{outer}, {word}")
    }
}

fn numbers(list: &[Value]) -> bool {
    list.len() <= 3 && list.iter().all(Value::is_number)
}

fn plain(value: &Value) -> String {
    match value {
        Value::Null => "not said".to_owned(),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::Number(n) => n.as_f64().map_or_else(|| n.to_string(), |x| x.to_string()),
        Value::String(text) => text.clone(),
        Value::Array(list) if numbers(list) => {
            list.iter().map(plain).collect::<Vec<_>>().join(" × ")
        }
        Value::Array(list) => format!("{} entries", list.len()),
        Value::Object(fields) => {
            let told = fields.iter().map(|(key, value)| match value {
                Value::Object(_) | Value::Array(_) => joined("", key),
                value => format!("{} {}", joined("", key), plain(value)),
            });
            told.collect::<Vec<_>>().join(", ")
        }
    }
}
