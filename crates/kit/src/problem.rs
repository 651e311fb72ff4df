//! What is wrong with a plan, where, and what to do about it.

use std::fmt;

use serde::Serialize;

/// How bad a problem is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// The plan cannot be used: a file that has it is refused.
    Refused,
    /// The plan can be used, but answers that touch the entry will be wrong or missing.
    Wrong,
}

/// One entry that does not fit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// How bad.
    pub severity: Severity,
    /// Where: a path such as `sockets[nose].sites[a].wall_mm`.
    pub place: String,
    /// What was found and what it must be.
    pub message: String,
    /// What to do.
    pub remedy: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {} {}", self.place, self.message, self.remedy)
    }
}
