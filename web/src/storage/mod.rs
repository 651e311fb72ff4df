//! Keeping plans in this browser: one entry a plan, written as a plan file, and a small index with times.

mod autosave;
mod browser;
mod keeper;
mod keys;

pub use autosave::Autosave;
pub use browser::BrowserStorage;
pub use keeper::{Keeper, load, read_entry};
pub use keys::{INDEX, KeyValue, key_of, plan_of};
