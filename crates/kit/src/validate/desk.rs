//! What the builder adds at the desk: own work, terms of a quote, room for loose parts, marks of progress.

use std::collections::BTreeSet;

use super::{Check, limits};
use crate::Plan;

pub(super) fn check(plan: &Plan, c: &mut Check) {
    progress(plan, c);
    own_work(plan, c);
    quote(plan, c);
    stowing(plan, c);
}

fn progress(plan: &Plan, c: &mut Check) {
    let p = &plan.progress;
    c.count("progress.done", p.done.len(), limits::DONE);
    for word in &p.done {
        c.label("progress.done", word, limits::KEY);
    }
    c.count("progress.marks", p.marks.len(), limits::DONE);
    for mark in &p.marks {
        c.label("progress.marks.step", &mark.step, limits::KEY);
        if let Some(took_min) = mark.took_min {
            c.range("progress.marks", "took_min", took_min, 0.0, 100_000.0);
        }
    }
}

fn own_work(plan: &Plan, c: &mut Check) {
    let work = &plan.own_work;
    c.count("own_work.steps", work.steps.len(), limits::OWN_STEPS);
    c.count("own_work.splits", work.splits.len(), limits::OWN_STEPS);
    c.count("own_work.pins", work.pins.len(), limits::OWN_STEPS);
    let mut seen = BTreeSet::new();
    for step in &work.steps {
        let place = format!("own_work.steps[{}]", step.key);
        c.label(&format!("{place}.key"), &step.key, limits::KEY);
        if !step.key.starts_with("own:") {
            c.refuse(
                &format!("{place}.key"),
                "must begin with 'own:'.".to_owned(),
                "Put 'own:' in front.",
            );
        }
        if !seen.insert(&step.key) {
            c.refuse(
                &format!("{place}.key"),
                "stands twice.".to_owned(),
                "Give each step a key of its own.",
            );
        }
        time(c, &place, &step.name, step.hands_min, step.wait_min);
    }
    let mut seen = BTreeSet::new();
    for split in &work.splits {
        let place = format!("own_work.splits[{}]", split.step);
        c.label(&place, &split.step, limits::KEY);
        c.count(&format!("{place}.goes"), split.goes.len(), limits::GOES);
        if !seen.insert(&split.step) {
            c.refuse(
                &place,
                "stands twice.".to_owned(),
                "Split a step in one list of goes.",
            );
        }
        for go in &split.goes {
            time(c, &place, &go.name, go.hands_min, go.wait_min);
        }
    }
    for pin in &work.pins {
        c.label("own_work.pins.step", &pin.step, limits::KEY);
        c.label("own_work.pins.after", &pin.after, limits::KEY);
    }
}

fn time(c: &mut Check, place: &str, name: &str, hands_min: f64, wait_min: f64) {
    c.label(&format!("{place}.name"), name, limits::LABEL);
    c.numbers(
        place,
        0.0,
        100_000.0,
        &[("hands_min", hands_min), ("wait_min", wait_min)],
    );
}

fn quote(plan: &Plan, c: &mut Check) {
    let q = &plan.quote;
    c.count("quote.extras", q.extras.len(), limits::LIST);
    for extra in &q.extras {
        c.label("quote.extras.name", &extra.name, limits::LABEL);
        money(c, "quote.extras.cents", extra.cents);
    }
    c.numbers(
        "quote",
        0.0,
        1_000.0,
        &[
            ("margin_percent", q.margin_percent),
            ("tax_percent", q.tax_percent),
        ],
    );
    if q.valid_days > 10_000 {
        c.refuse(
            "quote.valid_days",
            format!("is {} but may be at most 10000.", q.valid_days),
            "Correct it.",
        );
    }
    c.label("quote.note", &q.note, limits::NOTE);
    money(c, "kit.price_cents", plan.kit.price_cents);
}

fn money(c: &mut Check, place: &str, cents: u32) {
    if cents > limits::CENTS {
        c.refuse(
            place,
            format!("is {cents} but may be at most {}.", limits::CENTS),
            "Correct the amount.",
        );
    }
}

fn stowing(plan: &Plan, c: &mut Check) {
    let s = &plan.stowing;
    c.count("stowing.spaces", s.spaces.len(), limits::SPACES);
    c.count("stowing.upright", s.upright.len(), limits::PARTS);
    c.range("stowing", "padding_mm", s.padding_mm, 0.0, 100.0);
    for space in &s.spaces {
        let place = format!("stowing.spaces[{}]", space.name);
        c.label(&format!("{place}.name"), &space.name, limits::LABEL);
        for edge_mm in space.inside_mm {
            c.range(&place, "inside_mm", edge_mm, 0.1, limits::MM);
        }
        if space.count == 0 || space.count as usize > limits::SPACES {
            c.refuse(
                &format!("{place}.count"),
                format!("is {} but must be 1 to {}.", space.count, limits::SPACES),
                "Correct the number.",
            );
        }
    }
}
