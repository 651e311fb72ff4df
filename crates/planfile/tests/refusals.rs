//! Every refusal with the words in which it is given.
#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    reason = "tests may stop at a fault"
)]

mod support;

use std::collections::BTreeSet;

use lodewright_planfile::{MAX_BYTES, ReadError, read};
use serde_json::{Value, json};

/// What `read` says to this file.
fn said(bytes: &[u8]) -> String {
    read(bytes).expect_err("must be refused").to_string()
}

/// A file with this in place of the plan.
fn holding(plan: &str) -> String {
    format!("{{\"format\": \"lodewright-plan\", \"version\": 2, \"plan\": {plan}}}")
}

#[test]
fn what_is_no_plan_file_is_refused_by_name() {
    let choose = "Choose a file that was saved as a plan.";
    let no_plan = format!(
        "The file is JSON but not a plan: it must begin with \"format\": \"lodewright-plan\". {choose}"
    );
    let bad_version = |found: &str| {
        format!(
            "The file's version is {found} but must be a whole number from 1 on. Put \"version\": 2 beside the format."
        )
    };
    let not_json = |what: &str, line: usize, column: usize| {
        format!(
            "The file is not whole JSON: {what} at line {line}, column {column}. Correct it there, or take an earlier copy."
        )
    };
    let table: &[(&str, String)] = &[
        ("", not_json("EOF while parsing a value", 1, 0)),
        ("plan", not_json("expected value", 1, 1)),
        ("{\n\"format\": NaN}", not_json("expected value", 2, 11)),
        ("{\"a\": 1e309}", not_json("number out of range", 1, 11)),
        ("{\"a\": 1} x", not_json("trailing characters", 1, 10)),
        (
            "{\"a\": \"\u{1}\"}",
            not_json(
                "control character (\\u0000-\\u001F) found while parsing a string",
                1,
                8,
            ),
        ),
        ("{}", no_plan.clone()),
        ("17", no_plan.clone()),
        ("[\"lodewright-plan\", 1, {}]", no_plan.clone()),
        ("{\"format\": \"something\", \"version\": 2}", no_plan.clone()),
        ("{\"format\": {\"lodewright-plan\": 1}}", no_plan),
        ("{\"format\": \"lodewright-plan\"}", bad_version("missing")),
        ("{\"format\": \"lodewright-plan\", \"version\": 0}", bad_version("0")),
        ("{\"format\": \"lodewright-plan\", \"version\": -1}", bad_version("-1")),
        ("{\"format\": \"lodewright-plan\", \"version\": 1.5}", bad_version("1.5")),
        ("{\"format\": \"lodewright-plan\", \"version\": \"1\"}", bad_version("\"1\"")),
        (
            // Refused by its version before its shape is looked at.
            "{\"format\": \"lodewright-plan\", \"version\": 3, \"scheme\": []}",
            "The file is of version 3, and this program reads up to version 2. Open it with the newer program that wrote it."
                .to_owned(),
        ),
        (
            "{\"format\": \"lodewright-plan\", \"version\": 9999999999}",
            "The file is of version 9999999999, and this program reads up to version 2. Open it with the newer program that wrote it."
                .to_owned(),
        ),
    ];
    for (given, expected) in table {
        assert_eq!(said(given.as_bytes()), *expected, "{given}");
    }
}

#[test]
fn what_is_too_large_no_text_or_too_deep_is_refused() {
    assert_eq!(
        said(&vec![b' '; MAX_BYTES + 1]),
        "The file has 4000001 bytes, and a plan has at most 4000000. Choose the plan file itself, not an archive or a picture."
    );
    assert_eq!(
        said(b"{\"a\": \"\xff\"}"),
        "The file is not UTF-8 text: byte 7 does not belong to any character. Choose a plan file, or save it again as UTF-8."
    );
    // UTF-16 with its mark.
    assert!(matches!(
        read(b"\xff\xfe{\0}\0"),
        Err(ReadError::NotText { byte: 0 })
    ));
    let deep = holding(&format!("{}{}", "[".repeat(200), "]".repeat(200)));
    assert_eq!(
        said(deep.as_bytes()),
        "At line 1 the file nests lists in lists deeper than any plan does. Choose a file that was saved as a plan."
    );
    // As deep as it may be, another fault is named for what it is.
    for (depth, too_deep) in [(127, false), (128, true)] {
        let error = read("[".repeat(depth).as_bytes()).unwrap_err();
        let told = matches!(error, ReadError::TooDeep { line: 1 });
        assert_eq!(told, too_deep, "{depth}: {error}");
    }
}

