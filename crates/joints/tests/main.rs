//! All tests of this crate through its public face, in one binary.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test that cannot build its plan has failed"
)]

mod crowding;
mod fewest;
mod figures;
mod not_placed;
mod poles_and_loads;
mod presets;
mod random_joints;
mod repairs;
mod room;
mod scatter;
mod strength_ends;
mod study;
mod support;
mod unintended_pairs;
mod verdict;
mod wrong_placements;
