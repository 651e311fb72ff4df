//! Puts the last actions where a report finds them when the app has stopped: into the window's session storage.

use std::cell::RefCell;

use gloo::utils::window;

use super::{Action, AppState, Recorder};

/// Read by `static/rescue.js`.
const NOW: &str = "lodewright.trail";
const BEFORE: &str = "lodewright.trail.before";

thread_local! {
    static RECORDER: RefCell<Recorder> = RefCell::default();
}

/// Notes an action that is about to be done.
pub fn note_action(action: &Action, state: &AppState) {
    // Pages are also rendered natively, in tests, where there is no window.
    if !cfg!(target_arch = "wasm32") {
        return;
    }
    RECORDER.with(|recorder| {
        let Ok(mut recorder) = recorder.try_borrow_mut() else {
            return;
        };
        let Some(noted) = recorder.note(action, state, js_sys::Date::now()) else {
            return;
        };
        let Some(place) = window().session_storage().ok().flatten() else {
            return;
        };
        // A report may lack what has no room: nothing else depends on it.
        let put = |key, trail| serde_json::to_string(trail).map(|text| place.set_item(key, &text));
        if let Some(before) = &noted.before {
            let _ = put(BEFORE, before);
        }
        let _ = put(NOW, noted.now);
    });
}
