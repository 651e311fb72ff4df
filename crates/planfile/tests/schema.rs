//! The published JSON Schema against an outside validator (the crate jsonschema): what is written is valid by it, and a
//! file that it finds wrong is not read.
#![allow(clippy::unwrap_used, reason = "tests may stop at a fault")]
#![allow(clippy::disallowed_methods, reason = "tests read files")]

mod support;

use std::sync::LazyLock;

use lodewright_planfile::{ReadError, read, write};
use proptest::prelude::*;
use proptest::sample::Index;
use serde_json::Value;

static VALIDATOR: LazyLock<jsonschema::Validator> = LazyLock::new(|| {
    let schema: Value = serde_json::from_str(include_str!("../plan.schema.json")).unwrap();
    jsonschema::draft202012::new(&schema).unwrap()
});

#[test]
fn the_sample_plans_are_valid() {
    for name in support::SAMPLES {
        let path = support::examples().join(format!("{name}.lodewright.json"));
        let file = serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap();
        let faults: Vec<_> = VALIDATOR
            .iter_errors(&file)
            .map(|e| format!("{}: {e}", e.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{name}: {faults:#?}");
    }
}

/// Every value of a tree, by its JSON pointer.
fn pointers(value: &Value, at: &str, out: &mut Vec<String>) {
    out.push(at.to_owned());
    match value {
        Value::Array(list) => {
            for (i, entry) in list.iter().enumerate() {
                pointers(entry, &format!("{at}/{i}"), out);
            }
        }
        Value::Object(fields) => {
            for (name, entry) in fields {
                pointers(entry, &format!("{at}/{name}"), out);
            }
        }
        _ => {}
    }
}

fn another_value() -> impl Strategy<Value = Option<Value>> {
    prop_oneof![
        Just(None),
        Just(Some(Value::Null)),
        Just(Some(Value::from(true))),
        Just(Some(Value::from(-1))),
        Just(Some(Value::from(1.5))),
        Just(Some(Value::from("up"))),
        Just(Some(serde_json::json!([]))),
        Just(Some(serde_json::json!(["a", 1, {}]))),
        Just(Some(serde_json::json!({}))),
        Just(Some(serde_json::json!({"body": null}))),
    ]
}

/// Puts another value at a place, or takes the place out.
fn change(file: &mut Value, pointer: &str, new: Option<Value>) {
    match new {
        Some(new) => {
            if let Some(place) = file.pointer_mut(pointer) {
                *place = new;
            }
        }
        None => {
            let (parent, name) = pointer.rsplit_once('/').unwrap_or(("", ""));
            match file.pointer_mut(parent) {
                Some(Value::Object(fields)) => {
                    fields.remove(name);
                }
                Some(Value::Array(list)) => {
                    list.pop();
                }
                _ => {}
            }
        }
    }
}

proptest! {
    #![proptest_config(support::cases(1_000))]

    #[test]
    fn reader_and_schema_agree_on_shapes(
        plan in support::plans(),
        at in any::<Index>(),
        new in another_value(),
    ) {
        let mut file: Value = serde_json::from_str(&write(&plan).unwrap()).unwrap();
            prop_assert!(VALIDATOR.is_valid(&file));
        let mut places = Vec::new();
        pointers(&file, "", &mut places);
        let place = at.get(&places);
        change(&mut file, place, new);
        let valid = VALIDATOR.is_valid(&file);
        match read(file.to_string().as_bytes()) {
            // Ranges, counts and references are beyond the schema.
            Ok(_) | Err(ReadError::Refused(_)) => prop_assert!(valid, "read but not valid: {place}"),
            Err(error) => prop_assert!(!valid, "valid but not read: {place}: {error}"),
        }
    }
}
