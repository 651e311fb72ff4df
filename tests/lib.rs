//! Whole-job checks.
