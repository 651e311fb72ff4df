//! All tests of this crate through its public face, in one binary.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test that cannot build its plan has failed"
)]

mod poles_and_loads;
mod random_joints;
mod support;
mod verdict;
mod wrong_placements;
