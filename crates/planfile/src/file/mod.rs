//! What makes a plan a file: the envelope, its versions and their migration, and the limits of a text that is read.
//!
//! # Limits
//! | what | at most | looked at |
//! |---|---|---|
//! | file or picture | 4 MB, [`MAX_BYTES`] | before it is read |
//! | link | 30 000 characters, [`crate::MAX_LINK`] | before it is decoded, and before it is handed out |
//! | what a link or picture unfolds to | 4 MB | while it is inflated |
//! | lists in lists | 127 levels | while it is parsed |
//! | entries of a list, bytes of a text | 1000 (20 000 done marks), 800 (16 000 in a note) | before types are made |
//! | numbers, names, counts | as in `lodewright_kit::limits` | by the plan's own check |
//!
//! # Versions
//! Version 2 is [`lodewright_kit::Plan`] as its types are today; in version 1 a part had no inside, and its mass said what
//! shape it has. A change that an older program would misread gets a new
//! number, and `migrate` a rung that lifts a file of the version before. `tests/versions` keeps files of every version,
//! one of them with every field and every kind of entry that the schema knows: they are read for good, and those of the
//! newest version are written again byte for byte, so that no type changes its looks in a file unnoticed. A file with a
//! greater number than [`VERSION`] is refused, unless it says by `oldest_reader` that readers of this version lose
//! nothing, and indeed holds nothing that they do not know.
//!
//! # One set of types
//! The plan's types are those of the file: there are no others for the file alone. It would take 53 types of 238 fields
//! and kinds a second time (some 820 lines), a conversion of each both ways, and their own readers and writers: those of
//! today's types are 233 kB and 32 kB of wasm (70 kB and 9 kB gzipped; for size, as the app is built), and the writers
//! at least stay, since the trail of edits in a window's session storage holds the same types. What it would buy, freedom
//! to rename a field in the program alone, `serde(rename)` gives; that a file keeps its looks is what the tests above
//! hold.

mod bounds;
mod envelope;
mod header;
mod json_path;
mod migrate;
mod read;
#[cfg(feature = "schema")]
mod schema;
mod write;

pub use read::{Loaded, read};
pub(crate) use read::{read_text, text_of};
#[cfg(feature = "schema")]
pub use schema::{SCHEMA_ID, schema};
pub use write::write;
pub(crate) use write::write_dense;

/// The word by which a file is known as a plan.
pub const FORMAT: &str = "lodewright-plan";

/// The version that is written, and the newest that can be read.
pub const VERSION: u32 = 2;

/// How the name of a plan file ends.
pub const EXTENSION: &str = ".lodewright.json";

/// Media type of a plan file.
pub const MEDIA_TYPE: &str = "application/json";

/// The longest file that is read or written, bytes: 4 MB.
pub const MAX_BYTES: usize = 4_000_000;
