//! The keys in local storage.

/// Every plan's key begins so.
const PLAN: &str = "lodewright.plan.";
/// When a plan was last saved as a file: `number/at_ms`.
const SAVED: &str = "lodewright.saved.";

/// What is being typed into a field: `plan/field`.
const DRAFT: &str = "lodewright.draft.";

/// Where a plan is kept.
pub fn key_of(plan: &str) -> String {
    format!("{PLAN}{plan}")
}

/// Which plan is kept there; none for keys of other things.
pub fn plan_of(key: &str) -> Option<&str> {
    key.strip_prefix(PLAN).filter(|plan| !plan.is_empty())
}

/// Where it is kept when a plan was last saved as a file.
pub fn saved_key_of(plan: &str) -> String {
    format!("{SAVED}{plan}")
}

/// Where a draft is kept.
pub fn draft_key_of(draft: &str) -> String {
    format!("{DRAFT}{draft}")
}

/// Which draft is kept there; none for keys of other things.
pub fn draft_of(key: &str) -> Option<&str> {
    key.strip_prefix(DRAFT)
}
