//! The grid: sockets down, variants across, and in each cell what sits there.

mod answer_strip;
mod body_notes;
mod cell_dock;
mod cell_input;
mod choose;
mod cursor;
mod dock;
mod events;
mod keys;
mod page;
mod paste;
mod row;
mod view;

pub use answer_strip::AnswerStrip;
pub use body_notes::BodyNotes;
pub use cell_dock::CellDock;
pub use cursor::Pick;
pub use page::GridPage;
