//! Why a file was not read or a plan not written, in sentences for the builder.

use std::fmt;

use lodewright_kit::Problem;

use crate::{FORMAT, MAX_BYTES, MAX_LINK};

/// Why a file was not read.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ReadError {
    /// Longer than [`MAX_BYTES`].
    TooLarge {
        /// Its length, bytes.
        bytes: usize,
    },
    /// Not UTF-8.
    NotText {
        /// Where the first byte stands that is not text, counted from 0.
        byte: usize,
    },
    /// Not JSON.
    NotJson {
        /// Line of the first fault, counted from 1.
        line: usize,
        /// Column of it, counted from 1.
        column: usize,
        /// What the fault is.
        said: String,
    },
    /// Lists or entries nested deeper than any plan.
    TooDeep {
        /// Line where the limit was passed, counted from 1.
        line: usize,
    },
    /// JSON, but without the format word of a plan.
    NotAPlan,
    /// Written by a newer program.
    NewerVersion {
        /// The file's version.
        found: u64,
        /// The newest that can be read.
        known: u32,
    },
    /// The version is missing or is no whole number from 1 on.
    BadVersion {
        /// What stands there.
        found: String,
    },
    /// An entry is missing, not known, or not of its kind.
    Shape {
        /// Where, such as `plan.parts[3].size_mm`.
        path: String,
        /// What was found and what must be.
        said: String,
    },
    /// A picture in which no plan stands.
    NoPlanInPicture,
    /// A link longer than [`MAX_LINK`].
    LinkTooLong {
        /// Its length, characters.
        characters: usize,
    },
    /// What a link or picture carries is not whole.
    Damaged {
        /// What is wrong with it.
        said: &'static str,
    },
    /// Every entry is of its kind, but they make no legal plan: problems of severity `Refused`, at least one.
    Refused(Vec<Problem>),
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { bytes } => write!(
                f,
                "The file has {bytes} bytes, and a plan has at most {MAX_BYTES}. Choose the plan file itself, not an archive or a picture."
            ),
            Self::NotText { byte } => write!(
                f,
                "The file is not UTF-8 text: byte {byte} does not belong to any character. Choose a plan file, or save it again as UTF-8."
            ),
            Self::NotJson { line, column, said } => write!(
                f,
                "The file is not whole JSON: {said} at line {line}, column {column}. Correct it there, or take an earlier copy."
            ),
            Self::TooDeep { line } => write!(
                f,
                "At line {line} the file nests lists in lists deeper than any plan does. Choose a file that was saved as a plan."
            ),
            Self::NotAPlan => write!(
                f,
                "The file is JSON but not a plan: it must begin with \"format\": \"{FORMAT}\". Choose a file that was saved as a plan."
            ),
            Self::NewerVersion { found, known } => write!(
                f,
                "The file is of version {found}, and this program reads up to version {known}. Open it with the newer program that wrote it."
            ),
            Self::BadVersion { found } => write!(
                f,
                "The file's version is {found} but must be a whole number from 1 on. Put \"version\": 1 beside the format."
            ),
            Self::Shape { path, said } if path.is_empty() => write!(
                f,
                "The plan cannot be read: {said}. Correct the file, or save the plan again."
            ),
            Self::Shape { path, said } => write!(
                f,
                "The plan cannot be read at {path}: {said}. Correct that entry, or save the plan again."
            ),
            Self::NoPlanInPicture => f.write_str(
                "The picture carries no plan. Choose a picture that this program shared, as it was sent: programs that redraw pictures take the plan out.",
            ),
            Self::LinkTooLong { characters } => write!(
                f,
                "The link has {characters} characters, and a plan's link has at most {MAX_LINK}. Ask for the plan as a file."
            ),
            Self::Damaged { said } => write!(
                f,
                "What carries the plan is damaged: {said}. Copy the whole link again, or ask for the plan as a file."
            ),
            Self::Refused(problems) => first_of(f, "The plan in the file is refused.", problems),
        }
    }
}

impl std::error::Error for ReadError {}

/// Why a plan was not written.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum WriteError {
    /// It would not be read again: problems of severity `Refused`, at least one. Numbers that are not finite are among
    /// them.
    Refused(Vec<Problem>),
    /// The file would be longer than [`MAX_BYTES`].
    TooLarge {
        /// How long it would be, bytes.
        bytes: usize,
    },
    /// Its link would be longer than [`MAX_LINK`].
    LinkTooLong {
        /// How long it would be, characters.
        characters: usize,
    },
    /// It could not be put into JSON.
    NotJson {
        /// What the fault is.
        said: String,
    },
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Refused(problems) => first_of(f, "The plan cannot be saved as it is.", problems),
            Self::TooLarge { bytes } => write!(
                f,
                "The plan would take {bytes} bytes, and a file has at most {MAX_BYTES}. Take out what is not needed, such as variants that are mere copies."
            ),
            Self::LinkTooLong { characters } => write!(
                f,
                "The plan's link would have {characters} characters, and a link has at most {MAX_LINK}. Share it as a file instead."
            ),
            Self::NotJson { said } => write!(
                f,
                "The plan cannot be put into JSON: {said}. Undo the last edit and save again."
            ),
        }
    }
}

impl std::error::Error for WriteError {}

fn first_of(f: &mut fmt::Formatter<'_>, lead: &str, problems: &[Problem]) -> fmt::Result {
    f.write_str(lead)?;
    if let Some(first) = problems.first() {
        write!(f, " {first}")?;
    }
    match problems.len().saturating_sub(1) {
        0 => Ok(()),
        1 => f.write_str(" There is one more fault."),
        more => write!(f, " There are {more} more faults."),
    }
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
