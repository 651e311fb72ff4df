//! The search over the signs of one cluster: those that hang together through sums.

use core::cmp::Reverse;

use super::local::{LocalSum, LocalTerm, alike, gathered, votes_for};
use super::{SIGN_LIMIT, Sum, Term};

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
        let place = |sign: usize| order.iter().position(|i| *i == sign);
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

    /// Single flips while they help: a good start makes the bound bite.
    pub(super) fn improve(&mut self) {
        let mut again = true;
        while again {
            again = false;
            for i in 0..self.best.len() {
                self.best[i] = !self.best[i];
                let score = self.score(&self.best);
                if score > self.best_score {
                    self.best_score = score;
                    again = true;
                } else {
                    self.best[i] = !self.best[i];
                }
            }
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
fn search_order(sums: &[Sum], mut free: Vec<usize>) -> Vec<usize> {
    let mut order: Vec<usize> = Vec::new();
    let all = || sums.iter().flat_map(|s| &s.terms);
    while !free.is_empty() {
        let rank = |sign: usize| {
            let at = || all().filter(move |t| (t.a == sign) != (t.b == sign));
            let to = |t: &Term| if t.a == sign { t.b } else { t.a };
            let known = at().filter(|t| order.contains(&to(t))).count();
            (known, at().count(), Reverse(sign))
        };
        let Some(at) = (0..free.len()).max_by_key(|i| rank(free[*i])) else {
            break;
        };
        order.push(free.remove(at));
    }
    order
}
