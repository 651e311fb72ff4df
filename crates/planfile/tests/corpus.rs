//! A folder of hostile files, links and pictures made for this test, each with what is said to it. `UPDATE_CORPUS=1` writes
//! what is said now, to be looked at before it is kept.
#![allow(clippy::unwrap_used, reason = "tests may stop at a fault")]
#![allow(clippy::disallowed_methods, reason = "tests read files")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use lodewright_planfile::{ReadError, open, unpack, write};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus")
}

/// What is said to a file: `taken`, or why not.
fn said(name: &str, bytes: &[u8]) -> String {
    let answer = match name.rsplit('.').next() {
        Some("link") => unpack(std::str::from_utf8(bytes).unwrap()),
        _ => open(bytes),
    };
    match answer {
        Ok(loaded) => {
            // What was taken can be saved, and comes back the same.
            let text = write(&loaded.plan).unwrap();
            assert_eq!(open(text.as_bytes()).unwrap().plan, loaded.plan, "{name}");
            match loaded.notes.first() {
                None => "taken".to_owned(),
                Some(note) => format!("taken, with a note: {note}"),
            }
        }
        Err(error) => refused(&error),
    }
}

fn refused(error: &ReadError) -> String {
    let said = error.to_string();
    assert!(said.chars().all(|c| !c.is_control()), "{said:?}");
    assert!(said.chars().count() < 700, "{said}");
    // Two sentences at least: what is wrong where, and what to do.
    assert!(
        said.matches(". ").count() >= 1 && said.ends_with('.'),
        "{said}"
    );
    said
}

#[test]
fn every_hostile_file_gets_the_words_that_are_expected() {
    let mut found = BTreeMap::new();
    for entry in std::fs::read_dir(folder()).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        if name != "expected.tsv" {
            found.insert(name.clone(), said(&name, &std::fs::read(&path).unwrap()));
        }
    }
    let table: String = found
        .iter()
        .map(|(name, said)| format!("{name}\t{said}\n"))
        .collect();
    let kept = folder().join("expected.tsv");
    if std::env::var_os("UPDATE_CORPUS").is_some() {
        std::fs::write(&kept, &table).unwrap();
    }
    let expected = std::fs::read_to_string(&kept).unwrap();
    assert!(found.len() >= 80, "{}", found.len());
    for (now, then) in table.lines().zip(expected.lines()) {
        assert_eq!(now, then);
    }
    assert_eq!(table.lines().count(), expected.lines().count());
}
