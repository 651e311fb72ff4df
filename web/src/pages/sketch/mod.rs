//! The drawing: sockets put where they are by a tap, parts drawn by a finger, each variant as it stands.

mod act;
mod canvas;
mod deeds;
mod easel;
mod hand;
mod page;
mod paint;
mod panel;
mod picture;

pub use page::SketchPage;
