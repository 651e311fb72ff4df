//! When a plan was last saved as a file, and when to remind of it.

use super::{BrowserStorage, Record, key_of, saved_key_of};

/// So many changes with no file of them are worth a word, once a week has passed since the last file.
const CHANGES: u64 = 40;
/// So many are worth it at any time.
const MANY: u64 = 200;
const WEEK_MS: f64 = 7.0 * 86_400_000.0;

/// The last file of a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Backup {
    /// The number of the state in it.
    pub number: u64,
    /// When it was saved, milliseconds since 1970.
    pub at_ms: f64,
}

impl Backup {
    fn read(text: &str) -> Option<Self> {
        let (number, at_ms) = text.split_once('/')?;
        Some(Self {
            number: number.parse().ok()?,
            at_ms: at_ms.parse().ok()?,
        })
    }
}

/// How many changes to remind of, where it is time: `number` is that of the newest state.
pub fn due(number: u64, saved: Option<Backup>, now_ms: f64) -> Option<u64> {
    // A mark from before the browser lost everything else counts for nothing.
    let saved = saved.filter(|s| s.number <= number);
    let changes = number - saved.map_or(0, |s| s.number);
    let week = saved.is_none_or(|s| now_ms - s.at_ms >= WEEK_MS);
    (changes >= MANY || (changes >= CHANGES && week)).then_some(changes)
}

/// The last file of a plan, as far as this browser knows.
pub fn last_saved(key: &str) -> Option<Backup> {
    Backup::read(&BrowserStorage::open().get(&saved_key_of(key))?)
}

/// How many changes of a plan to remind of now.
pub fn changes_to_save(key: &str) -> Option<u64> {
    let number = Record::number_of(&BrowserStorage::open().get(&key_of(key))?)?;
    due(number, last_saved(key), js_sys::Date::now())
}

/// The plan was just saved as a file.
pub fn note_saved(key: &str) {
    let place = BrowserStorage::open();
    let number = place.get(&key_of(key)).and_then(|t| Record::number_of(&t));
    let mark = format!("{}/{}", number.unwrap_or(0), js_sys::Date::now());
    // Without the mark the reminder comes sooner, that is all.
    let _ = place.set(&saved_key_of(key), &mark);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reminders_come_after_many_changes_or_some_and_a_week() {
        let saved = |number, at_ms| Some(Backup { number, at_ms });
        assert_eq!(due(39, None, 0.0), None);
        assert_eq!(due(40, None, 0.0), Some(40));
        assert_eq!(due(90, saved(10, 0.0), 1.0), None);
        assert_eq!(due(90, saved(10, 0.0), WEEK_MS), Some(80));
        assert_eq!(due(210, saved(10, 0.0), 1.0), Some(200));
        assert_eq!(due(50, saved(500, 0.0), 1.0), Some(50));
    }

    #[test]
    fn marks_are_read() {
        let saved = Backup::read("12/1764000000000").unwrap();
        assert_eq!((saved.number, saved.at_ms), (12, 1.764e12));
        assert_eq!(Backup::read("12"), None);
    }
}
