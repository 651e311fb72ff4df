//! The plan file: versioned JSON in and out, with limits and typed refusals.
