//! Signs chosen so that as many sums of sign products as possible come out below a threshold: exact, by branch and bound.
//!
//! Each sum is a constant plus terms `c * s_a * s_b`; with one term each and equal sizes this is a maximum cut (Karp 1972,
//! from memory), with more it is a maximum over threshold functions of products.

use super::{Forest, ParityError};
use core::cmp::Reverse;
use std::collections::BTreeMap;

/// Terms looked at in the search of one cluster of signs before its answer is given without proof.
pub const SIGN_LIMIT: usize = 30_000_000;
/// Sums compared in the look for signs of one cluster that may change places.
const MOST_COMPARED: usize = 500_000;
/// Largest magnitude of a constant, coefficient, threshold or vote; larger ones are cut to it.
pub const LARGEST_COEFFICIENT: i64 = 1 << 40;

/// A product of two signs with a coefficient.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Term {
    /// One sign.
    pub a: usize,
    /// The other; the same one makes a constant.
    pub b: usize,
    /// The coefficient.
    pub coefficient: i64,
}

/// A constant and products of signs.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sum {
    /// The constant.
    pub constant: i64,
    /// The products.
    pub terms: Vec<Term>,
}

impl Sum {
    /// The sum's value.
    pub fn value(&self, signs: &[bool]) -> i64 {
        let product = |t: &Term| match signs[t.a] == signs[t.b] {
            true => t.coefficient,
            false => t.coefficient.saturating_neg(),
        };
        let terms = self.terms.iter().map(product);
        terms.fold(self.constant, i64::saturating_add)
    }
}

/// Signs to choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SignProblem<'a> {
    /// By sign: its value where it is fixed.
    pub fixed: &'a [Option<bool>],
    /// By sign: how much `true` is preferred (negative: `false`), where all else is equal.
    pub votes: &'a [i64],
    /// The sums.
    pub sums: &'a [Sum],
    /// A sum counts as low at or below minus this, and as high at or above it.
    pub threshold: i64,
}

/// Chosen signs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SignChoice {
    /// The signs.
    pub signs: Vec<bool>,
    /// How many sums are low.
    pub low: usize,
    /// What the high sums add up to.
    pub high_total: i64,
    /// Votes for these signs less those against.
    pub votes: i64,
    /// Whether nothing is better; false where a cluster's search reached [`SIGN_LIMIT`].
    pub proven: bool,
    /// Steps of search.
    pub searched: usize,
}

/// How good signs are: more low sums, then less in high sums, then more votes. Greater is better.
type Score = (usize, Reverse<i64>, i64);

/// The signs with most low sums; of these the ones whose high sums add up to least; of these the ones with most votes.
///
/// Exact: signs that share a sum are searched together, clusters apart; of signs that can change places without changing
/// anything only one order is looked at. The bound takes sums with two or more open signs
/// at their best, and those with one open sign at the better value of that sign for all of them together.
///
/// # Errors
/// [`ParityError::NoSuchNode`] for a term with a sign that is not there, [`ParityError::WeightCount`] where votes and
/// signs differ in number, [`ParityError::TooManyNodes`].
pub fn most_low_sums(problem: &SignProblem<'_>) -> Result<SignChoice, ParityError> {
    let n = problem.fixed.len();
    if problem.votes.len() != n {
        return Err(ParityError::WeightCount {
            given: problem.votes.len(),
            needed: n,
        });
    }
    let named = problem.sums.iter().flat_map(|s| &s.terms);
    super::check(n, named.flat_map(|t| [t.a, t.b]))?;
    let cut = |x: i64| x.clamp(-LARGEST_COEFFICIENT, LARGEST_COEFFICIENT);
    let mut signs: Vec<bool> = (0..n)
        .map(|i| problem.fixed[i].unwrap_or(problem.votes[i] >= 0))
        .collect();
    let open = |i: usize| problem.fixed[i].is_none();
    let mut forest = Forest::new(n);
    for sum in problem.sums {
        let mut free = sum
            .terms
            .iter()
            .flat_map(|t| [t.a, t.b])
            .filter(|i| open(*i));
        if let Some(first) = free.next() {
            free.for_each(|other| {
                forest.join(first, other, false);
            });
        }
    }
    let (component_of, components) = super::components(n, &mut forest);
    let mut sums_of: Vec<Vec<Sum>> = vec![Vec::new(); components.len()];
    for sum in problem.sums {
        let free = sum.terms.iter().flat_map(|t| [t.a, t.b]).find(|i| open(*i));
        if let Some(sign) = free {
            sums_of[component_of[sign]].push(Sum {
                constant: cut(sum.constant),
                terms: sum
                    .terms
                    .iter()
                    .map(|t| Term {
                        coefficient: cut(t.coefficient),
                        ..*t
                    })
                    .collect(),
            });
        }
    }
    let votes: Vec<i64> = problem.votes.iter().map(|v| cut(*v)).collect();
    let (mut proven, mut searched) = (true, 0);
    for (component, sums) in components.iter().zip(&sums_of) {
        if sums.is_empty() {
            continue;
        }
        let free: Vec<usize> = component
            .nodes
            .iter()
            .copied()
            .filter(|i| open(*i))
            .collect();
        let mut cluster = Cluster::new(sums, &votes, cut(problem.threshold).max(0), free, &signs);
        cluster.improve();
        proven &= cluster.search();
        searched += cluster.steps;
        for (&i, &sign) in cluster.order.iter().zip(&cluster.best) {
            signs[i] = sign;
        }
    }
    let values: Vec<i64> = problem.sums.iter().map(|s| s.value(&signs)).collect();
    let threshold = cut(problem.threshold).max(0);
    Ok(SignChoice {
        low: values.iter().filter(|v| is_low(**v, threshold)).count(),
        high_total: values
            .iter()
            .map(|v| high(*v, threshold))
            .fold(0, i64::saturating_add),
        votes: votes_for(&votes, &signs),
        signs,
        proven,
        searched,
    })
}

