//! What is being typed and is not in its plan yet: kept a moment after it is typed, and put back into its field at the next start.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};

use gloo::timers::callback::Timeout;
use serde::{Deserialize, Serialize};
use yew::platform::spawn_local;
use yew::prelude::*;

use super::{BrowserStorage, draft_key_of, draft_of, indexed_db};
use crate::address::here;
use crate::store::SaveState;

/// From a keystroke to its writing, milliseconds. Not put off by further ones.
const WAIT_MS: u32 = 150;
/// Drafts that nobody came back to are forgotten after thirty days, milliseconds.
const FORGOTTEN_MS: f64 = 30.0 * 86_400_000.0;

/// A text in a field.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct Draft {
    /// When it was typed, milliseconds since 1970.
    at_ms: f64,
    /// None where it has become part of the plan or was taken back: outlives an older copy of the draft elsewhere.
    text: Option<String>,
}

/// All drafts, by page and field, with those that are not written as they are.
#[derive(Default)]
struct Drafts {
    all: BTreeMap<String, Draft>,
    due: BTreeSet<String>,
}

impl Drafts {
    /// Of two copies the later one counts.
    fn found(copies: impl Iterator<Item = (String, String)>, now_ms: f64) -> Self {
        let mut found = Self::default();
        for (key, whole) in copies {
            let Ok(draft) = serde_json::from_str::<Draft>(&whole) else {
                continue;
            };
            let older = found.all.get(&key).is_some_and(|d| d.at_ms > draft.at_ms);
            if !older {
                found.all.insert(key, draft);
            }
        }
        for (key, draft) in &mut found.all {
            if draft.text.is_none() || now_ms - draft.at_ms > FORGOTTEN_MS {
                draft.text = None;
                found.due.insert(key.clone());
            }
        }
        found
    }

    fn text(&self, key: &str) -> Option<&str> {
        self.all.get(key)?.text.as_deref()
    }

    /// Whether this is anything new.
    fn set(&mut self, key: &str, text: Option<String>, now_ms: f64) -> bool {
        if self.text(key) == text.as_deref() {
            return false;
        }
        // Later than what it takes the place of, whatever the clock says.
        let after = self.all.get(key).map_or(0.0, |d| d.at_ms + 1.0);
        let at_ms = now_ms.max(after);
        self.all.insert(key.to_owned(), Draft { at_ms, text });
        self.due.insert(key.to_owned());
        true
    }

    /// Takes what is to be written.
    fn take(&mut self) -> Vec<(String, String)> {
        let whole = |key: &String| serde_json::to_string(self.all.get(key)?).ok();
        let pairs = self.due.iter().filter_map(|k| Some((k.clone(), whole(k)?)));
        let pairs = pairs.collect();
        self.due.clear();
        pairs
    }

    fn any(&self) -> bool {
        self.all.values().any(|d| d.text.is_some())
    }
}

thread_local! {
    static DRAFTS: RefCell<Drafts> = RefCell::default();
    static TIMER: RefCell<Option<Timeout>> = RefCell::default();
    static TELL: RefCell<Option<Callback<SaveState>>> = RefCell::default();
    /// Counts writings, so that only the last one says that all is kept.
    static ROUND: Cell<u32> = Cell::default();
}

/// Takes in what both places have.
pub fn begin(slots: Vec<(String, String)>) {
    let place = BrowserStorage::open();
    let local = place.keys().into_iter().filter_map(|key| {
        let whole = place.get(&key)?;
        Some((draft_of(&key)?.to_owned(), whole))
    });
    let found = Drafts::found(slots.into_iter().chain(local), js_sys::Date::now());
    // What has become part of the plan: both places have had the time to hear of it.
    let spent = found.due.iter().cloned().collect::<Vec<_>>();
    DRAFTS.with_borrow_mut(|drafts| {
        *drafts = found;
        drafts.due.clear();
        for key in &spent {
            drafts.all.remove(key);
            place.remove(&draft_key_of(key));
        }
    });
    let spent: Vec<_> = spent.into_iter().map(|key| (key, None)).collect();
    if !spent.is_empty() {
        spawn_local(async move {
            let _ = indexed_db::put_drafts(&spent).await;
        });
    }
}

/// Who is told how the keeping of drafts goes.
pub fn listen(tell: impl Fn(SaveState) + 'static) {
    TELL.set(Some(Callback::from(tell)));
    if DRAFTS.with_borrow(Drafts::any) {
        say(SaveState::Kept(js_sys::Date::now()));
    }
}

fn say(state: SaveState) {
    let tell = TELL.with_borrow(Clone::clone);
    if let Some(tell) = tell {
        tell.emit(state);
    }
}

/// Names the draft of a field of the plan that is looked at.
fn key_of(field: &str) -> String {
    let plan = here().plan.unwrap_or_default();
    format!("{plan}/{field}")
}

