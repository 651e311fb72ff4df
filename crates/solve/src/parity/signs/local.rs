//! The sums of one cluster by places of its search order, equal ones as one.

use std::collections::BTreeMap;

/// Sums compared in the look for signs of one cluster that may change places.
const MOST_COMPARED: usize = 500_000;

/// With a threshold of zero a sum of zero is neither.
pub(super) fn is_low(value: i64, threshold: i64) -> bool {
    value < 0 && value <= -threshold
}

/// What a sum adds to the high total.
pub(super) fn high(value: i64, threshold: i64) -> i64 {
    if value >= threshold { value.max(0) } else { 0 }
}

pub(super) fn votes_for(votes: &[i64], signs: &[bool]) -> i64 {
    let pairs = votes.iter().zip(signs);
    pairs.map(|(v, s)| if *s { *v } else { -v }).sum()
}

/// A product of two places of the search order, the lower first, or of one place and a fixed sign.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct LocalTerm {
    pub a: usize,
    pub b: Option<usize>,
    pub coefficient: i64,
}

impl LocalTerm {
    /// Its value, once the signs of both its places are known.
    pub fn value(&self, signs: &[bool]) -> i64 {
        if signs[self.a] == self.b.is_none_or(|b| signs[b]) {
            self.coefficient
        } else {
            -self.coefficient
        }
    }
}

/// A constant and terms.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct LocalSum {
    pub constant: i64,
    pub terms: Vec<LocalTerm>,
    /// How many sums are like this.
    pub count: usize,
}

impl LocalSum {
    pub fn of(constant: i64, terms: impl Iterator<Item = LocalTerm>, count: usize) -> Self {
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

    pub fn value(&self, signs: &[bool]) -> i64 {
        let terms = self.terms.iter().map(|t| t.value(signs));
        self.constant + terms.sum::<i64>()
    }

    /// How many of the sums like this are low at a value.
    pub fn low(&self, value: i64, threshold: i64) -> usize {
        self.count * usize::from(is_low(value, threshold))
    }

    /// What they add to the high total.
    pub fn high(&self, value: i64, threshold: i64) -> i64 {
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
pub(super) fn gathered(sums: impl Iterator<Item = LocalSum>) -> Vec<LocalSum> {
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
pub(super) fn alike(sums: &[LocalSum], votes: &[i64]) -> Vec<Option<usize>> {
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
