//! Branch and bound over orders, to the end for small ones, with a limit on the places visited.

use super::{Bench, Job, bound};
use std::collections::BTreeMap;
use tiny_sort::stable::sort_by_key;

/// Places visited before the search is given up.
const MOST_PLACES: usize = 100_000;
/// Work allowed, counted in steps looked at, so that long orders do not take long.
const MOST_WORK: usize = 20_000_000;
/// Longest order searched: sets of done steps are kept as bits.
const MOST_SEARCHED: usize = 64;

/// A place in the search: what has been done, and which steps are still to be tried next.
struct Place {
    bench: Bench,
    done: u64,
    waits: Vec<usize>,
    choices: Vec<usize>,
}

/// What was reached with the same steps done and the same last batch: hands free, all cured, and each step's readiness.
type Reached = BTreeMap<(u64, Option<u32>), Vec<(u64, u64, Vec<u64>)>>;

struct Search<'a> {
    job: &'a Job<'a>,
    best: Vec<usize>,
    total: u64,
    lower_bound: u64,
    reached: Reached,
    /// For each batch: its least set-up, and its steps as bits.
    batches: Vec<(u32, u64, u64)>,
}

/// Best order found from `start`, and whether no shorter one exists.
pub(super) fn branch_and_bound(
    job: &Job<'_>,
    start: Vec<usize>,
    lower_bound: u64,
) -> (Vec<usize>, bool) {
    if job.len() > MOST_SEARCHED {
        return (start, false);
    }
    let total = job.total(&start);
    let bits = |batch| {
        (0..job.len())
            .filter(|&i| job.steps[i].batch == Some(batch))
            .map(|i| 1 << i)
            .sum()
    };
    let batches = bound::least_setups(job.steps)
        .into_iter()
        .map(|(batch, setup)| (batch, setup, bits(batch)))
        .collect();
    let mut search = Search {
        job,
        best: start,
        total,
        lower_bound,
        reached: BTreeMap::new(),
        batches,
    };
    let complete = search.run();
    (search.best, complete)
}

impl Search<'_> {
    fn run(&mut self) -> bool {
        let job = self.job;
        let root = self.place(job.bench(), 0, job.waits_for());
        let (mut stack, mut order) = (vec![root], Vec::with_capacity(job.len()));
        let mut visited = 0;
        while let Some(place) = stack.last_mut() {
            let Some(step) = place.choices.pop() else {
                stack.pop();
                order.pop();
                continue;
            };
            visited += 1;
            if visited > MOST_PLACES.min(MOST_WORK / (job.len() * job.len()).max(1)) {
                return false;
            }
            let (mut bench, mut waits) = (place.bench.clone(), place.waits.clone());
            let done = place.done | 1 << step;
            job.take(&mut bench, step);
            job.next[step]
                .iter()
                .for_each(|&(later, _)| waits[later] -= 1);
            order.push(step);
            if order.len() == job.len() && bench.done < self.total {
                self.best.clone_from(&order);
                self.total = bench.done;
            }
            if self.total == self.lower_bound {
                return true;
            }
            if order.len() == job.len()
                || self.bound(&bench, done) >= self.total
                || self.known(&bench, done)
            {
                order.pop();
            } else {
                let next = self.place(bench, done, waits);
                stack.push(next);
            }
        }
        true
    }

    /// Steps that may come next, the most promising last.
    fn place(&self, bench: Bench, done: u64, waits: Vec<usize>) -> Place {
        let job = self.job;
        let mut choices: Vec<usize> = (0..job.len())
            .filter(|&i| done >> i & 1 == 0 && waits[i] == 0)
            .collect();
        let key = |&i: &usize| {
            (
                core::cmp::Reverse(job.start(&bench, i)),
                job.hands(i) + job.tail[i],
                core::cmp::Reverse(i),
            )
        };
        sort_by_key(&mut choices, key);
        Place {
            bench,
            done,
            waits,
            choices,
        }
    }

    /// Lower bound of what can follow: the preemptive schedule of the remaining steps from now on, or all hands-on time
    /// and set-ups left.
    fn bound(&self, bench: &Bench, done: u64) -> u64 {
        let job = self.job;
        let left = (0..job.len()).filter(|&i| done >> i & 1 == 0);
        let head = |i: usize| bench.free.max(bench.ready[i]).max(job.head[i]);
        let mut steps: Vec<_> = left.map(|i| (head(i), job.hands(i), job.tail[i])).collect();
        steps.sort_unstable();
        let hands: u64 = steps.iter().map(|step| step.1).sum();
        let last = steps.iter().map(|step| step.2).min().unwrap_or(0);
        // Batches with steps left, other than the one at hand, must each be set up once more.
        let open = self
            .batches
            .iter()
            .filter(|&&(batch, _, bits)| bits & !done != 0 && bench.batch != Some(batch));
        let setups: u64 = open.map(|&(_, setup, _)| setup).sum();
        bound::preemptive(&steps)
            .max(bench.free + setups + hands + last)
            .max(bench.done)
    }

    /// Whether the same steps were done before, no later in any respect; if not, remembers this.
    fn known(&mut self, bench: &Bench, done: u64) -> bool {
        let left = (0..self.job.len()).filter(|&i| done >> i & 1 == 0);
        // Readiness before the hands are free is all the same.
        let ready: Vec<u64> = left.map(|i| bench.ready[i].max(bench.free)).collect();
        let reached = self.reached.entry((done, bench.batch)).or_default();
        let no_later = |r: &(u64, u64, Vec<u64>)| {
            r.0 <= bench.free && r.1 <= bench.done && r.2.iter().zip(&ready).all(|(a, b)| a <= b)
        };
        if reached.iter().any(no_later) {
            return true;
        }
        // Few are kept, so that looking them up stays cheap.
        if reached.len() < 8 {
            reached.push((bench.free, bench.done, ready));
        }
        false
    }
}