/// With a threshold of zero a sum of zero is neither.
fn is_low(value: i64, threshold: i64) -> bool {
    value < 0 && value <= -threshold
}

fn high(value: i64, threshold: i64) -> i64 {
    if value >= threshold { value.max(0) } else { 0 }
}

fn votes_for(votes: &[i64], signs: &[bool]) -> i64 {
    let pairs = votes.iter().zip(signs);
    pairs.map(|(v, s)| if *s { *v } else { -v }).sum()
}

/// A product of two places of the search order, the lower first, or of one place and a fixed sign.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct LocalTerm {
    a: usize,
    b: Option<usize>,
    coefficient: i64,
}

#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct LocalSum {
    constant: i64,
    terms: Vec<LocalTerm>,
    /// How many sums are like this.
    count: usize,
}

impl LocalSum {
    fn of(constant: i64, terms: impl Iterator<Item = LocalTerm>, count: usize) -> Self {
        let mut merged: BTreeMap<(usize, Option<usize>), i64> = BTreeMap::new();
        for t in terms {
            let key = match t.b {
                Some(b) => (t.a.min(b), Some(t.a.max(b))),
                None => (t.a, None),
            };
            *merged.entry(key).or_default() += t.coefficient;
        }
        let term = |((a, b), coefficient)| LocalTerm { a, b, coefficient };
        Self {
            constant,
            terms: merged
                .into_iter()
                .map(term)
                .filter(|t| t.coefficient != 0)
                .collect(),
            count,
        }
    }

    /// How many of the sums like this are low at a value.
    fn low(&self, value: i64, threshold: i64) -> usize {
        self.count * usize::from(is_low(value, threshold))
    }

    /// What they add to the high total.
    fn high(&self, value: i64, threshold: i64) -> i64 {
        // Counts are lengths of lists, far below where the cast or the product would overflow.
        high(value, threshold) * self.count as i64
    }

    /// The sum with two signs swapped.
    fn swapped(&self, i: usize, k: usize) -> Self {
        let other = |sign: usize| match sign {
            s if s == i => k,
            s if s == k => i,
            s => s,
        };
        let swap = |t: &LocalTerm| LocalTerm {
            a: other(t.a),
            b: t.b.map(other),
            coefficient: t.coefficient,
        };
        Self::of(self.constant, self.terms.iter().map(swap), self.count)
    }
}

/// Equal sums as one, in order.
fn gathered(sums: impl Iterator<Item = LocalSum>) -> Vec<LocalSum> {
    let mut counts: BTreeMap<(i64, Vec<LocalTerm>), usize> = BTreeMap::new();
    for sum in sums {
        *counts.entry((sum.constant, sum.terms)).or_default() += sum.count;
    }
    let sum = |((constant, terms), count)| LocalSum {
        constant,
        terms,
        count,
    };
    counts.into_iter().map(sum).collect()
}

