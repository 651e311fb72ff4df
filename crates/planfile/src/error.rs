//! Why a file was not read or a plan not written, in sentences for the builder.

use lodewright_kit::Problem;

use crate::{FORMAT, MAX_BYTES, MAX_LINK};

/// Why a file was not read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ReadError {
    /// Longer than [`MAX_BYTES`].
    #[error(
        "The file has {bytes} bytes, and a plan has at most {MAX_BYTES}. Choose the plan file itself, not an archive or a picture."
    )]
    TooLarge {
        /// Its length, bytes.
        bytes: usize,
    },
    /// Not UTF-8.
    #[error(
        "The file is not UTF-8 text: byte {byte} does not belong to any character. Choose a plan file, or save it again as UTF-8."
    )]
    NotText {
        /// Where the first byte stands that is not text, counted from 0.
        byte: usize,
    },
    /// Not JSON.
    #[error(
        "The file is not whole JSON: {message} at line {line}, column {column}. Correct it there, or take an earlier copy."
    )]
    NotJson {
        /// Line of the first fault, counted from 1.
        line: usize,
        /// Column of it, counted from 1.
        column: usize,
        /// What the fault is.
        message: String,
    },
    /// Lists or entries nested deeper than any plan.
    #[error(
        "At line {line} the file nests lists in lists deeper than any plan does. Choose a file that was saved as a plan."
    )]
    TooDeep {
        /// Line where the limit was passed, counted from 1.
        line: usize,
    },
    /// JSON, but without the format word of a plan.
    #[error(
        "The file is JSON but not a plan: it must begin with \"format\": \"{FORMAT}\". Choose a file that was saved as a plan."
    )]
    NotAPlan,
    /// Written by a newer program.
    #[error(
        "The file is of version {found}, and this program reads up to version {known}. Open it with the newer program that wrote it."
    )]
    NewerVersion {
        /// The file's version.
        found: u64,
        /// The newest that can be read.
        known: u32,
    },
    /// The version is missing or is no whole number from 1 on.
    #[error(
        "The file's version is {found} but must be a whole number from 1 on. Put \"version\": {} beside the format.",
        crate::VERSION
    )]
    BadVersion {
        /// What stands there.
        found: String,
    },
    /// An entry is missing, not known, or not of its kind.
    #[error(
        "The plan cannot be read at {path}: {message}. Correct that entry, or save the plan again."
    )]
    Shape {
        /// Where, such as `plan.parts[3].size_mm`.
        path: String,
        /// What was found and what must be.
        message: String,
    },
    /// A picture in which no plan stands.
    #[error(
        "The picture carries no plan. Choose a picture that this program shared, as it was sent: programs that redraw pictures take the plan out."
    )]
    NoPlanInPicture,
    /// A link longer than [`MAX_LINK`].
    #[error(
        "The link has {characters} characters, and a plan's link has at most {MAX_LINK}. Ask for the plan as a file."
    )]
    LinkTooLong {
        /// Its length, characters.
        characters: usize,
    },
    /// What a link or picture carries is not whole.
    #[error(
        "What carries the plan is damaged: {message}. Copy the whole link again, or ask for the plan as a file."
    )]
    Damaged {
        /// What is wrong with it.
        message: &'static str,
    },
    /// Every entry is of its kind, but they make no legal plan: problems of severity `Refused`, at least one.
    #[error("{}", first_of("The plan in the file is refused.", _0))]
    Refused(Vec<Problem>),
}

/// Why a plan was not written.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum WriteError {
    /// It would not be read again: problems of severity `Refused`, at least one. Numbers that are not finite are among
    /// them.
    #[error("{}", first_of("The plan cannot be saved as it is.", _0))]
    Refused(Vec<Problem>),
    /// The file would be longer than [`MAX_BYTES`].
    #[error(
        "The plan would take {bytes} bytes, and a file has at most {MAX_BYTES}. Take out what is not needed, such as variants that are mere copies."
    )]
    TooLarge {
        /// How long it would be, bytes.
        bytes: usize,
    },
    /// Its link would be longer than [`MAX_LINK`].
    #[error(
        "The plan's link would have {characters} characters, and a link has at most {MAX_LINK}. Share it as a file instead."
    )]
    LinkTooLong {
        /// How long it would be, characters.
        characters: usize,
    },
    /// It could not be put into JSON.
    #[error("The plan cannot be put into JSON: {message}. Undo the last edit and save again.")]
    NotJson {
        /// What the fault is.
        message: String,
    },
}

