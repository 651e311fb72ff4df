//! List scheduling with several priority rules, then moves of single steps while they help.

use super::{Bench, Job};
use core::cmp::Reverse;
use std::collections::BinaryHeap;

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

/// Steps that may come next and that no rule tells apart. The rules look at every kind before every step; steps are many,
/// kinds few.
struct Kind {
    batch: Option<u32>,
    setup: u64,
    chain: u64,
    ready: u64,
    /// The steps, lowest number first.
    steps: BinaryHeap<Reverse<usize>>,
}

impl Kind {
    fn is_same(&self, bench: &Bench) -> bool {
        self.batch.is_some() && self.batch == bench.batch
    }

    fn start(&self, bench: &Bench) -> u64 {
        let setup = if self.is_same(bench) { 0 } else { self.setup };
        (bench.free + setup).max(self.ready)
    }
}

/// Puts a step with those of its kind. Everything that it waits for is done, so that its `ready` is final.
fn put(open: &mut Vec<Kind>, job: &Job<'_>, bench: &Bench, step: usize) {
    let batch = job.steps[step].batch;
    let setup = batch.map_or(0, |_| u64::from(job.steps[step].setup_min));
    let (chain, ready) = (job.hands(step) + job.tail[step], bench.ready[step]);
    let alike =
        |k: &&mut Kind| (k.batch, k.setup, k.chain, k.ready) == (batch, setup, chain, ready);
    match open.iter_mut().find(alike) {
        Some(kind) => kind.steps.push(Reverse(step)),
        None => open.push(Kind {
            batch,
            setup,
            chain,
            ready,
            steps: BinaryHeap::from([Reverse(step)]),
        }),
    }
}

fn list(job: &Job<'_>, rule: Rule) -> Vec<usize> {
    let mut waits = job.waits_for();
    let mut bench = job.bench();
    let mut open = Vec::new();
    for step in (0..job.len()).filter(|&i| waits[i] == 0) {
        put(&mut open, job, &bench, step);
    }
    let mut order = Vec::with_capacity(job.len());
    loop {
        let soonest = match rule {
            Rule::BatchThenTail => open.iter().map(|k| k.start(&bench)).min().unwrap_or(0),
            _ => 0,
        };
        let key = |kind: &Kind| {
            let start = kind.start(&bench);
            let late = Reverse(start);
            let same = u64::from(kind.is_same(&bench));
            match rule {
                Rule::SoonestThenTail => (0, late, kind.chain),
                Rule::BatchThenTail => (
                    u64::from(start <= soonest.max(bench.free)) * (1 + same),
                    late,
                    kind.chain,
                ),
                Rule::Tail => (kind.chain, late, 0),
                Rule::Pressing => (start + kind.chain, late, 0),
                Rule::BatchAlways => (same, late, kind.chain),
            }
        };
        // Of equal keys the lowest step number: the greatest of the heaps' tops, which are turned round.
        let best = (0..open.len()).max_by_key(|&i| (key(&open[i]), open[i].steps.peek().copied()));
        let Some(Reverse(step)) = best.and_then(|i| open[i].steps.pop()) else {
            return order;
        };
        open.retain(|kind| !kind.steps.is_empty());
        job.take(&mut bench, step);
        order.push(step);
        for &(later, _) in &job.next[step] {
            waits[later] -= 1;
            if waits[later] == 0 {
                put(&mut open, job, &bench, later);
            }
        }
    }
}

/// Moves one step at a time to where the total is least, as long as that helps and trials are left.
fn improve(job: &Job<'_>, mut order: Vec<usize>, lower_bound: u64) -> Vec<usize> {
    let mut total = job.total(&order);
    // A trial costs the length of the order at most, so long orders get fewer.
    let mut trials = MOST_TRIALS.min(MOST_WORK / order.len().max(1));
    let mut bench = job.bench();
    let mut improved = true;
    while improved && total > lower_bound {
        improved = false;
        for from in 0..order.len() {
            let (first, last) = free_range(job, &order, from);
            // What comes before the range is the same in all its trials.
            let mut begun = job.bench();
            for &step in &order[..first] {
                job.take(&mut begun, step);
            }
            for to in (first..=last).filter(|&to| to != from) {
                if trials == 0 {
                    return order;
                }
                trials -= 1;
                shift(&mut order, from, to);
                bench.copy(&begun);
                if let Some(less) = job.total_below(&mut bench, &order[first..], total) {
                    (total, improved) = (less, true);
                    break;
                }
                shift(&mut order, to, from);
            }
        }
    }
    order
}

/// Moves the step at `from` to `to`; the ones between close up.
fn shift(order: &mut [usize], from: usize, to: usize) {
    if from < to {
        order[from..=to].rotate_left(1);
    } else {
        order[to..=from].rotate_right(1);
    }
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
