//! A place for texts by key, and the keys in use.

use std::collections::BTreeMap;

/// Where texts can be kept under keys.
pub trait KeyValue {
    /// All keys.
    fn keys(&self) -> Vec<String>;
    /// The text of a key.
    fn get(&self, key: &str) -> Option<String>;
    /// Keeps a text.
    ///
    /// # Errors
    /// Says what the reader should know when the place is full or closed.
    fn set(&mut self, key: &str, text: &str) -> Result<(), String>;
    /// Forgets a text.
    fn remove(&mut self, key: &str);
}

/// The index: when each plan was last changed.
pub const INDEX: &str = "lodewright.index";
/// Every plan's key begins so.
const PLAN: &str = "lodewright.plan.";

/// Where a plan is kept.
pub fn key_of(plan: &str) -> String {
    format!("{PLAN}{plan}")
}

/// Which plan is kept there; none for keys of other things.
pub fn plan_of(key: &str) -> Option<&str> {
    key.strip_prefix(PLAN).filter(|plan| !plan.is_empty())
}

impl KeyValue for BTreeMap<String, String> {
    fn keys(&self) -> Vec<String> {
        Self::keys(self).cloned().collect()
    }

    fn get(&self, key: &str) -> Option<String> {
        Self::get(self, key).cloned()
    }

    fn set(&mut self, key: &str, text: &str) -> Result<(), String> {
        self.insert(key.to_owned(), text.to_owned());
        Ok(())
    }

    fn remove(&mut self, key: &str) {
        Self::remove(self, key);
    }
}
