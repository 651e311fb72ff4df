//! What surrounds every page: header, navigation, notices, keys.

mod banner;
mod focus;
mod header;
mod hotkeys;
mod navigation;
mod notices;
mod shell;

pub use shell::Shell;
