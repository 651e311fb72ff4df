//! How this device stands on the desk: which hand works it, whether the screen stays on, and the clock of the steps. Kept
//! in this browser and never in the plan.

use gloo::storage::{LocalStorage, Storage};
use lodewright_planner::kit::Edit;
use serde::{Deserialize, Serialize};
use yew::prelude::*;

use super::curing::now;

/// Where they are kept.
const KEY: &str = "lodewright.desk";

/// What is kept.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct DeskPrefs {
    /// The buttons stand at the left edge.
    pub left_handed: bool,
    /// The screen is kept on while the bench page is open.
    pub stay_awake: bool,
    /// Since when the clock of the steps runs, ms since 1970; it does not run where this is none.
    pub clock_since_ms: Option<f64>,
}

/// The preferences, and how they are changed.
#[hook]
pub fn use_desk_prefs() -> (DeskPrefs, Callback<DeskPrefs>) {
    let prefs = use_state_eq(kept);
    let set = {
        let prefs = prefs.clone();
        Callback::from(move |new: DeskPrefs| {
            // A browser that stores nothing forgets the hand at the next visit; the page works all the same.
            let _ = LocalStorage::set(KEY, new);
            prefs.set(new);
        })
    };
    (*prefs, set)
}

/// What this browser keeps; pages are also rendered natively, in tests, where there is none.
fn kept() -> DeskPrefs {
    if cfg!(target_arch = "wasm32") {
        LocalStorage::get(KEY).unwrap_or_default()
    } else {
        DeskPrefs::default()
    }
}

/// Longest time that the clock takes for one step, min: beyond that somebody went for dinner.
const LONGEST_MIN: f64 = 180.0;

/// How long a step took that is done now, min.
pub fn took_min(since_ms: Option<f64>, now_ms: f64) -> Option<f64> {
    let min = (now_ms - since_ms?) / 60_000.0;
    (0.05..=LONGEST_MIN)
        .contains(&min)
        .then(|| (min * 100.0).round() / 100.0)
}

/// The edit that ticks a step or takes the tick back, with what the clocks say.
pub fn mark(step: String, done: bool, clock_since_ms: Option<f64>) -> Edit {
    let now_ms = now();
    Edit::MarkStep {
        step,
        done,
        at_s: (done && now_ms > 0.0).then_some((now_ms / 1000.0) as u64),
        took_min: clock_since_ms
            .filter(|_| done)
            .and_then(|since| took_min(Some(since), now_ms)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_that_was_forgotten_says_nothing() {
        assert_eq!(took_min(None, 1e6), None);
        assert_eq!(took_min(Some(0.0), 150_000.0), Some(2.5));
        assert_eq!(took_min(Some(0.0), 1e9), None);
        assert_eq!(took_min(Some(1e6), 1e6), None);
    }
}
