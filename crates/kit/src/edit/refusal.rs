//! Why an edit is not made.

use std::fmt;

/// Why an edit was not made, in one or two sentences for the builder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The sentences.
    pub said: String,
}

impl Refusal {
    pub(crate) fn new(said: impl Into<String>) -> Self {
        Self { said: said.into() }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said)
    }
}

impl std::error::Error for Refusal {}

/// What an edit names, or the refusal where it is not in the plan.
pub(super) fn found<T>(entry: Option<T>) -> Result<T, Refusal> {
    entry.ok_or_else(|| Refusal::new("This entry is no longer in the plan. Open the page again."))
}

/// A label as it is kept.
pub(super) fn label(text: &str) -> Result<String, Refusal> {
    match text.trim() {
        "" => Err(Refusal::new("A name is needed. Type one.")),
        name => Ok(name.to_owned()),
    }
}