/// By place: the place before it with which it can change places and nothing changes.
fn alike(sums: &[LocalSum], votes: &[i64]) -> Vec<Option<usize>> {
    let n = votes.len();
    let mut before = vec![None; n];
    let mut compared = 0;
    // The last place of each class of places that are alike.
    let mut classes: Vec<usize> = Vec::new();
    for k in 0..n {
        if compared > MOST_COMPARED {
            break;
        }
        let mut same = |i: usize| {
            compared += sums.len();
            votes[i] == votes[k]
                && gathered(sums.iter().map(|s| s.swapped(i, k))).as_slice() == sums
        };
        match classes.iter().position(|i| same(*i)) {
            Some(c) => {
                before[k] = Some(classes[c]);
                classes[c] = k;
            }
            None => classes.push(k),
        }
    }
    before
}

struct Cluster {
    /// The signs in search order.
    order: Vec<usize>,
    votes: Vec<i64>,
    sums: Vec<LocalSum>,
    /// By place: an earlier place that is alike; it is false only if this one is.
    alike: Vec<Option<usize>>,
    threshold: i64,
    best: Vec<bool>,
    best_score: Score,
    steps: usize,
}

impl Cluster {
    fn new(sums: &[Sum], votes: &[i64], threshold: i64, free: Vec<usize>, signs: &[bool]) -> Self {
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
            let product = |t: &LocalTerm| {
                if signs[t.a] == t.b.is_none_or(|b| signs[b]) {
                    t.coefficient
                } else {
                    -t.coefficient
                }
            };
            let value = sum.constant + sum.terms.iter().map(product).sum::<i64>();
            low += sum.low(value, self.threshold);
            total += sum.high(value, self.threshold);
        }
        (low, Reverse(total), votes_for(&self.votes, signs))
    }

    /// Single flips while they help: a good start makes the bound bite.
    fn improve(&mut self) {
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
    fn search(&mut self) -> bool {
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

    /// A score that no completion of the first signs exceeds.
    fn bound(&self, signs: &[bool]) -> Score {
        let known = signs.len();
        // By open sign: low sums and high totals at false and at true, of the sums in which it alone is open.
        let mut alone = vec![[(0_usize, 0_i64); 2]; self.order.len() - known];
        let (mut low, mut total) = (0, 0);
        for sum in &self.sums {
            let (mut fixed, mut open) = (sum.constant, 0);
            let mut only: Option<usize> = None;
            let mut linear = 0;
            for t in &sum.terms {
                let b_open = t.b.filter(|b| *b >= known);
                match (t.a >= known, b_open) {
                    (false, None) => {
                        let same = signs[t.a] == t.b.is_none_or(|b| signs[b]);
                        fixed += if same { t.coefficient } else { -t.coefficient };
                    }
                    (true, Some(_)) => {
                        open += t.coefficient.abs();
                        only = None;
                        linear = i64::MAX;
                    }
                    (a_open, b) => {
                        let (sign, other) = if a_open {
                            (t.a, t.b.is_none_or(|b| signs[b]))
                        } else {
                            (b.unwrap_or(t.a), signs[t.a])
                        };
                        let signed = if other { t.coefficient } else { -t.coefficient };
                        open += t.coefficient.abs();
                        if linear != i64::MAX && only.is_none_or(|o| o == sign) {
                            only = Some(sign);
                            linear += signed;
                        } else {
                            only = None;
                            linear = i64::MAX;
                        }
                    }
                }
            }
            match only {
                Some(sign) => {
                    for (slot, value) in [fixed - linear, fixed + linear].into_iter().enumerate() {
                        let cell = &mut alone[sign - known][slot];
                        cell.0 += sum.low(value, self.threshold);
                        cell.1 += sum.high(value, self.threshold);
                    }
                }
                None => {
                    low += sum.low(fixed - open, self.threshold);
                    total += sum.high(fixed - open, self.threshold);
                }
            }
        }
        for [no, yes] in alone {
            low += no.0.max(yes.0);
            total += no.1.min(yes.1);
        }
        let open_votes: i64 = self.votes[known..].iter().map(|v| v.abs()).sum();
        let votes = votes_for(&self.votes[..known], signs) + open_votes;
        (low, Reverse(total), votes)
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
