//! The facade of the core: a plan in, every answer out. The app and the programs reach the core through this crate only.

pub use lodewright_kit as kit;
pub use lodewright_planfile as planfile;
