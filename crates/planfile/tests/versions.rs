//! A file of every version that was ever written is read, for good: `tests/versions` keeps them, and none of them is changed.
#![allow(clippy::unwrap_used, reason = "tests may stop at a fault")]
#![allow(clippy::disallowed_methods, reason = "tests read files")]

use std::collections::BTreeSet;
use std::path::Path;

use lodewright_planfile::{VERSION, read, write};
use serde_json::{Map, Value, json};

#[test]
fn files_of_every_version_are_read_and_written_as_today() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/versions");
    for version in 1..=VERSION {
        let bytes = std::fs::read(folder.join(format!("v{version}.lodewright.json"))).unwrap();
        let head = format!("\"version\": {version},");
        assert!(std::str::from_utf8(&bytes).unwrap().contains(&head));
        let plan = read(&bytes).unwrap().plan;
        assert_eq!(
            (plan.parts.len(), plan.sockets.len(), plan.variants.len()),
            (19, 14, 5)
        );
        let text = write(&plan).unwrap();
        assert_eq!(read(text.as_bytes()).unwrap().plan, plan);
        // Of the newest, the text too is the same, so that files can be compared.
        if version == VERSION {
            assert_eq!(text.as_bytes(), bytes);
        }
    }
}

/// A file of the newest version with every field and every kind of entry: what it looks like is settled for good. A new field
/// joins a file of its own version, or of this one where an older program that leaves it out loses nothing.
const EVERY_ENTRY: &str = include_str!("versions/v2-every-entry.lodewright.json");

#[test]
fn every_entry_is_read_and_written_byte_for_byte() {
    let loaded = read(EVERY_ENTRY.as_bytes()).unwrap();
    assert_eq!(loaded.notes, []);
    assert_eq!(write(&loaded.plan).unwrap(), EVERY_ENTRY);
}

/// What became of every entry of version 1, by its way in the file.
fn since_version_1() -> Vec<(&'static str, Value)> {
    vec![
        ("/version", json!(2)),
        // A barrel with a wall, a frame taken as a solid box, and three guesses.
        ("/plan/parts/2/mass", json!("body")),
        ("/plan/parts/2/inside", json!({"shell": {"wall_mm": 0.8}})),
        ("/plan/parts/3/mass", json!("body")),
        ("/plan/parts/3/inside", json!("solid")),
        ("/plan/parts/4/mass", json!("body")),
        ("/plan/parts/5/mass", json!("body")),
        ("/plan/parts/6/mass", json!("body")),
    ]
}

#[test]
fn every_entry_of_version_1_is_read_and_written_as_today() {
    let text = include_str!("versions/v1-every-entry.lodewright.json");
    let mut expected: Value = serde_json::from_str(text).unwrap();
    for (way, entry) in since_version_1() {
        let (outer, name) = way.rsplit_once('/').unwrap();
        expected.pointer_mut(outer).unwrap()[name] = entry;
    }
    // Nobody said how thick a peg is.
    for socket in expected["plan"]["sockets"].as_array_mut().unwrap() {
        socket["peg"]["diameter_mm"] = json!(2.0);
    }
    let loaded = read(text.as_bytes()).unwrap();
    assert_eq!(loaded.notes, []);
    let written: Value = serde_json::from_str(&write(&loaded.plan).unwrap()).unwrap();
    assert_eq!(written, expected);
}

#[test]
fn the_file_of_every_entry_has_all_that_the_schema_knows() {
    let schema: Value = serde_json::from_str(include_str!("../plan.schema.json")).unwrap();
    let file: Value = serde_json::from_str(EVERY_ENTRY).unwrap();
    let defs = schema["$defs"].as_object().unwrap();
    let mut known = BTreeSet::new();
    for (name, def) in defs {
        walk(defs, def, None, name, &mut known);
    }
    let mut met = BTreeSet::new();
    let plan = &schema["properties"]["plan"];
    walk(defs, plan, Some(&file["plan"]), "", &mut met);
    let missing: Vec<_> = known.difference(&met).collect();
    // The usual ones, which are not written.
    assert_eq!(missing, ["Drawn=box", "Inside=unsaid"]);
    assert!(known.len() > 200, "{}", known.len());
}

/// Notes the fields and kinds of a schema: of a value those that it has, else all.
fn walk(
    defs: &Map<String, Value>,
    schema: &Value,
    value: Option<&Value>,
    at: &str,
    noted: &mut BTreeSet<String>,
) {
    if let Some(name) = schema["$ref"].as_str() {
        let name = name.trim_start_matches("#/$defs/");
        // Without a value each definition is gone through by itself.
        if value.is_some() {
            walk(defs, &defs[name], value, name, noted);
        }
        return;
    }
    for (field, inner) in schema["properties"].as_object().into_iter().flatten() {
        let there = value.and_then(|v| v.get(field));
        if there.is_some() == value.is_some() {
            let at = format!("{at}.{field}");
            walk(defs, inner, there, &at, noted);
            noted.insert(at);
        }
    }
    for kind in ["oneOf", "anyOf"] {
        for branch in schema[kind].as_array().into_iter().flatten() {
            if value.is_none_or(|v| fits(branch, v)) {
                if let Some(word) = branch["const"].as_str() {
                    noted.insert(format!("{at}={word}"));
                }
                walk(defs, branch, value, at, noted);
            }
        }
    }
    let entries = value.and_then(Value::as_array);
    for entry in entries.into_iter().flatten() {
        walk(defs, &schema["items"], Some(entry), at, noted);
    }
}

fn fits(branch: &Value, value: &Value) -> bool {
    match branch["const"].as_str() {
        Some(word) => value == word,
        None if branch["properties"].is_object() => {
            let known = |field: &String| branch["properties"].get(field).is_some();
            value.as_object().is_some_and(|o| o.keys().all(known))
        }
        None => branch["type"] != "null",
    }
}