/// The small plan with one passage changed; the passage must be there.
fn spoilt(from: &str, to: &str) -> String {
    let text = support::small_text();
    assert!(text.contains(from), "{from} is not in the plan");
    text.replacen(from, to, 1)
}

#[test]
fn entries_of_the_wrong_kind_are_refused_with_their_place() {
    let head = "The plan cannot be read at ";
    let tail = ". Correct that entry, or save the plan again.";
    let table = [
        (
            spoilt(
                "\"size_mm\": [\n          80.0,",
                "\"size_mm\": [\n          null,",
            ),
            "plan.parts[0].size_mm[0]: nothing (null) stands where a number belongs",
        ),
        (
            spoilt("\"size_mm\": [\n          80.0,", "\"size_mm\": ["),
            "plan.parts[0].size_mm: a list of 2 stands where a list of 3 belongs",
        ),
        (
            spoilt("\"title\"", "\"titel\""),
            "plan.titel: `titel` is not known there, but only `title`, ",
        ),
        (
            spoilt("\"facing\": \"up\"", "\"facing\": \"upwards\""),
            "plan.sockets[0].facing: `upwards` is not known there, but only `",
        ),
        (
            spoilt("\"scale\": 0", "\"scale\": -1"),
            "plan.kit.scale: -1 stands where a whole number from 0 to 4294967295 belongs",
        ),
        (
            spoilt("\"scale\": 0", "\"scale\": 4294967296"),
            "plan.kit.scale: 4294967296 stands where a whole number from 0 to 4294967295 belongs",
        ),
        (
            spoilt(
                "\"title\": \"Small\",",
                "\"title\": \"Small\", \"title\": \"Small\",",
            ),
            "plan: `title` stands twice",
        ),
        (
            spoilt("\"title\": \"Small\",", ""),
            "plan: the entry `title` is missing",
        ),
        (
            spoilt("\"kit\": {", "\"kit\": [\"Box\", 32, 0], \"kit_\": {"),
            "plan.kit_: `kit_` is not known there",
        ),
        (
            holding(r#"["t", "", {}, "b", [], [], []]"#),
            "plan: a list stands where an object with named fields belongs",
        ),
        (
            spoilt(
                "\"kit\": {\n      \"scale\": 0,\n      \"price_cents\": 0\n    }",
                "\"kit\": [\"Box\", 32, 0]",
            ),
            "plan.kit: a list stands where an object with named fields belongs",
        ),
        (
            spoilt("\"part\": \"plough\"", "\"part\": \"plough\", \"pose\": []"),
            "plan.variants[0].cells[0].seats[0].pose: a list stands where an object with named fields belongs",
        ),
        (
            spoilt("\"mass\": \"body\"", "\"mass\": {\"body\": null}"),
            "plan.parts[0].mass: an object with named fields stands where a word belongs",
        ),
        (
            spoilt(
                "\"parts\": [",
                &format!("\"parts\": [{}", "{},".repeat(1_000)),
            ),
            "plan.parts: 1004 entries stand there, and no plan has more than 1000",
        ),
        (
            spoilt("\"Small\"", &format!("\"{}\"", "x".repeat(801))),
            "plan.title: 801 bytes stand there, and no plan has more than 800",
        ),
    ];
    for (given, expected) in table {
        let said = said(given.as_bytes());
        assert!(
            said.starts_with(&format!("{head}{expected}")),
            "{expected}\n  but: {said}"
        );
        assert!(said.ends_with(tail), "{said}");
    }
}

#[test]
fn plans_that_do_not_fit_together_are_refused_with_the_place() {
    let table = [
        (
            spoilt("\"scale\": 0", "\"scale\": 0, \"name\": \"a\\u0007b\""),
            "kit.name: holds control characters. Type it again.",
        ),
        (
            spoilt("80.0,", "1e308,"),
            "parts[base].size_mm: is 1e308 but must be a number from 0.1 to 5000. Correct the number.",
        ),
        (
            spoilt("80.0,", "0,"),
            "parts[base].size_mm: is 0 but must be a number from 0.1 to 5000. Correct the number.",
        ),
        (
            spoilt("\"Small\"", &format!("\"{}\"", "é".repeat(201))),
            "title: has 201 characters but may have at most 200. Shorten it.",
        ),
        (
            spoilt("\"id\": \"hook\"", "\"id\": \"plough\""),
            "parts[plough].id: stands twice. Give each entry an id of its own. There is one more fault.",
        ),
        (
            spoilt("\"id\": \"hook\"", "\"id\": \"Hook!\""),
            "parts[Hook!].id: must be 1 to 40 of the characters a-z, 0-9 and -. Choose another id. There is one more fault.",
        ),
        (
            spoilt("\"part\": \"hook\"", "\"part\": \"hock\""),
            "variants[works].cells[nose]: names the part 'hock', which is not in the plan. Add it, or name another.",
        ),
        (
            spoilt("\"host\": \"base\"", "\"host\": \"bass\""),
            "sockets[nose].host: names the part 'bass', which is not in the plan. Add it, or name another.",
        ),
        (
            spoilt("\"base\": \"base\"", "\"base\": \"keel\""),
            "base: names the part 'keel', which is not in the plan. Add it, or name another.",
        ),
    ];
    for (given, expected) in table {
        assert_eq!(
            said(given.as_bytes()),
            format!("The plan in the file is refused. {expected}")
        );
    }
}

#[test]
fn many_faults_are_counted_and_all_handed_over() {
    let text = spoilt("\"host\": \"base\"", "\"host\": \"bass\"")
        .replace("\"part\": \"hook\"", "\"part\": \"hock\"")
        .replacen("80.0,", "0,", 1);
    let error = read(text.as_bytes()).unwrap_err();
    assert!(
        error.to_string().ends_with(" There are 2 more faults."),
        "{error}"
    );
    assert!(matches!(error, ReadError::Refused(p) if p.len() == 3));
}

/// Every number of the file of every entry, far too large and far too small, and every text, too long and with a control
/// character in it: refused, but for those that have no bound of their own.
#[test]
fn no_number_and_no_text_is_without_bounds() {
    let file: Value =
        serde_json::from_str(include_str!("versions/v2-every-entry.lodewright.json")).unwrap();
    let places = support::places(&file["plan"], "/plan");
    let taken = |place: &str, by: Value| {
        let mut file = file.clone();
        *file.pointer_mut(place).unwrap() = by;
        read(file.to_string().as_bytes()).is_ok()
    };
    let mut unbounded = BTreeSet::new();
    for place in &places {
        let by = match file.pointer(place).unwrap() {
            Value::Number(n) if n.is_f64() => vec![json!(1e7), json!(-1e7)],
            Value::Number(_) => vec![json!(4_000_000_000_u32)],
            Value::String(_) => {
                let long = if place.ends_with("/note") { 4_001 } else { 250 };
                vec![json!("x".repeat(long)), json!("x\u{7}")]
            }
            _ => continue,
        };
        for by in by {
            if taken(place, by) {
                unbounded.insert(place.rsplit('/').next().unwrap());
            }
        }
    }
    // A scale, a stock at hand and a time may be any whole number.
    let free = ["at_s", "in_hand", "scale"];
    assert_eq!(unbounded, BTreeSet::from(free));
}
