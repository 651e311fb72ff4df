//! The served app in Chromium, from end to end. `cargo xtask test --only browser` builds, serves and runs it; README.md in this
//! folder tells how to write a test.

// In a test a failure is a panic with a sentence; what was measured is printed.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr
)]

mod bench_desk;
mod desk;
mod driver;
mod find;
mod grid_speed;
mod joint_page;
mod journal;
mod moves;
mod screen;

mod axe;
mod database_faults;
mod fewest;
mod focus;
mod framed;
mod harness;
mod how;
mod kill;
mod offline;
mod placing;
mod sharing;
mod sketch;
mod sketch_counts;
mod sketch_demo;
mod smoke;
mod storage;
mod typed;
mod walks;
mod whole_job;
