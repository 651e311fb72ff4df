//! What surrounds every page: address, header, navigation, notices, keys.

mod header;
mod hotkeys;
mod navigation;
mod notices;
mod router;
mod shell;
mod strip;

pub use router::{Router, use_route};
pub use shell::Shell;
