//! The work order: the steps in the order that one pair of hands finishes soonest, cure times passing meanwhile.

use std::collections::BTreeMap;

use lodewright_joints::{Context, Fillings, HoleIx};
use lodewright_solve::schedule::{After, Step, schedule};

use crate::drill::DrillLine;
use crate::own::with_own;
use crate::step::{StepKind, WorkStep};
use crate::steps::steps;

/// The work in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WorkOrder {
    /// The steps in order of work, those that are done in front; `after` speaks of places in this list.
    pub steps: Vec<WorkStep>,
    /// How many of them were done when the order was made.
    pub done_before: usize,
    /// By step: when it begins, minutes of work and waiting from where the work stands; 0 for what is done.
    pub starts_min: Vec<f64>,
    /// Hands-on time of all steps and changes of bit, min.
    pub hands_min: f64,
    /// From the first open step to the last cure, without nights or breaks, min.
    pub total_min: f64,
    /// No order takes less, min.
    pub lower_bound_min: f64,
    /// Whether this order is known to be the shortest.
    pub shortest: bool,
    /// The builder's pins that cannot be kept, by index.
    pub broken_pins: Vec<usize>,
}

/// The scheduler counts whole tenths of a minute.
const TENTHS: f64 = 10.0;

/// Orders the work: what is done stays in front in the order in which it was done, the rest is ordered anew. A wait after
/// a step that is done is taken as over: nothing here knows the time of day.
pub fn work_order(context: &Context, fillings: &Fillings, drills: &[DrillLine]) -> WorkOrder {
    let plan = context.plan();
    let bit_mm: BTreeMap<HoleIx, f64> = drills.iter().map(|d| (d.hole, d.bit_mm)).collect();
    let (list, broken_pins) = with_own(steps(context, fillings, &bit_mm), &plan.own_work);
    let (done, open) = parted(&list, &plan.progress.done);
    let tenths = |min: f64| (min * TENTHS).round().clamp(0.0, 1e6) as u32;
    let setup_min = tenths(plan.rates.bit_change_min);
    let mut task_of = vec![None; list.len()];
    for (task, step) in open.iter().enumerate() {
        task_of[*step] = Some(task);
    }
    let task = |i: &usize| {
        let s = &list[*i];
        let after = |(step, cured): &(usize, bool)| {
            Some(After {
                step: task_of[*step]?,
                cured: *cured,
            })
        };
        Step {
            hands_min: tenths(s.hands_min),
            wait_min: tenths(s.wait_min),
            batch: batch(s, &bit_mm),
            setup_min: if s.kind() == StepKind::Drill {
                setup_min
            } else {
                0
            },
            after: s.after.iter().filter_map(after).collect(),
        }
    };
    let tasks: Vec<Step> = open.iter().map(task).collect();
    let minutes = |t: u64| t as f64 / TENTHS;
    let found = schedule(&tasks).ok();
    let open_in_order: Vec<usize> = match &found {
        Some(plan) => plan.order.iter().map(|t| open[*t]).collect(),
        // Too many steps for the scheduler: the order of their making respects what comes before what.
        None => open.clone(),
    };
    let order: Vec<usize> = done.iter().chain(&open_in_order).copied().collect();
    let starts_of_open: Vec<f64> = match &found {
        Some(plan) => plan
            .order
            .iter()
            .map(|t| minutes(plan.starts_min[*t]))
            .collect(),
        None => starts_one_by_one(&list, &open),
    };
    let total_min = match &found {
        Some(plan) => minutes(plan.total_min),
        None => open
            .iter()
            .zip(&starts_of_open)
            .map(|(i, start)| start + list[*i].hands_min + list[*i].wait_min)
            .fold(0.0, f64::max),
    };
    WorkOrder {
        hands_min: hands_min(&list, &order, &bit_mm, plan.rates.bit_change_min),
        steps: in_order(&list, &order),
        starts_min: vec![0.0; done.len()]
            .into_iter()
            .chain(starts_of_open)
            .collect(),
        done_before: done.len(),
        total_min,
        lower_bound_min: found.as_ref().map_or(0.0, |p| minutes(p.lower_bound_min)),
        shortest: found.is_some_and(|p| p.optimal),
        broken_pins,
    }
}

/// Steps that are done, in the order of the ticks, and the others.
fn parted(list: &[WorkStep], ticks: &[String]) -> (Vec<usize>, Vec<usize>) {
    let place: BTreeMap<&str, usize> = list
        .iter()
        .enumerate()
        .map(|(i, s)| (s.key.as_str(), i))
        .collect();
    let mut is_done = vec![false; list.len()];
    let mut done = Vec::new();
    for i in ticks.iter().filter_map(|t| place.get(t.as_str())) {
        if !std::mem::replace(&mut is_done[*i], true) {
            done.push(*i);
        }
    }
    let open = (0..list.len()).filter(|i| !is_done[*i]).collect();
    (done, open)
}

fn in_order(list: &[WorkStep], order: &[usize]) -> Vec<WorkStep> {
    let mut place = vec![0; list.len()];
    for (at, step) in order.iter().enumerate() {
        place[*step] = at;
    }
    let moved = |i: &usize| {
        let mut step = list[*i].clone();
        for (before, _) in &mut step.after {
            *before = place[*before];
        }
        step.after.sort_unstable();
        step
    };
    order.iter().map(moved).collect()
}

/// All hands-on time and every change of bit.
fn hands_min(
    list: &[WorkStep],
    order: &[usize],
    bit_mm: &BTreeMap<HoleIx, f64>,
    bit_change_min: f64,
) -> f64 {
    let tenths = |min: f64| (min * TENTHS).round().clamp(0.0, 1e6);
    let (mut hands, mut last) = (0.0, None);
    for step in order.iter().map(|i| &list[*i]) {
        let now = batch(step, bit_mm);
        if step.kind() == StepKind::Drill && now != last {
            hands += tenths(bit_change_min);
        }
        last = now;
        hands += tenths(step.hands_min);
    }
    hands / TENTHS
}

fn starts_one_by_one(list: &[WorkStep], open: &[usize]) -> Vec<f64> {
    let mut free_min = 0.0;
    let (mut done_min, mut cured_min) = (vec![0.0; list.len()], vec![0.0; list.len()]);
    let mut starts = Vec::with_capacity(open.len());
    for i in open {
        let step = &list[*i];
        let ready = |(before, cured): &(usize, bool)| {
            if *cured {
                cured_min[*before]
            } else {
                done_min[*before]
            }
        };
        let start: f64 = step.after.iter().map(ready).fold(free_min, f64::max);
        free_min = start + step.hands_min;
        done_min[*i] = free_min;
        cured_min[*i] = free_min + step.wait_min;
        starts.push(start);
    }
    starts
}

/// Drilling is batched by bit, the other kinds by what they are.
fn batch(step: &WorkStep, bit_mm: &BTreeMap<HoleIx, f64>) -> Option<u32> {
    match step.kind() {
        StepKind::Drill => step
            .task
            .hole()
            .and_then(|h| bit_mm.get(&h))
            .map(|bit| 1_000 + (bit * 100.0).round() as u32),
        kind => Some(kind as u32),
    }
}
