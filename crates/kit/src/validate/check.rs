//! Collects what is found, and asks what is asked of many entries.

use std::collections::BTreeSet;
use std::fmt::Display;

use crate::{Problem, Severity, ids, limits};

/// Problems listed; a plan with more is mended from the top.
const MOST_FOUND: usize = 200;

/// What was found.
#[derive(Default)]
pub(super) struct Check {
    pub found: Vec<Problem>,
    /// Whether a list is longer than any may be.
    pub too_many: bool,
}

impl Check {
    /// The plan itself.
    pub fn top(&mut self) -> At<'_> {
        At {
            check: self,
            place: String::new(),
        }
    }
}

/// A place in the plan, such as `parts[hook]`; the fields asked about are within it.
pub(super) struct At<'c> {
    check: &'c mut Check,
    place: String,
}

impl At<'_> {
    /// A place within.
    pub fn within(&mut self, step: impl Display) -> At<'_> {
        At {
            place: self.path(step),
            check: self.check,
        }
    }

    fn path(&self, step: impl Display) -> String {
        match (self.place.as_str(), step.to_string()) {
            ("", step) => step,
            (place, step) if step.is_empty() => place.to_owned(),
            (place, step) => format!("{place}.{step}"),
        }
    }

    fn add(&mut self, severity: Severity, field: &str, message: &str, remedy: &str) {
        if self.check.found.len() < MOST_FOUND {
            // Ids and labels of a file may hold anything: a message shows no control characters.
            let clean = |c: char| if c.is_control() { ' ' } else { c };
            let short = |text: &str| text.chars().map(clean).take(limits::LABEL).collect();
            self.check.found.push(Problem {
                severity,
                place: short(&self.path(field)),
                message: short(message),
                remedy: remedy.to_owned(),
            });
        }
    }

    /// The plan cannot be used so.
    pub fn refuse(&mut self, field: &str, message: impl AsRef<str>, remedy: &str) {
        self.add(Severity::Refused, field, message.as_ref(), remedy);
    }

    /// The plan can be used, but not this entry.
    pub fn wrong(&mut self, field: &str, message: impl AsRef<str>, remedy: &str) {
        self.add(Severity::Wrong, field, message.as_ref(), remedy);
    }

    /// A number within bounds.
    pub fn number(&mut self, field: &str, value: f64, low: f64, high: f64) {
        if !(low..=high).contains(&value) {
            let found = figure(value);
            self.refuse(
                field,
                format!("is {found} but must be a number from {low} to {high}."),
                "Correct the number.",
            );
        }
    }

    /// Several numbers of one field, such as a place.
    pub fn each(
        &mut self,
        field: &str,
        values: impl IntoIterator<Item = f64>,
        low: f64,
        high: f64,
    ) {
        for value in values {
            self.number(field, value, low, high);
        }
    }

    /// Several fields with the same bounds.
    pub fn numbers(&mut self, low: f64, high: f64, values: &[(&str, f64)]) {
        for (field, value) in values {
            self.number(field, *value, low, high);
        }
    }

    /// A whole number with an upper bound.
    pub fn at_most(&mut self, field: &str, found: u32, most: u32) {
        if found > most {
            self.refuse(
                field,
                format!("is {found} but may be at most {most}."),
                "Correct the number.",
            );
        }
    }

    /// The length of a list.
    pub fn count(&mut self, field: &str, n: usize, most: usize) {
        if n > most {
            self.check.too_many = true;
            self.refuse(
                field,
                format!("has {n} entries but may have at most {most}."),
                "Take entries out.",
            );
        }
    }

    /// A text that is shown.
    pub fn label(&mut self, field: &str, text: &str, most: usize) {
        let n = text.chars().count();
        if n > most {
            self.refuse(
                field,
                format!("has {n} characters but may have at most {most}."),
                "Shorten it.",
            );
        }
        if text.chars().any(|c| c.is_control() && c != '\n') {
            self.refuse(field, "holds control characters.", "Type it again.");
        }
    }

    /// A list of entries with ids: its length, the ids, and each entry.
    pub fn list<T>(
        &mut self,
        field: &str,
        list: &[T],
        most: usize,
        id: fn(&T) -> &str,
        entry: impl Fn(&mut At<'_>, &T),
    ) {
        self.count(field, list.len(), most);
        let mut seen = BTreeSet::new();
        for x in list {
            let id = id(x);
            let mut at = self.within(format_args!("{field}[{id}]"));
            if !ids::is_legal(id) {
                at.refuse(
                    "id",
                    "must be 1 to 40 of the characters a-z, 0-9 and -.",
                    "Choose another id.",
                );
            }
            if !seen.insert(id) {
                at.twice();
            }
            entry(&mut at, x);
        }
    }

    /// An entry whose id another has.
    pub fn twice(&mut self) {
        self.refuse("id", "stands twice.", "Give each entry an id of its own.");
    }

    /// An entry that is named but not there.
    pub fn missing(&mut self, field: &str, kind: &str, id: &impl Display) {
        self.refuse(
            field,
            format!("names the {kind} '{id}', which is not in the plan."),
            "Add it, or name another.",
        );
    }
}

/// A number as people read it: without hundreds of digits.
fn figure(value: f64) -> String {
    let plain = value == 0.0 || (1e-6..1e9).contains(&value.abs()) || !value.is_finite();
    if plain {
        value.to_string()
    } else {
        format!("{value:e}")
    }
}
