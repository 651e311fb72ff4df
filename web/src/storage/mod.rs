//! Keeping plans in this browser: numbered, checksummed states in local storage and, through to the disk, in its database.

mod autosave;
mod backup_reminder;
mod browser;
pub mod drafts;
pub mod indexed_db;
mod keys;
mod record;
mod save_queue;
mod snapshots;
mod startup_recovery;
pub mod tab_lock;
pub mod updates;

pub use autosave::{Autosave, Start, begin};
pub use backup_reminder::{Backup, changes_to_save, last_saved, note_saved};
pub use browser::BrowserStorage;
pub use keys::{draft_key_of, draft_of, key_of, plan_of, saved_key_of};
pub use record::Record;
pub use save_queue::{Job, SaveQueue};
pub use snapshots::{PastName, SHARE_BYTES, SHARE_OF_QUOTA, to_forget};
pub use startup_recovery::{Found, entry_of, recover};
