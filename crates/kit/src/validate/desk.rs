//! What the builder adds at the desk: own work, terms of a quote, room for loose parts, marks of progress.

use std::collections::BTreeSet;

use super::check::At;
use crate::{OwnWork, Plan, Progress, QuoteTerms, StowSpace, Stowing, limits};

pub(super) fn check(plan: &Plan, at: &mut At<'_>) {
    progress(&mut at.within("progress"), &plan.progress);
    own_work(&mut at.within("own_work"), &plan.own_work);
    quote(&mut at.within("quote"), &plan.quote);
    stowing(&mut at.within("stowing"), &plan.stowing);
}

fn progress(at: &mut At<'_>, p: &Progress) {
    at.count("done", p.done.len(), limits::DONE);
    for word in &p.done {
        at.label("done", word, limits::KEY);
    }
    at.count("marks", p.marks.len(), limits::DONE);
    for mark in &p.marks {
        at.label("marks.step", &mark.step, limits::KEY);
        at.each("marks.took_min", mark.took_min, 0.0, 100_000.0);
    }
}

fn own_work(at: &mut At<'_>, work: &OwnWork) {
    own_steps(at, work);
    splits(at, work);
    at.count("pins", work.pins.len(), limits::OWN_STEPS);
    for pin in &work.pins {
        at.label("pins.step", &pin.step, limits::KEY);
        at.label("pins.after", &pin.after, limits::KEY);
    }
}

fn own_steps(at: &mut At<'_>, work: &OwnWork) {
    at.count("steps", work.steps.len(), limits::OWN_STEPS);
    let mut seen = BTreeSet::new();
    for step in &work.steps {
        let mut at = at.within(format_args!("steps[{}]", step.key));
        at.label("key", &step.key, limits::KEY);
        if !step.key.starts_with("own:") {
            at.refuse("key", "must begin with 'own:'.", "Put 'own:' in front.");
        }
        if !seen.insert(&step.key) {
            at.refuse("key", "stands twice.", "Give each step a key of its own.");
        }
        time(&mut at, &step.name, step.hands_min, step.wait_min);
    }
}

fn splits(at: &mut At<'_>, work: &OwnWork) {
    at.count("splits", work.splits.len(), limits::OWN_STEPS);
    let mut seen = BTreeSet::new();
    for split in &work.splits {
        let mut at = at.within(format_args!("splits[{}]", split.step));
        at.label("", &split.step, limits::KEY);
        at.count("goes", split.goes.len(), limits::GOES);
        if !seen.insert(&split.step) {
            at.refuse("", "stands twice.", "Split a step in one list of goes.");
        }
        for go in &split.goes {
            time(&mut at, &go.name, go.hands_min, go.wait_min);
        }
    }
}

fn time(at: &mut At<'_>, name: &str, hands_min: f64, wait_min: f64) {
    at.label("name", name, limits::LABEL);
    at.number("hands_min", hands_min, 0.0, 100_000.0);
    at.number("wait_min", wait_min, 0.0, 100_000.0);
}

fn quote(at: &mut At<'_>, q: &QuoteTerms) {
    at.count("extras", q.extras.len(), limits::LIST);
    for extra in &q.extras {
        at.label("extras.name", &extra.name, limits::LABEL);
        at.at_most("extras.cents", extra.cents, limits::CENTS);
    }
    at.number("margin_percent", q.margin_percent, 0.0, 1_000.0);
    at.number("tax_percent", q.tax_percent, 0.0, 1_000.0);
    at.at_most("valid_days", q.valid_days, 10_000);
    at.label("note", &q.note, limits::NOTE);
}

fn stowing(at: &mut At<'_>, s: &Stowing) {
    at.count("spaces", s.spaces.len(), limits::SPACES);
    at.count("upright", s.upright.len(), limits::PARTS);
    at.number("padding_mm", s.padding_mm, 0.0, 100.0);
    for space in &s.spaces {
        self::space(
            &mut at.within(format_args!("spaces[{}]", space.name)),
            space,
        );
    }
}

fn space(at: &mut At<'_>, space: &StowSpace) {
    at.label("name", &space.name, limits::LABEL);
    at.each("inside_mm", space.inside_mm, 0.1, limits::MM);
    if space.count == 0 || space.count as usize > limits::SPACES {
        at.refuse(
            "count",
            format!("is {} but must be 1 to {}.", space.count, limits::SPACES),
            "Correct the number.",
        );
    }
}
