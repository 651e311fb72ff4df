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
        message: String,
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
        message: String,
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
        message: &'static str,
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
            Self::NotJson { line, column, message } => write!(
                f,
                "The file is not whole JSON: {message} at line {line}, column {column}. Correct it there, or take an earlier copy."
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
            Self::Shape { path, message } => write!(
                f,
                "The plan cannot be read at {path}: {message}. Correct that entry, or save the plan again."
            ),
            Self::NoPlanInPicture => f.write_str(
                "The picture carries no plan. Choose a picture that this program shared, as it was sent: programs that redraw pictures take the plan out.",
            ),
            Self::LinkTooLong { characters } => write!(
                f,
                "The link has {characters} characters, and a plan's link has at most {MAX_LINK}. Ask for the plan as a file."
            ),
            Self::Damaged { message } => write!(
                f,
                "What carries the plan is damaged: {message}. Copy the whole link again, or ask for the plan as a file."
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
        message: String,
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
            Self::NotJson { message } => write!(
                f,
                "The plan cannot be put into JSON: {message}. Undo the last edit and save again."
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
