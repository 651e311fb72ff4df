//! The facade of the core: a plan in, every answer out.
