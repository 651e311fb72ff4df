//! List scheduling with several priority rules, then moves of single steps while they help.

use super::Job;
use core::cmp::Reverse;

/// Orders evaluated while improving.
const MOST_TRIALS: usize = 20_000;
/// Work allowed while improving, counted in steps looked at: an app works the order out anew at every edit.
const MOST_WORK: usize = 400_000;

/// A rule: among the steps that may come next, the one with the greatest key.
#[derive(Clone, Copy)]
enum Rule {
    /// Longest tail among those that can begin soonest.
    SoonestThenTail,
    /// Same batch first, among those that can begin before the hands would fall idle.
    BatchThenTail,
    /// Longest tail whatever the wait.
    Tail,
    /// Least time from now until the step's whole tail would be over, turned round: the most pressing chain.
    Pressing,
    /// Same batch whatever the wait.
    BatchAlways,
}

const RULES: [Rule; 5] = [
    Rule::SoonestThenTail,
    Rule::BatchThenTail,
    Rule::Tail,
    Rule::Pressing,
    Rule::BatchAlways,
];

pub(super) fn best_list(job: &Job<'_>, lower_bound: u64) -> Vec<usize> {
    let lists = RULES.map(|rule| list(job, rule));
    let best = lists
        .into_iter()
        .min_by_key(|order| job.total(order))
        .unwrap_or_default();
    improve(job, best, lower_bound)
}

fn list(job: &Job<'_>, rule: Rule) -> Vec<usize> {
    let mut waits = job.waits_for();
    let mut open: Vec<usize> = (0..job.len()).filter(|&i| waits[i] == 0).collect();
    let mut bench = job.bench();
    let mut order = Vec::with_capacity(job.len());
    loop {
        let soonest = open
            .iter()
            .map(|&i| job.start(&bench, i))
            .min()
            .unwrap_or(0);
        let key = |i: usize| {
            let start = job.start(&bench, i);
            let (late, tail) = (Reverse(start), job.tail[i]);
            let same = u64::from(job.steps[i].batch.is_some() && job.steps[i].batch == bench.batch);
            let chain = job.hands(i) + tail;
            match rule {
                Rule::SoonestThenTail => (0, late, chain),
                Rule::BatchThenTail => (
                    u64::from(start <= soonest.max(bench.free)) * (1 + same),
                    late,
                    chain,
                ),
                Rule::Tail => (chain, late, 0),
                Rule::Pressing => (start + chain, late, 0),
                Rule::BatchAlways => (same, late, chain),
            }
        };
        // Of equal keys the lowest step number.
        let Some((place, &step)) = open
            .iter()
            .enumerate()
            .max_by_key(|&(_, &i)| (key(i), Reverse(i)))
        else {
            return order;
        };
        open.swap_remove(place);
        job.take(&mut bench, step);
        order.push(step);
        for &(later, _) in &job.next[step] {
            waits[later] -= 1;
            if waits[later] == 0 {
                open.push(later);
            }
        }
    }
}

/// Moves one step at a time to where the total is least, as long as that helps and trials are left.
fn improve(job: &Job<'_>, mut order: Vec<usize>, lower_bound: u64) -> Vec<usize> {
    let mut total = job.total(&order);
    // A trial costs the length of the order, so long orders get fewer.
    let mut trials = MOST_TRIALS.min(MOST_WORK / order.len().max(1));
    let mut improved = true;
    while improved && total > lower_bound {
        improved = false;
        for from in 0..order.len() {
            let (first, last) = free_range(job, &order, from);
            for to in (first..=last).filter(|&to| to != from) {
                if trials == 0 {
                    return order;
                }
                trials -= 1;
                let moved = moved(&order, from, to);
                let trial = job.total(&moved);
                if trial < total {
                    (order, total, improved) = (moved, trial, true);
                    break;
                }
            }
        }
    }
    order
}

fn moved(order: &[usize], from: usize, to: usize) -> Vec<usize> {
    let mut order = order.to_vec();
    let step = order.remove(from);
    order.insert(to, step);
    order
}

/// First and last place that a step can move to without overtaking a step it depends on, or that depends on it.
fn free_range(job: &Job<'_>, order: &[usize], from: usize) -> (usize, usize) {
    let step = order[from];
    let before = |other: usize| {
        job.steps[step]
            .after
            .iter()
            .any(|after| after.step == other)
    };
    let after = |other: usize| job.next[step].iter().any(|&(later, _)| later == other);
    let first = order[..from]
        .iter()
        .rposition(|&other| before(other))
        .map_or(0, |i| i + 1);
    let last = order[from + 1..]
        .iter()
        .position(|&other| after(other))
        .map_or(order.len() - 1, |i| from + i);
    (first, last)
}
