//! Older files made new: one rung a version, each lifting a file by one.

use serde_json::{Value, json};

/// Turns a file of one version into one of the next. What it needs is there or is put there; an entry that is not of its
/// kind is left, and refused with its place once the file is read.
type Rung = fn(&mut Value);

/// The rung at place `i` lifts version `i + 1`.
const LADDER: [Rung; 1] = [bodies];

/// The file as of today's version.
pub(crate) fn lifted(file: Value, version: u64) -> Value {
    climb(file, version, &LADDER)
}

/// In version 1 a part's mass said what shape it has and how thick its wall is: its body says that now. A socket without a place
/// stood in the middle of its face: nobody had placed it.
fn bodies(file: &mut Value) {
    let parts = file.get_mut("plan").and_then(|p| p.get_mut("parts"));
    for part in parts.and_then(Value::as_array_mut).into_iter().flatten() {
        let shaped = part.get("mass").and_then(|m| m.get("shaped")).cloned();
        let Some(part) = part.as_object_mut() else {
            continue;
        };
        let Some(shaped) = shaped else {
            if part.get("mass").is_some_and(|m| m == "guessed") {
                part.insert("mass".to_owned(), json!("body"));
            }
            continue;
        };
        let is_barrel = shaped.get("shape").is_some_and(|s| s == "barrel");
        let drawn_as_barrel = part.get("drawn").map(|d| d == "barrel");
        if is_barrel && drawn_as_barrel != Some(true) {
            part.insert("drawn".to_owned(), json!("barrel"));
        }
        // What was drawn by hand got a wall of 1.2 mm that nobody had said.
        match shaped.get("wall_mm").and_then(Value::as_f64) {
            Some(1.2) => {}
            Some(wall_mm) => {
                part.insert("inside".to_owned(), json!({"shell": {"wall_mm": wall_mm}}));
            }
            None => {
                part.insert("inside".to_owned(), json!("solid"));
            }
        }
        part.insert("mass".to_owned(), json!("body"));
    }
}

fn climb(mut file: Value, version: u64, ladder: &[Rung]) -> Value {
    let from = usize::try_from(version).unwrap_or(usize::MAX);
    for (i, rung) in ladder.iter().enumerate().skip(from.saturating_sub(1)) {
        rung(&mut file);
        if let Some(fields) = file.as_object_mut() {
            fields.insert("version".to_owned(), Value::from(i + 2));
        }
    }
    file
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::VERSION;
    use crate::file::envelope;
    use serde_json::json;

    #[test]
    fn there_is_a_rung_for_every_older_version() {
        assert_eq!(LADDER.len(), usize::try_from(VERSION).unwrap() - 1);
    }

    /// Made up: a plan whose title was called `name`, then `heading`, before it got its name of today.
    const MADE_UP: [Rung; 2] = [
        |file| rename(file, "name", "heading"),
        |file| rename(file, "heading", "title"),
    ];

    fn rename(file: &mut Value, old: &str, new: &str) {
        if let Some(plan) = file.get_mut("plan").and_then(Value::as_object_mut)
            && let Some(value) = plan.remove(old)
        {
            plan.insert(new.to_owned(), value);
        }
    }

    fn made_up(version: u64, title: &str) -> Value {
        json!({"format": "lodewright-plan", "version": version, "plan": {
            title: "Old", "kit": {}, "base": "b", "sockets": [], "variants": [],
            "parts": [{"id": "b", "name": "Base", "material": "styrene", "size_mm": [1.0, 2.0, 3.0]}],
        }})
    }

    #[test]
    fn a_file_climbs_from_its_own_version() {
        for (version, title) in [(1, "name"), (2, "heading"), (3, "title")] {
            let lifted = climb(made_up(version, title), version, &MADE_UP);
            assert_eq!(lifted["version"], 3);
            assert_eq!(envelope::parse_lifted(&lifted).unwrap().title, "Old");
        }
        // What a rung does not find is refused in the words for today's files.
        let lifted = climb(made_up(2, "name"), 2, &MADE_UP);
        let message = envelope::parse_lifted(&lifted).unwrap_err().to_string();
        assert!(message.contains("`name` is not known"), "{message}");
    }
}
