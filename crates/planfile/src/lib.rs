//! The plan file: versioned JSON in and out, with limits and typed refusals.
//!
//! A file is `{"format": "lodewright-plan", "version": 1, "plan": {...}}` in UTF-8, at most [`MAX_BYTES`] long. The
//! plan inside is [`lodewright_kit::Plan`]; `plan.schema.json` beside this crate describes the same in JSON Schema.
//!
//! [`write()`] puts entries in a fixed order, one a line, so that two files can be compared as text. [`read()`] gives
//! back what was written, numbers bit for bit, or says in a [`ReadError`] what was given, what it must be and what to
//! do. Neither panics, and both take a time bounded by the file's length, whatever the file holds.
//!
//! # Later versions
//! `v1` holds the shape of version 1. A change that an older program would misread gets a new number and a module of
//! its own; the older module then keeps its own copy of what has changed and turns it into the plan of today. A file
//! with a greater number than [`VERSION`] is refused before anything else in it is looked at.

mod bounds;
mod error;
mod header;
mod read;
#[cfg(feature = "schema")]
mod schema;
mod v1;
mod write;

pub use error::{ReadError, WriteError};
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
