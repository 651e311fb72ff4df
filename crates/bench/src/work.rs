//! The work order: the steps in the order that one pair of hands finishes soonest, cure times passing meanwhile.

use std::collections::BTreeMap;

use lodewright_joints::{Filling, Scene};
use lodewright_solve::schedule::{After, Step, schedule};
use serde::Serialize;

use crate::drill::DrillLine;
use crate::steps::{StepKind, WorkStep, steps};

/// The work in order.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct WorkOrder {
    /// The steps in order of work; `after` speaks of places in this list.
    pub steps: Vec<WorkStep>,
    /// By step: when it begins, minutes of work and waiting from the start.
    pub starts_min: Vec<f64>,
    /// Hands-on time of all steps and changes of bit, min.
    pub hands_min: f64,
    /// From the first step to the last cure, without nights or breaks, min.
    pub total_min: f64,
    /// No order takes less, min.
    pub lower_bound_min: f64,
    /// Whether this order is known to be the shortest.
    pub shortest: bool,
}

/// The scheduler counts whole tenths of a minute.
const TENTHS: f64 = 10.0;

/// Orders the work.
pub fn work_order(scene: &Scene<'_, '_>, fillings: &[Filling], drills: &[DrillLine]) -> WorkOrder {
    let bit_mm: BTreeMap<usize, f64> = drills.iter().map(|d| (d.hole, d.bit_mm)).collect();
    let list = steps(scene, fillings, &bit_mm);
    let tenths = |min: f64| (min * TENTHS).round().clamp(0.0, 1e6) as u32;
    let setup_min = tenths(scene.board.plan.rates.bit_change_min);
    let tasks: Vec<Step> = list
        .iter()
        .map(|s| Step {
            hands_min: tenths(s.hands_min),
            wait_min: tenths(s.wait_min),
            batch: batch(s, &bit_mm),
            setup_min: if s.kind == StepKind::Drill {
                setup_min
            } else {
                0
            },
            after: s
                .after
                .iter()
                .map(|(step, cured)| After {
                    step: *step,
                    cured: *cured,
                })
                .collect(),
        })
        .collect();
    let Ok(plan) = schedule(&tasks) else {
        return unordered(list);
    };
    let mut place = vec![0; list.len()];
    for (at, step) in plan.order.iter().enumerate() {
        place[*step] = at;
    }
    let ordered: Vec<WorkStep> = plan
        .order
        .iter()
        .map(|i| {
            let mut step = list[*i].clone();
            step.after
                .iter_mut()
                .for_each(|(before, _)| *before = place[*before]);
            step.after.sort_unstable();
            step
        })
        .collect();
    let mut hands = 0u64;
    let mut bit = None;
    for i in &plan.order {
        let task = &tasks[*i];
        if task.batch.is_some() && task.batch != bit {
            hands += u64::from(task.setup_min);
        }
        bit = task.batch;
        hands += u64::from(task.hands_min);
    }
    let minutes = |t: u64| t as f64 / TENTHS;
    WorkOrder {
        starts_min: plan
            .order
            .iter()
            .map(|i| minutes(plan.starts_min[*i]))
            .collect(),
        steps: ordered,
        hands_min: minutes(hands),
        total_min: minutes(plan.total_min),
        lower_bound_min: minutes(plan.lower_bound_min),
        shortest: plan.optimal,
    }
}

/// Drilling is batched by bit, the other kinds by what they are.
fn batch(step: &WorkStep, bit_mm: &BTreeMap<usize, f64>) -> Option<u32> {
    match step.kind {
        StepKind::Drill => step
            .hole
            .and_then(|h| bit_mm.get(&h))
            .map(|bit| 1_000 + (bit * 100.0).round() as u32),
        kind => Some(kind as u32),
    }
}

/// Too many steps for the scheduler: in the order of their making, which respects what comes before what.
fn unordered(list: Vec<WorkStep>) -> WorkOrder {
    let hands_min = list.iter().map(|s| s.hands_min).sum();
    let mut at_min = 0.0;
    let mut starts_min: Vec<f64> = Vec::with_capacity(list.len());
    let mut cured_min: Vec<f64> = Vec::with_capacity(list.len());
    for step in &list {
        let ready = |(before, cured): &(usize, bool)| match (
            starts_min.get(*before),
            cured_min.get(*before),
        ) {
            (Some(start), Some(cure)) => {
                if *cured {
                    *cure
                } else {
                    start + list[*before].hands_min
                }
            }
            _ => 0.0,
        };
        let start = step.after.iter().map(ready).fold(at_min, f64::max);
        starts_min.push(start);
        at_min = start + step.hands_min;
        cured_min.push(at_min + step.wait_min);
    }
    WorkOrder {
        total_min: cured_min.iter().copied().fold(0.0, f64::max),
        steps: list,
        starts_min,
        hands_min,
        lower_bound_min: 0.0,
        shortest: false,
    }
}
