//! Lower bounds of a work order: longest chains, hands-on time with set-ups, and the preemptive one-machine schedule.

use super::{Job, Step};
use std::collections::{BTreeMap, BinaryHeap};

/// Least set-up of each batch: whichever step of it comes first needs at least that, before any of them.
pub(super) fn least_setups(steps: &[Step]) -> BTreeMap<u32, u64> {
    let mut least = BTreeMap::new();
    for step in steps {
        if let Some(batch) = step.batch {
            let setup = least.entry(batch).or_insert(u64::MAX);
            *setup = u64::from(step.setup_min).min(*setup);
        }
    }
    least
}

/// Heads and tails by longest chains with delays; `order` respects precedence.
pub(super) fn heads_and_tails(
    steps: &[Step],
    next: &[Vec<(usize, u64)>],
    order: &[usize],
) -> (Vec<u64>, Vec<u64>) {
    let setups = least_setups(steps);
    let setup = |step: &Step| {
        step.batch
            .and_then(|batch| setups.get(&batch).copied())
            .unwrap_or(0)
    };
    let mut head: Vec<u64> = steps.iter().map(setup).collect();
    for &step in order {
        let end = head[step] + u64::from(steps[step].hands_min);
        next[step]
            .iter()
            .for_each(|&(later, delay)| head[later] = head[later].max(end + delay));
    }
    let mut tail: Vec<u64> = steps.iter().map(|step| u64::from(step.wait_min)).collect();
    for &step in order.iter().rev() {
        let after = next[step]
            .iter()
            .map(|&(later, delay)| delay + u64::from(steps[later].hands_min) + tail[later]);
        tail[step] = after.fold(tail[step], u64::max);
    }
    (head, tail)
}

/// Least total time of steps (head, hands, tail) on one machine that may be interrupted: always work on the step at
/// hand with the longest tail (Jackson). `steps` must be sorted by head.
pub(super) fn preemptive(steps: &[(u64, u64, u64)]) -> u64 {
    let mut open: BinaryHeap<(u64, u64)> = BinaryHeap::new();
    let (mut time, mut coming, mut total) = (0_u64, 0, 0_u64);
    loop {
        if open.is_empty() {
            let Some(step) = steps.get(coming) else {
                return total;
            };
            time = time.max(step.0);
        }
        while let Some(&(_, hands, tail)) = steps.get(coming).filter(|step| step.0 <= time) {
            open.push((tail, hands));
            coming += 1;
        }
        if let Some((tail, hands)) = open.pop() {
            let until = steps.get(coming).map_or(u64::MAX, |step| step.0);
            let worked = hands.min(until - time);
            time += worked;
            if worked < hands {
                open.push((tail, hands - worked));
            } else {
                total = total.max(time + tail);
            }
        }
    }
}

/// Best lower bound of the whole job.
pub(super) fn lower_bound(job: &Job<'_>) -> u64 {
    let mut steps: Vec<_> = (0..job.len())
        .map(|i| (job.head[i], job.hands(i), job.tail[i]))
        .collect();
    steps.sort_unstable();
    // Every batch is set up at least once, and after the last hands-on work at least the shortest tail passes.
    let hands: u64 = steps.iter().map(|step| step.1).sum();
    let setups: u64 = least_setups(job.steps).values().sum();
    let last = steps.iter().map(|step| step.2).min().unwrap_or(0);
    preemptive(&steps).max(hands + setups + last)
}