/// What was being typed into a field of the plan that is looked at.
pub fn text_of(field: &str) -> Option<String> {
    // Pages are also rendered natively, in tests, where there is no storage.
    if !cfg!(target_arch = "wasm32") || !DRAFTS.with_borrow(Drafts::any) {
        return None;
    }
    let key = key_of(field);
    DRAFTS.with_borrow(|drafts| drafts.text(&key).map(str::to_owned))
}

/// The fields of the plan that is looked at that begin so and have a draft.
pub fn fields_from(start: &str) -> Vec<String> {
    if !cfg!(target_arch = "wasm32") {
        return Vec::new();
    }
    let (key, plan) = (key_of(start), key_of(""));
    DRAFTS.with_borrow(|drafts| {
        let drafted = drafts.all.iter().filter(|(_, d)| d.text.is_some());
        let here = drafted.map(|(k, _)| k).filter(|k| k.starts_with(&key));
        here.filter_map(|k| k.strip_prefix(&plan))
            .map(str::to_owned)
            .collect()
    })
}

/// This is being typed into a field; none where it was taken or taken back.
pub fn set(field: &str, text: Option<String>) {
    if !cfg!(target_arch = "wasm32") {
        return;
    }
    let key = key_of(field);
    let new = DRAFTS.with_borrow_mut(|drafts| drafts.set(&key, text, js_sys::Date::now()));
    if !new {
        return;
    }
    say(SaveState::Pending);
    TIMER.with_borrow_mut(|timer| {
        timer.get_or_insert_with(|| Timeout::new(WAIT_MS, keep));
    });
}

/// Writes what is due: local storage has it at once, the database soon.
pub fn keep() {
    TIMER.set(None);
    let pairs = DRAFTS.with_borrow_mut(Drafts::take);
    if pairs.is_empty() {
        return;
    }
    let place = BrowserStorage::open();
    let local = pairs
        .iter()
        .map(|(key, whole)| place.set(&draft_key_of(key), whole));
    let local = local.collect::<Result<(), String>>();
    let round = ROUND.get() + 1;
    ROUND.set(round);
    spawn_local(async move {
        let pairs: Vec<_> = pairs
            .into_iter()
            .map(|(key, whole)| (key, Some(whole)))
            .collect();
        let disk = indexed_db::put_drafts(&pairs).await;
        let (any, more) = DRAFTS.with_borrow(|d| (d.any(), !d.due.is_empty()));
        if more || round != ROUND.get() {
            return;
        }
        let now_ms = js_sys::Date::now();
        say(match (disk, local) {
            _ if !any => SaveState::Idle,
            (Ok(()), _) => SaveState::Kept(now_ms),
            (Err(why), Ok(())) => SaveState::Half(now_ms, why.into()),
            (Err(_), Err(why)) => SaveState::failed(why),
        });
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    fn copies(drafts: &mut Drafts) -> Vec<(String, String)> {
        drafts.take()
    }

    #[test]
    fn a_draft_comes_back_and_one_that_was_taken_does_not() {
        let mut drafts = Drafts::default();
        assert!(drafts.set("a/note", Some("half a sent".into()), 10.0));
        assert!(!drafts.set("a/note", Some("half a sent".into()), 11.0));
        let early = copies(&mut drafts);
        assert!(drafts.take().is_empty(), "written once");
        let back = Drafts::found(early.clone().into_iter(), 20.0);
        assert_eq!(back.text("a/note"), Some("half a sent"));
        // It becomes part of the plan; one of the two places has not heard of it.
        drafts.set("a/note", None, 12.0);
        let late = copies(&mut drafts);
        for both in [[early.clone(), late.clone()], [late, early]] {
            let back = Drafts::found(both.concat().into_iter(), 20.0);
            assert_eq!(back.text("a/note"), None);
            assert!(back.due.contains("a/note") && !back.any());
        }
    }

    #[test]
    fn a_clock_that_goes_back_does_not_bring_back_an_older_text() {
        let mut drafts = Drafts::default();
        drafts.set("a/x", Some("1".into()), 100.0);
        let old = copies(&mut drafts);
        drafts.set("a/x", Some("12".into()), 50.0);
        let new = copies(&mut drafts);
        let back = Drafts::found(new.into_iter().chain(old), 200.0);
        assert_eq!(back.text("a/x"), Some("12"));
    }

    #[test]
    fn drafts_are_forgotten_after_thirty_days_and_torn_ones_at_once() {
        let mut drafts = Drafts::default();
        drafts.set("a/x", Some("1".into()), 0.0);
        let kept = copies(&mut drafts);
        let in_time = Drafts::found(kept.clone().into_iter(), FORGOTTEN_MS);
        assert_eq!(in_time.text("a/x"), Some("1"));
        let late = Drafts::found(kept.into_iter(), FORGOTTEN_MS + 1.0);
        assert_eq!(late.text("a/x"), None);
        let torn = [("a/x".to_owned(), "{\"at_ms\":1,".to_owned())];
        assert!(Drafts::found(torn.into_iter(), 0.0).all.is_empty());
    }
}
