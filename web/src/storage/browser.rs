//! The browser's local storage, with its refusals in words.

use gloo::utils::window;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{DomException, Storage};

use super::KeyValue;

/// Local storage, where the browser has one and lets us.
pub struct BrowserStorage(Option<Storage>);

impl BrowserStorage {
    /// Opens it.
    pub fn open() -> Self {
        Self(window().local_storage().ok().flatten())
    }
}

const CLOSED: &str = "This browser lets the page store nothing (private window or settings). Save the plan as a file.";
const FULL: &str =
    "The browser's storage for this page is full. Save plans as files, then delete some here.";

impl KeyValue for BrowserStorage {
    fn keys(&self) -> Vec<String> {
        let Some(storage) = &self.0 else {
            return Vec::new();
        };
        (0..storage.length().unwrap_or(0))
            .filter_map(|n| storage.key(n).ok().flatten())
            .collect()
    }

    fn get(&self, key: &str) -> Option<String> {
        self.0.as_ref()?.get_item(key).ok().flatten()
    }

    fn set(&mut self, key: &str, text: &str) -> Result<(), String> {
        let storage = self.0.as_ref().ok_or(CLOSED)?;
        storage.set_item(key, text).map_err(|e| reason(&e))
    }

    fn remove(&mut self, key: &str) {
        if let Some(storage) = &self.0 {
            // Nothing can be done about a refusal, and the next start shows the plan again.
            let _ = storage.remove_item(key);
        }
    }
}

/// Browsers name the same refusal differently: by name, by an older name, or by number alone.
fn reason(error: &JsValue) -> String {
    let Some(error) = error.dyn_ref::<DomException>() else {
        return CLOSED.to_owned();
    };
    let full = matches!(
        error.name().as_str(),
        "QuotaExceededError" | "NS_ERROR_DOM_QUOTA_REACHED"
    ) || matches!(error.code(), 22 | 1014);
    if full { FULL } else { CLOSED }.to_owned()
}
