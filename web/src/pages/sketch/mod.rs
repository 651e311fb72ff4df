//! The drawing: sockets put where they are by a tap, parts drawn by a finger, each variant as it stands.

mod buttons;
mod canvas;
mod canvas_hooks;
mod commands;
mod edits;
mod gestures;
mod handler_context;
mod page;
mod panel;
mod picture;
mod placing;
mod sketch_state;
mod svg;

pub use page::SketchPage;
