//! The builder's own hand in the steps: goes of split steps, own steps, and pins that hold.

use std::collections::BTreeMap;

use lodewright_kit::OwnWork;

use crate::step::{OwnName, Task, WorkStep};

/// Key of one go of a split step, `go` from 0.
pub fn go_key(step: &str, go: usize) -> String {
    format!("{step}#{}", go + 1)
}

/// The steps with the builder's own, and the pins (by index) that cannot be kept: their steps are not there, or they would
/// make steps wait for one another in a circle.
pub(crate) fn with_own(list: Vec<WorkStep>, own: &OwnWork) -> (Vec<WorkStep>, Vec<usize>) {
    let mut steps = split(list, own);
    for step in &own.steps {
        steps.push(WorkStep {
            key: step.key.clone(),
            task: Task::Own,
            own: Some(OwnName {
                name: step.name.clone(),
                go_of: None,
            }),
            hands_min: step.hands_min,
            wait_min: step.wait_min,
            after: Vec::new(),
            no_return: false,
        });
    }
    let broken = pin(&mut steps, own);
    (steps, broken)
}

fn split(list: Vec<WorkStep>, own: &OwnWork) -> Vec<WorkStep> {
    let goes = |key: &str| {
        own.splits
            .iter()
            .find(|s| s.step == key && s.goes.len() > 1)
            .map(|s| s.goes.as_slice())
    };
    let mut last_of = Vec::with_capacity(list.len());
    let mut next = 0;
    for step in &list {
        next += goes(&step.key).map_or(1, <[_]>::len);
        last_of.push(next - 1);
    }
    let mut out: Vec<WorkStep> = Vec::with_capacity(next);
    for mut step in list {
        for (before, _) in &mut step.after {
            *before = last_of[*before];
        }
        let Some(goes) = goes(&step.key) else {
            out.push(step);
            continue;
        };
        for (n, go) in goes.iter().enumerate() {
            let after = match n {
                0 => step.after.clone(),
                _ => vec![(out.len() - 1, true)],
            };
            out.push(WorkStep {
                key: go_key(&step.key, n),
                own: Some(OwnName {
                    name: go.name.clone(),
                    go_of: Some(step.key.clone()),
                }),
                hands_min: go.hands_min,
                wait_min: go.wait_min,
                after,
                ..step.clone()
            });
        }
    }
    out
}

fn pin(steps: &mut [WorkStep], own: &OwnWork) -> Vec<usize> {
    // A step that was split answers to its old key too: its first go when it comes later, its last when it comes first.
    let mut first: BTreeMap<String, usize> = BTreeMap::new();
    let mut last: BTreeMap<String, usize> = BTreeMap::new();
    for (i, step) in steps.iter().enumerate() {
        let whole = step.own.as_ref().and_then(|own| own.go_of.as_ref());
        for key in [Some(&step.key), whole].into_iter().flatten() {
            first.entry(key.clone()).or_insert(i);
            last.insert(key.clone(), i);
        }
    }
    let mut broken = Vec::new();
    for (n, pin) in own.pins.iter().enumerate() {
        match (first.get(&pin.step), last.get(&pin.after)) {
            (Some(step), Some(after)) if !leads_to(steps, *after, *step) => {
                steps[*step].after.push((*after, true));
            }
            _ => broken.push(n),
        }
    }
    broken
}

/// Whether `later` waits, straight or round corners, for `earlier`; also where they are the same.
fn leads_to(steps: &[WorkStep], later: usize, earlier: usize) -> bool {
    let mut seen = vec![false; steps.len()];
    let mut open = vec![later];
    while let Some(at) = open.pop() {
        if at == earlier {
            return true;
        }
        if !std::mem::replace(&mut seen[at], true) {
            open.extend(steps[at].after.iter().map(|(before, _)| *before));
        }
    }
    false
}