fn first_of(lead: &str, problems: &[Problem]) -> String {
    let first = problems.first().map(|p| format!(" {p}"));
    let more = match problems.len().saturating_sub(1) {
        0 => String::new(),
        1 => " There is one more fault.".to_owned(),
        more => format!(" There are {more} more faults."),
    };
    format!("{lead}{}{more}", first.unwrap_or_default())
}

/// What the reader of entries says of a fault, in words that need no knowledge of it. Only for people: the fault itself has its place
/// beside it.
pub(crate) fn in_words(said: &str, line: usize, column: usize) -> String {
    let place = format!(" at line {line} column {column}");
    let said = said.strip_suffix(&place).unwrap_or(said);
    let quoted = said.split('`').nth(1).unwrap_or_default();
    if said.starts_with("missing field") {
        return format!("the entry `{quoted}` is missing");
    }
    if said.starts_with("duplicate field") {
        return format!("`{quoted}` stands twice");
    }
    let known = said.strip_prefix("unknown field ");
    if let Some((name, known)) = known
        .or_else(|| said.strip_prefix("unknown variant "))
        .and_then(|rest| rest.split_once(", expected "))
    {
        let known = known.strip_prefix("one of ").unwrap_or(known);
        return format!("{name} is not known there, but only {known}");
    }
    let kind = ["invalid type: ", "invalid value: ", "invalid "];
    let fault = kind.iter().find_map(|kind| said.strip_prefix(kind));
    match fault.and_then(|fault| fault.split_once(", expected ")) {
        Some((found, wanted)) => format!(
            "{} stands where {} belongs",
            found_words(found),
            wanted_words(wanted)
        ),
        None => said.to_owned(),
    }
}

fn found_words(found: &str) -> String {
    if let Some(n) = found.strip_prefix("length ") {
        return format!("a list of {n}");
    }
    match found {
        "null" | "unit value" => "nothing (null)".to_owned(),
        "map" => "an object with named fields".to_owned(),
        "sequence" => "a list".to_owned(),
        _ => match found.split_once('`') {
            // A number or a truth value stands in these quotes, behind its kind.
            Some((_, rest)) => rest.trim_end_matches('`').to_owned(),
            None => found.strip_prefix("string ").unwrap_or(found).to_owned(),
        },
    }
}

fn wanted_words(wanted: &str) -> String {
    if let Some(n) = wanted.strip_prefix("an array of length ") {
        return format!("a list of {n}");
    }
    if wanted.starts_with("struct ") || wanted == "a map" {
        return "an object with named fields".to_owned();
    }
    match wanted {
        "u32" => format!("a whole number from 0 to {}", u32::MAX),
        "u8" | "u16" | "u64" | "usize" => "a whole number from 0 on".to_owned(),
        "i32" | "i64" => "a whole number".to_owned(),
        "f64" => "a number".to_owned(),
        "a sequence" => "a list".to_owned(),
        "a string" | "a borrowed string" => "a text".to_owned(),
        "a boolean" => "true or false".to_owned(),
        other => other.to_owned(),
    }
}

/// The longest passage of a file that a message repeats, characters.
const QUOTED: usize = 200;

/// Words that may hold passages of the file, made fit to be shown: control characters out, long ones cut.
pub(crate) fn shown(text: &str) -> String {
    let mut clean = text.chars().map(|c| if c.is_control() { ' ' } else { c });
    let mut out: String = clean.by_ref().take(QUOTED).collect();
    if clean.next().is_some() {
        out.push('…');
    }
    out
}
