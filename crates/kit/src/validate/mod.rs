//! Whether the entries of a plan are legal and fit together.

use tiny_sort::stable::sort_by_key;
mod desk;
mod entries;
mod structure;

use std::collections::BTreeSet;

use crate::{Plan, Problem, Severity};

/// Limits of a plan; a file beyond them is refused.
pub mod limits {
    /// Parts that take part in the change of variants.
    pub const PARTS: usize = 1_000;
    /// Sockets.
    pub const SOCKETS: usize = 400;
    /// Variants.
    pub const VARIANTS: usize = 100;
    /// Plugs of one part.
    pub const PLUGS: usize = 8;
    /// Sites of one socket or plug.
    pub const SITES: usize = 24;
    /// Seats to choose from in one cell.
    pub const SEATS: usize = 40;
    /// Points of an outline.
    pub const POINTS: usize = 64;
    /// Sizes of magnets, and of steel.
    pub const STOCK: usize = 60;
    /// Packs of one size.
    pub const PACKS: usize = 12;
    /// Materials, and bits.
    pub const LIST: usize = 100;
    /// Done marks.
    pub const DONE: usize = 20_000;
    /// Characters of a step's key: it holds up to four ids.
    pub const KEY: usize = 240;
    /// Own steps, splits and pins, each.
    pub const OWN_STEPS: usize = 300;
    /// Goes of one split step.
    pub const GOES: usize = 12;
    /// Spaces to stow in, and how many of one kind.
    pub const SPACES: usize = 20;
    /// Largest amount of money, hundredths of the currency.
    pub const CENTS: u32 = 100_000_000;
    /// Characters of a label.
    pub const LABEL: usize = 200;
    /// Characters of a note.
    pub const NOTE: usize = 4_000;
    /// Characters of the picture behind the drawing: about 150 kB of picture.
    pub const PICTURE: usize = 200_000;
    /// Largest coordinate or size, mm.
    pub const MM: f64 = 5_000.0;
}

/// Problems listed; a plan with more is mended from the top.
const MOST_FOUND: usize = 200;

pub(crate) fn problems(plan: &Plan) -> Vec<Problem> {
    let mut check = Check::default();
    entries::check(plan, &mut check);
    desk::check(plan, &mut check);
    // References of a plan with too many entries are not looked at: that is quick only within the limits.
    if !check.too_many {
        structure::check(plan, &mut check);
    }
    sort_by_key(&mut check.found, |p| p.severity);
    check.found
}

/// Collects what is found.
#[derive(Default)]
pub(crate) struct Check {
    found: Vec<Problem>,
    too_many: bool,
}

impl Check {
    fn add(&mut self, severity: Severity, place: &str, said: String, remedy: &str) {
        if self.found.len() < MOST_FOUND {
            // Ids and labels of a file may hold anything: a message shows no control characters.
            let clean = |c: char| if c.is_control() { ' ' } else { c };
            let short = |text: &str| {
                let shown = text.chars().map(clean).take(limits::LABEL);
                shown.collect::<String>()
            };
            self.found.push(Problem {
                severity,
                place: short(place),
                said: short(&said),
                remedy: remedy.to_owned(),
            });
        }
    }

    fn refuse(&mut self, place: &str, said: String, remedy: &str) {
        self.add(Severity::Refused, place, said, remedy);
    }

    fn wrong(&mut self, place: &str, said: String, remedy: &str) {
        self.add(Severity::Wrong, place, said, remedy);
    }

    fn range(&mut self, place: &str, field: &str, value: f64, low: f64, high: f64) {
        if !(low..=high).contains(&value) {
            self.refuse(
                &format!("{place}.{field}"),
                format!(
                    "is {} but must be a number from {low} to {high}.",
                    figure(value)
                ),
                "Correct the number.",
            );
        }
    }

    fn numbers(&mut self, place: &str, low: f64, high: f64, values: &[(&str, f64)]) {
        for (field, value) in values {
            self.range(place, field, *value, low, high);
        }
    }

    fn count(&mut self, place: &str, n: usize, most: usize) {
        if n > most {
            self.too_many = true;
            self.refuse(
                place,
                format!("has {n} entries but may have at most {most}."),
                "Take entries out.",
            );
        }
    }

    fn label(&mut self, place: &str, text: &str, most: usize) {
        let n = text.chars().count();
        if n > most {
            self.refuse(
                place,
                format!("has {n} characters but may have at most {most}."),
                "Shorten it.",
            );
        }
        if text.chars().any(|c| c.is_control() && c != '\n') {
            self.refuse(
                place,
                "holds control characters.".to_owned(),
                "Type it again.",
            );
        }
    }

    fn id<'a>(&mut self, list: &str, id: &'a str, legal: bool, seen: &mut BTreeSet<&'a str>) {
        let place = format!("{list}[{id}].id");
        if !legal {
            self.refuse(
                &place,
                "must be 1 to 40 of the characters a-z, 0-9 and -.".to_owned(),
                "Choose another id.",
            );
        }
        if !seen.insert(id) {
            self.refuse(
                &place,
                "stands twice.".to_owned(),
                "Give each entry an id of its own.",
            );
        }
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
