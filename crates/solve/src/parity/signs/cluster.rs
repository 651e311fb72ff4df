//! The search over the signs of one cluster: those that hang together through sums.

use core::cmp::Reverse;

use oorandom::Rand32;

use super::local::{LocalSum, LocalTerm, alike, gathered, votes_for};
use super::{SIGN_LIMIT, Sum};

/// Sums looked at for a good start.
const IMPROVE_LIMIT: usize = 20_000_000;

/// How good signs are: more low sums, then less in high sums, then more votes. Greater is better.
pub(super) type Score = (usize, Reverse<i64>, i64);

/// Signs that are searched together.
pub(super) struct Cluster {
    /// The signs in search order.
    pub order: Vec<usize>,
    pub votes: Vec<i64>,
    pub sums: Vec<LocalSum>,
    /// By place: an earlier place that is alike; it is false only if this one is.
    alike: Vec<Option<usize>>,
    pub threshold: i64,
    pub best: Vec<bool>,
    best_score: Score,
    pub steps: usize,
}

impl Cluster {
    pub(super) fn new(
        sums: &[Sum],
        votes: &[i64],
        threshold: i64,
        free: Vec<usize>,
        signs: &[bool],
    ) -> Self {
        let order = search_order(sums, free);
        let mut places = vec![None; signs.len()];
        for (at, sign) in order.iter().enumerate() {
            places[*sign] = Some(at);
        }
        let place = |sign: usize| places[sign];
        let local = |sum: &Sum| {
            let (mut constant, mut terms) = (sum.constant, Vec::new());
            for t in &sum.terms {
                let factor = |sign: usize| if signs[sign] { 1 } else { -1 };
                let (a, b, coefficient) = match (place(t.a), place(t.b)) {
                    (Some(a), Some(b)) if a != b => (a, Some(b), t.coefficient),
                    (Some(a), None) => (a, None, t.coefficient * factor(t.b)),
                    (None, Some(b)) => (b, None, t.coefficient * factor(t.a)),
                    (Some(_), Some(_)) => {
                        constant += t.coefficient;
                        continue;
                    }
                    (None, None) => {
                        constant += t.coefficient * factor(t.a) * factor(t.b);
                        continue;
                    }
                };
                terms.push(LocalTerm { a, b, coefficient });
            }
            LocalSum::of(constant, terms.into_iter(), 1)
        };
        let votes: Vec<i64> = order.iter().map(|i| votes[*i]).collect();
        let sums = gathered(sums.iter().map(local));
        let mut cluster = Self {
            alike: alike(&sums, &votes),
            votes,
            sums,
            threshold,
            best: order.iter().map(|i| signs[*i]).collect(),
            best_score: (0, Reverse(0), 0),
            order,
            steps: 0,
        };
        cluster.best_score = cluster.score(&cluster.best);
        cluster
    }

    fn score(&self, signs: &[bool]) -> Score {
        let (mut low, mut total) = (0, 0);
        for sum in &self.sums {
            let value = sum.value(signs);
            low += sum.low(value, self.threshold);
            total += sum.high(value, self.threshold);
        }
        (low, Reverse(total), votes_for(&self.votes, signs))
    }

    /// Single flips while they help, then again from some signs flipped by lot (iterated local search): a good start makes
    /// the bound bite, and is the answer where the search is cut short.
    pub(super) fn improve(&mut self) {
        let n = self.best.len();
        let mut at: Vec<Vec<usize>> = vec![Vec::new(); n];
        for (s, sum) in self.sums.iter().enumerate() {
            for sign in sum.terms.iter().flat_map(|t| [Some(t.a), t.b]).flatten() {
                if at[sign].last() != Some(&s) {
                    at[sign].push(s);
                }
            }
        }
        let mut work = self.flip_while_it_helps(&at);
        self.best_score = self.score(&self.best);
        // The same lots in every run.
        let mut lot = Rand32::new(n as u64);
        let last = u32::try_from(n).unwrap_or(u32::MAX);
        while n > 2 && work < IMPROVE_LIMIT {
            let before = self.best.clone();
            for _ in 0..2 + lot.rand_range(0..4) {
                // Signs near each other: one, and one that shares a sum with it.
                let sign = lot.rand_range(0..last) as usize;
                self.best[sign] = !self.best[sign];
                let Some(sum) = at[sign].get(lot.rand_range(0..1 + at[sign].len() as u32) as usize)
                else {
                    continue;
                };
                for t in &self.sums[*sum].terms {
                    for other in [Some(t.a), t.b]
                        .into_iter()
                        .flatten()
                        .filter(|o| *o != sign)
                    {
                        self.best[other] = !self.best[other];
                    }
                }
            }
            work += 1 + self.flip_while_it_helps(&at);
            let score = self.score(&self.best);
            if score >= self.best_score {
                self.best_score = score;
            } else {
                self.best = before;
            }
        }
    }

