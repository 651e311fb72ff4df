//! The plan from outside: its limits and references, its edits, and what is laid out and drawn by default.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test may stop at a fault"
)]

mod edits;
mod full;
mod lists;
mod numbers;
mod presets;
mod shapes;
mod structure;
