//! The plan file: versioned JSON in and out, with limits and typed refusals.
//!
//! A file is `{"format": "lodewright-plan", "version": 1, "plan": {...}}` in UTF-8, at most [`MAX_BYTES`] long. The
//! plan inside is [`lodewright_kit::Plan`]; `plan.schema.json` beside this crate describes the same in JSON Schema.
//!
//! [`write()`] puts entries in a fixed order, one a line, so that two files can be compared as text. [`read()`] gives
//! back what was written, numbers bit for bit, or says in a [`ReadError`] what was given, what it must be and what to
//! do. Neither panics, and both take a time bounded by the file's length, whatever the file holds.
//!
//! Besides, a plan travels as a link's fragment ([`pack`], [`unpack`]) and inside an SVG picture of its grid
//! ([`picture()`]); [`open`] takes a file or such a picture, by its content. [`differences()`] lists what another plan has
//! otherwise, to take or leave.
//!
//! # Limits
//! | what | at most | looked at |
//! |---|---|---|
//! | file or picture | 4 MB, [`MAX_BYTES`] | before it is read |
//! | link | 30 000 characters, [`MAX_LINK`] | before it is decoded, and before it is handed out |
//! | what a link or picture unfolds to | 4 MB | while it is inflated |
//! | lists in lists | 127 levels | while it is parsed |
//! | entries of a list, bytes of a text | 1000 (20 000 done marks), 800 (16 000 in a note) | before types are made |
//! | numbers, names, counts | as in `lodewright_kit::limits` | by the plan's own check |
//!
//! # Versions
//! `v1` holds the shape of version 1. A change that an older program would misread gets a new number, and `migrate` a
//! rung that lifts a file of the version before; `tests/versions` keeps a file of every version. A file with a greater
//! number than [`VERSION`] is refused, unless it says by `oldest_reader` that readers of this version lose nothing, and
//! indeed holds nothing that they do not know.

mod bounds;
mod differences;
mod error;
mod header;
mod link;
mod migrate;
mod picture;
mod place;
mod read;
#[cfg(feature = "schema")]
mod schema;
mod v1;
mod write;

pub use differences::{Change, Difference, differences, taking, with_needed};
pub use error::{ReadError, WriteError};
pub use link::{MAX_LINK, pack, unpack};
pub use picture::{open, picture};
pub use read::{Loaded, read};
#[cfg(feature = "schema")]
pub use schema::{SCHEMA_ID, schema};
pub use write::write;

/// The word by which a file is known as a plan.
pub const FORMAT: &str = "lodewright-plan";

/// The version that is written, and the newest that can be read.
pub const VERSION: u32 = 1;

/// How the name of a plan file ends.
pub const EXTENSION: &str = ".lodewright.json";

/// Media type of a plan file.
pub const MEDIA_TYPE: &str = "application/json";

/// The longest file that is read or written, bytes: 4 MB.
pub const MAX_BYTES: usize = 4_000_000;
