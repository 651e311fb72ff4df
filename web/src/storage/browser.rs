//! The browser's local storage, with its refusals in words.

use gloo::utils::window;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{DomException, Storage};

use super::plan_of;

/// Local storage, where the browser has one and lets us.
pub struct BrowserStorage(Option<Storage>);

pub(super) const CLOSED: &str = "This browser lets the page store nothing (private window or settings). Save the plan as a file.";
pub(super) const FULL: &str =
    "The browser's storage for this page is full. Save plans as files, then delete some here.";

impl BrowserStorage {
    /// Opens it.
    pub fn open() -> Self {
        Self(window().local_storage().ok().flatten())
    }

    /// All keys.
    pub fn keys(&self) -> Vec<String> {
        let Some(storage) = &self.0 else {
            return Vec::new();
        };
        (0..storage.length().unwrap_or(0))
            .filter_map(|n| storage.key(n).ok().flatten())
            .collect()
    }

    /// The text of a key.
    pub fn get(&self, key: &str) -> Option<String> {
        self.0.as_ref()?.get_item(key).ok().flatten()
    }

    /// Keeps a text.
    ///
    /// # Errors
    /// Says what the reader should know when the place is full or closed.
    pub fn set(&self, key: &str, text: &str) -> Result<(), String> {
        let storage = self.0.as_ref().ok_or(CLOSED)?;
        storage.set_item(key, text).map_err(|e| reason(&e))
    }

    /// Forgets a text.
    pub fn remove(&self, key: &str) {
        if let Some(storage) = &self.0 {
            // Nothing can be done about a refusal, and the next start shows the plan again.
            let _ = storage.remove_item(key);
        }
    }

    /// The texts of all plans, by key of the plan.
    pub fn plans(&self) -> Vec<(String, String)> {
        let text = |key: &String| Some((plan_of(key)?.to_owned(), self.get(key)?));
        self.keys().iter().filter_map(text).collect()
    }
}

/// Browsers name the same refusal differently: by name, by an older name, or by number alone.
pub(super) fn is_full(error: &DomException) -> bool {
    matches!(
        error.name().as_str(),
        "QuotaExceededError" | "NS_ERROR_DOM_QUOTA_REACHED"
    ) || matches!(error.code(), 22 | 1014)
}

fn reason(error: &JsValue) -> String {
    let full = error.dyn_ref::<DomException>().is_some_and(is_full);
    if full { FULL } else { CLOSED }.to_owned()
}
