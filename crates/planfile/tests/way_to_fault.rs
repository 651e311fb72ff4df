//! The way to an entry that is not of its kind, against serde_path_to_error, which notes each step while it reads.
#![allow(clippy::unwrap_used, reason = "tests may stop at a fault")]

mod support;

use lodewright_kit::Plan;
use lodewright_planfile::{ReadError, read};
use serde::Deserialize;
use serde_json::{Value, json};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(dead_code, reason = "read only to see whether it can be")]
struct File {
    format: String,
    version: u32,
    plan: Plan,
}

/// The file with the value at each place replaced in turn.
fn spoilt(file: &Value, by: &Value) -> Vec<Value> {
    let places = support::places(&file["plan"], "/plan");
    let replaced = |place: &String| {
        let mut file = file.clone();
        *file.pointer_mut(place).unwrap() = by.clone();
        file
    };
    places.iter().map(replaced).collect()
}

#[test]
fn it_is_the_way_that_a_reader_notes_which_goes_along() {
    let small: Value = serde_json::from_str(&support::small_text()).unwrap();
    let mut compared = 0;
    for by in [
        json!(null),
        json!(true),
        json!(-7),
        json!("x"),
        json!({}),
        json!([]),
    ] {
        for file in spoilt(&small, &by) {
            for text in [
                file.to_string(),
                serde_json::to_string_pretty(&file).unwrap(),
            ] {
                let noted = serde_path_to_error::deserialize::<_, File>(
                    &mut serde_json::Deserializer::from_str(&text),
                );
                let Err(noted) = noted else { continue };
                let Err(ReadError::Shape { path, message }) = read(text.as_bytes()) else {
                    panic!("{noted} was not refused by its shape:\n{text}");
                };
                assert_eq!(path, noted.path().to_string(), "{message}\n{text}");
                compared += 1;
            }
        }
    }
    assert!(compared > 500, "only {compared}");
}
