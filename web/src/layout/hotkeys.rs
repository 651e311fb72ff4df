//! Keys that work everywhere: undo and redo.

use gloo::events::{EventListener, EventListenerOptions};
use gloo::utils::window;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;
use yew::prelude::*;

use crate::store::{Action, use_store};

/// Shows nothing.
#[component]
pub fn Hotkeys() -> Html {
    let store = use_store();
    use_effect_with((), move |()| {
        let options = EventListenerOptions::enable_prevent_default();
        let listener =
            EventListener::new_with_options(&window(), "keydown", options, move |event| {
                let Some(key) = event.dyn_ref::<KeyboardEvent>() else {
                    return;
                };
                if let Some(action) = wanted(key).filter(|_| !is_drafting(event)) {
                    event.prevent_default();
                    store.send(action);
                }
            });
        move || drop(listener)
    });
    Html::default()
}

fn wanted(e: &KeyboardEvent) -> Option<Action> {
    if !(e.ctrl_key() || e.meta_key()) || e.alt_key() {
        return None;
    }
    match (e.key().to_lowercase().as_str(), e.shift_key()) {
        ("z", false) => Some(Action::Undo),
        ("z", true) | ("y", false) => Some(Action::Redo),
        _ => None,
    }
}

/// Whether a text is being typed that is not committed yet: then the browser's own undo is wanted.
fn is_drafting(event: &Event) -> bool {
    let target = event
        .target()
        .and_then(|t| t.dyn_into::<HtmlElement>().ok());
    target.is_some_and(|t| t.has_attribute("data-draft"))
}
