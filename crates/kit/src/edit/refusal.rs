//! Why an edit is not made.

use std::fmt;

use crate::Problem;

/// Why an edit was not made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// It asks for what cannot be done; in one or two sentences for the builder.
    CannotBe(String),
    /// It would leave an entry that no file could hold.
    Illegal(Problem),
}

impl Refusal {
    pub(crate) fn new(message: impl Into<String>) -> Self {
        Self::CannotBe(message.into())
    }

    /// The same for somebody who looks at the field that caused it: without the path of the entry.
    pub fn beside_the_field(&self) -> String {
        match self {
            Self::CannotBe(message) => message.clone(),
            Self::Illegal(problem) => format!("This {} {}", problem.message, problem.remedy),
        }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::CannotBe(message) => f.write_str(message),
            Self::Illegal(problem) => problem.fmt(f),
        }
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
