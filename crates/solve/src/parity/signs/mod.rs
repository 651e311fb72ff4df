//! Signs chosen so that as many sums of sign products as possible come out below a threshold: exact, by branch and bound.
//!
//! Each sum is a constant plus terms `c * s_a * s_b`; with one term each and equal sizes this is a maximum cut (Karp 1972,
//! from memory), with more it is a maximum over threshold functions of products.

mod bound;
mod cluster;
mod eliminate;
mod local;

use super::{Forest, ParityError};
use cluster::Cluster;
use local::{high, is_low, votes_for};

/// Terms looked at in the search of one cluster of signs before its answer is given without proof.
pub const SIGN_LIMIT: usize = 30_000_000;
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

    /// The signs that it names.
    fn signs(&self) -> impl Iterator<Item = usize> {
        self.terms.iter().flat_map(|t| [t.a, t.b])
    }

    /// The same with constant and coefficients cut.
    fn cut(&self) -> Self {
        let term = |t: &Term| Term {
            coefficient: cut(t.coefficient),
            ..*t
        };
        Self {
            constant: cut(self.constant),
            terms: self.terms.iter().map(term).collect(),
        }
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
    /// No signs make more sums low; the same where that is proven.
    pub low_at_most: usize,
    /// What the high sums add up to.
    pub high_total: i64,
    /// Votes for these signs less those against.
    pub votes: i64,
    /// Whether nothing is better; false where a cluster's search reached [`SIGN_LIMIT`].
    pub proven: bool,
    /// Steps of search.
    pub searched: usize,
}

/// The signs with most low sums; of these the ones whose high sums add up to least; of these the ones with most votes.
///
/// Exact: signs that share a sum are taken together, clusters apart. A cluster that hangs together loosely is solved by
/// eliminating sign after sign, others by search: of signs that can change places without changing
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
    super::check(n, problem.sums.iter().flat_map(Sum::signs))?;
    let threshold = cut(problem.threshold).max(0);
    let mut signs: Vec<bool> = (0..n)
        .map(|i| problem.fixed[i].unwrap_or(problem.votes[i] >= 0))
        .collect();
    let open = |i: usize| problem.fixed[i].is_none();
    let mut forest = Forest::new(n);
    for sum in problem.sums {
        let mut free = sum.signs().filter(|i| open(*i));
        if let Some(first) = free.next() {
            free.for_each(|other| {
                forest.join(first, other, false);
            });
        }
    }
    let (component_of, components) = super::components(n, &mut forest);
    let mut sums_of: Vec<Vec<Sum>> = vec![Vec::new(); components.len()];
    for sum in problem.sums {
        if let Some(sign) = sum.signs().find(|i| open(*i)) {
            sums_of[component_of[sign]].push(sum.cut());
        }
    }
    let votes: Vec<i64> = problem.votes.iter().map(|v| cut(*v)).collect();
    let (mut proven, mut searched) = (true, 0);
    let settled = problem.sums.iter().filter(|s| !s.signs().any(open));
    let mut low_at_most = settled
        .filter(|s| is_low(s.value(&signs), threshold))
        .count();
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
        let mut cluster = Cluster::new(sums, &votes, threshold, free, &signs);
        let is_proven = if let Some(best) = cluster.eliminated() {
            cluster.settle(best);
            true
        } else {
            cluster.improve();
            cluster.search()
        };
        proven &= is_proven;
        low_at_most += cluster.low_at_most(is_proven);
        searched += cluster.steps;
        for (&i, &sign) in cluster.order.iter().zip(&cluster.best) {
            signs[i] = sign;
        }
    }
    let values: Vec<i64> = problem.sums.iter().map(|s| s.value(&signs)).collect();
    Ok(SignChoice {
        low: values.iter().filter(|v| is_low(**v, threshold)).count(),
        low_at_most,
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

fn cut(x: i64) -> i64 {
    x.clamp(-LARGEST_COEFFICIENT, LARGEST_COEFFICIENT)
}
