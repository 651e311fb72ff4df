//! The plan file: versioned JSON in and out, with limits and typed refusals.
//!
//! A file is `{"format": "lodewright-plan", "version": 2, "plan": {...}}` in UTF-8, at most [`MAX_BYTES`] long. The
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
//! What makes a plan a file - envelope, versions, limits - is in [`mod@file`], whose documentation has the table of limits, says
//! how a new version joins and why the file has no types of its own.

mod differences;
mod error;
pub mod file;
mod link;
mod picture;

pub use differences::{Change, Difference, PlanEntry, differences, taking, with_needed};
pub use error::{ReadError, WriteError};
pub use file::{EXTENSION, FORMAT, Loaded, MAX_BYTES, MEDIA_TYPE, VERSION, read, write};
#[cfg(feature = "schema")]
pub use file::{SCHEMA_ID, schema};
pub use link::{MAX_LINK, pack, unpack};
pub use picture::{open, picture};
