//! Long work beside the page, in a web worker that runs the same wasm: the page stays free and may stop it at any time.

mod hook;
mod page_side;
mod worker_side;

pub use hook::{UseLongWork, Work, use_long_work};
pub use page_side::{LongWork, Told};
pub use worker_side::{Question, long_answer};
