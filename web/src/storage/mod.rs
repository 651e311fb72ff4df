//! Keeping plans in this browser: numbered, checksummed states in local storage and, through to the disk, in its database.

mod autosave;
mod browser;
mod choose;
mod keeper;
mod keys;
mod past;
mod record;
mod saved;
mod trail;
pub mod updates;
pub mod vault;
pub mod windows;

pub use autosave::{Autosave, Start, begin};
pub use browser::BrowserStorage;
pub use choose::{Found, choose, entry_of};
pub use keeper::{Job, Keeper};
pub use keys::{key_of, plan_of, saved_key_of};
pub use past::{PastName, SHARE_BYTES, SHARE_OF_QUOTA, to_forget};
pub use record::Record;
pub use saved::{Saved, changes_to_save, last_saved, note_saved};
pub use trail::note_action;
