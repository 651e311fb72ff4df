//! The drawing: sockets put where they are by a tap, parts drawn by a finger, each variant as it stands.

mod canvas;
mod commands;
mod edits;
mod gestures;
mod page;
mod panel;
mod picture;
mod sketch_state;
mod svg;

pub use page::SketchPage;