    /// Flips single signs of the best while that helps; the sums looked at.
    fn flip_while_it_helps(&mut self, at: &[Vec<usize>]) -> usize {
        let (mut again, mut work) = (true, 0);
        while again {
            again = false;
            for (i, sums) in at.iter().enumerate() {
                work += 2 * sums.len();
                let before = self.part(sums, i);
                self.best[i] = !self.best[i];
                if self.part(sums, i) > before {
                    again = true;
                } else {
                    self.best[i] = !self.best[i];
                }
            }
        }
        work
    }

    /// What the best signs come to in some sums and in the votes for one of them.
    fn part(&self, sums: &[usize], sign: usize) -> Score {
        let (mut low, mut total) = (0, 0);
        for sum in sums.iter().map(|s| &self.sums[*s]) {
            let value = sum.value(&self.best);
            low += sum.low(value, self.threshold);
            total += sum.high(value, self.threshold);
        }
        let vote = self.votes[sign];
        (
            low,
            Reverse(total),
            if self.best[sign] { vote } else { -vote },
        )
    }

    /// Takes signs for the best, which they are.
    pub(super) fn settle(&mut self, signs: Vec<bool>) {
        self.best_score = self.score(&signs);
        self.best = signs;
    }

    /// Low sums that no choice exceeds.
    pub(super) fn low_at_most(&self, is_proven: bool) -> usize {
        if is_proven {
            self.best_score.0
        } else {
            self.bound(&[]).0
        }
    }

    /// Depth first over the signs in order, the voted value first; whether it was completed.
    pub(super) fn search(&mut self) -> bool {
        let mut signs: Vec<bool> = Vec::new();
        let mut other_left: Vec<bool> = Vec::new();
        let terms: usize = self.sums.iter().map(|s| 1 + s.terms.len()).sum();
        loop {
            if self.steps.saturating_mul(terms) >= SIGN_LIMIT {
                return false;
            }
            self.steps += 1;
            if self.bound(&signs) > self.best_score {
                let next = signs.len();
                if next < self.order.len() {
                    // Of signs that are alike those that are true come first: the rest is the same over again.
                    let forced = self.alike[next].is_some_and(|before: usize| !signs[before]);
                    signs.push(self.votes[next] >= 0 && !forced);
                    other_left.push(!forced);
                    continue;
                }
                self.best_score = self.score(&signs);
                self.best.clone_from(&signs);
            }
            loop {
                match (signs.pop(), other_left.pop()) {
                    (Some(sign), Some(true)) => {
                        signs.push(!sign);
                        other_left.push(false);
                        break;
                    }
                    (Some(_), _) => {}
                    (None, _) => return true,
                }
            }
        }
    }
}

/// The signs of a cluster in the order of the search: next comes the one in most terms with those before it, then in most
/// terms, then the lowest.
fn search_order(sums: &[Sum], free: Vec<usize>) -> Vec<usize> {
    let place = |sign: usize| free.binary_search(&sign).ok();
    let mut beside: Vec<Vec<usize>> = vec![Vec::new(); free.len()];
    let mut count = vec![0_usize; free.len()];
    for t in sums.iter().flat_map(|s| &s.terms).filter(|t| t.a != t.b) {
        let ends = [place(t.a), place(t.b)];
        ends.iter().flatten().for_each(|i| count[*i] += 1);
        if let [Some(a), Some(b)] = ends {
            beside[a].push(b);
            beside[b].push(a);
        }
    }
    let mut known = vec![0_usize; free.len()];
    let mut left: Vec<usize> = (0..free.len()).collect();
    let mut order = Vec::with_capacity(free.len());
    while let Some(at) =
        (0..left.len()).max_by_key(|i| (known[left[*i]], count[left[*i]], Reverse(left[*i])))
    {
        let next = left.swap_remove(at);
        order.push(free[next]);
        beside[next].iter().for_each(|i| known[*i] += 1);
    }
    order
}
