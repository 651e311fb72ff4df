//! Files that are damaged or made to harm: never a panic, never a long wait, and words from a file stay words.

#![allow(
    clippy::disallowed_types,
    reason = "a long wait is a fault, so time is taken"
)]

mod support;

use std::time::{Duration, Instant};

use lodewright_planfile::{MAX_BYTES, read, write};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::Index;

proptest! {
    #![proptest_config(support::cases(256))]

    #[test]
    fn any_bytes_are_read_or_refused_in_words(bytes in vec(any::<u8>(), 0..400)) {
        if let Err(error) = read(&bytes) {
            prop_assert!(!error.to_string().is_empty());
        }
    }

    #[test]
    fn any_json_under_the_right_head_is_read_or_refused_in_words(body in "[\\[\\]{}\",:0-9a-z.eE+-]{0,80}") {
        let text = format!("{{\"format\":\"lodewright-plan\",\"version\":2,\"plan\":{body}}}");
        if let Err(error) = read(text.as_bytes()) {
            prop_assert!(!error.to_string().is_empty());
        }
    }

    #[test]
    fn damaged_files_are_read_or_refused_in_words(
        plan in support::plans(),
        hits in vec((any::<Index>(), any::<u8>(), 0..4_u8), 1..6),
    ) {
        let mut bytes = write(&plan).unwrap().into_bytes();
        for (at, byte, how) in hits {
            let at = at.index(bytes.len());
            match how {
                0 => bytes[at] = byte,
                1 => { bytes.remove(at); }
                2 => bytes.insert(at, byte),
                _ => bytes.truncate(at.max(1)),
            }
        }
        match read(&bytes) {
            // What survives damage is a whole plan again.
            Ok(loaded) => { write(&loaded.plan).unwrap(); }
            Err(error) => prop_assert!(error.to_string().chars().count() < 2_000, "{error}"),
        }
    }

    #[test]
    fn swapped_words_are_read_or_refused_in_words(
        from in any::<Index>(), to in any::<Index>(),
    ) {
        // Values change places whole, so that the text stays JSON and the faults are those of meaning.
        let text = support::small_text();
        let mut lines: Vec<&str> = text.lines().collect();
        let (a, b) = (from.index(lines.len()), to.index(lines.len()));
        lines.swap(a, b);
        if let Ok(loaded) = read(lines.join("\n").as_bytes()) {
            write(&loaded.plan).unwrap();
        }
    }
}

#[test]
fn markup_in_names_is_carried_as_text() {
    let mut plan = read(support::small_text().as_bytes()).unwrap().plan;
    let markup = "<script>alert(1)</script> & \"'\\ ${x} {{y}} \u{202e}\u{2028}";
    plan.title = markup.to_owned();
    plan.parts[1].name = markup.to_owned();
    let loaded = read(write(&plan).unwrap().as_bytes()).unwrap();
    assert_eq!(loaded.plan.title, markup);
    assert_eq!(loaded.plan.parts[1].name, markup);
}

#[test]
fn messages_repeat_little_of_the_file_and_no_control_characters() {
    let long = "x\\u001b[2J".repeat(70);
    for text in [
        format!(r#"{{"format": "lodewright-plan", "version": 2, "plan": {{"{long}": 1}}}}"#),
        format!(r#"{{"format": "lodewright-plan", "version": "{long}", "plan": 1}}"#),
        format!(r#"{{"format": "lodewright-plan", "version": 2, "plan": "{long}"}}"#),
    ] {
        let said = read(text.as_bytes()).unwrap_err().to_string();
        assert!(said.chars().count() < 700, "{said}");
        assert!(said.chars().all(|c| !c.is_control()), "{said:?}");
    }
}

#[test]
fn messages_about_entries_show_no_control_characters() {
    // Found by fuzzing.
    let text = support::small_text().replace("\"works\"", "\"w\\u007frks\"");
    let said = read(text.as_bytes()).unwrap_err().to_string();
    assert!(said.contains("variants[w rks].id"), "{said}");
    assert!(said.chars().all(|c| !c.is_control()), "{said:?}");
}

/// Far above the few seconds that such a file takes in a debug build, far below what unbounded work would take.
const LIMIT: Duration = Duration::from_secs(90);

/// Fills a file up to the byte limit with one entry after another.
fn crammed(head: &str, entry: impl Fn(usize) -> String, tail: &str) -> String {
    let mut text = format!("{{\"format\":\"lodewright-plan\",\"version\":2,\"plan\":{{{head}");
    let mut i = 0;
    loop {
        let next = entry(i);
        if text.len() + next.len() + tail.len() + 8 > MAX_BYTES {
            break;
        }
        if i > 0 {
            text.push(',');
        }
        text.push_str(&next);
        i += 1;
    }
    text + tail + "}}"
}

#[test]
fn the_largest_files_are_answered_soon() {
    let plain = r#""title":"t","kit":{},"base":"b","sockets":[],"variants":[]"#;
    let id = "i".repeat(700);
    let files = [
        crammed(
            &format!("{plain},\"parts\":["),
            |i| format!(r#"{{"id":"p{i}","name":"","material":"m{i}","size_mm":[1,1,1]}}"#),
            "]",
        ),
        crammed(
            &format!("{plain},\"parts\":["),
            |i| {
                let plugs = vec![r#"{"id":"p","at_mm":[9e9,9e9,9e9]}"#; 900].join(",");
                format!(
                    r#"{{"id":"{id}{i}","name":"","material":"m","size_mm":[1,1,1],"plugs":[{plugs}]}}"#
                )
            },
            "]",
        ),
        crammed(
            r#""title":"t","kit":{},"base":"b","parts":[],"sockets":[],"variants":["#,
            |i| {
                let cells = vec![r#"{"socket":"s","seats":[{"part":"p"}]}"#; 900].join(",");
                format!(r#"{{"id":"v{i}","name":"","cells":[{cells}]}}"#)
            },
            "]",
        ),
        crammed(&format!("{plain},\"parts\":["), |_| "[]".to_owned(), "]"),
        "[".repeat(MAX_BYTES),
        "{\"a\":".repeat(MAX_BYTES / 5),
    ];
    for (i, text) in files.iter().enumerate() {
        let start = Instant::now();
        let error = read(text.as_bytes()).unwrap_err();
        let took = start.elapsed();
        assert!(took < LIMIT, "file {i}: {took:?}");
        assert!(error.to_string().chars().count() < 2_000, "file {i}");
        println!(
            "file {i}: {} bytes, {took:?}, {:.200}",
            text.len(),
            error.to_string()
        );
    }
}
