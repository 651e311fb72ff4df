//! The cheapest constraints to drop so that a parity system can be satisfied: the complement of a maximum cut.

use super::{Constraint, ParityError, Pin, check_system};

/// Components of at most this many nodes are searched to the end, whatever it takes (at most 2^24 steps).
pub const PROVABLE_NODES: usize = 24;
/// Search steps spent on a larger component before its answer is given without proof.
pub const SEARCH_LIMIT: usize = 2_000_000;

/// Constraints to drop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DropSet {
    /// Indices of the constraints to drop, rising.
    pub dropped: Vec<usize>,
    /// Sum of their weights.
    pub weight: u64,
    /// Whether no cheaper set exists; false when a component's search reached [`SEARCH_LIMIT`].
    pub proven: bool,
    /// Node values under which every kept constraint and every pin holds.
    pub values: Vec<bool>,
}

/// A link between two places of the search order.
struct Tie {
    to: usize,
    differ: bool,
    weight: u64,
}

/// One component, its nodes numbered in search order.
struct Search {
    later: Vec<Vec<Tie>>,
    earlier: Vec<Vec<Tie>>,
    pinned: Vec<Option<bool>>,
}

/// Least total weight of constraints to drop so that the rest, with the pins, can be satisfied.
///
/// Exact by depth-first branch and bound per component (maximum cut is NP-complete, Karp 1972, from memory): the bound
/// adds, for each node still to come, the cheaper of its two values against the nodes already set. Components of at most
/// [`PROVABLE_NODES`] nodes are always proven; larger ones may run into [`SEARCH_LIMIT`], and the answer is then the
/// best found, marked not proven.
/// A weight of zero makes a constraint free to drop; weights are capped at `u32::MAX`. Pins are never dropped.
///
/// # Errors
/// [`ParityError`], also [`ParityError::PinsClash`] for a node pinned to both values.
pub fn fewest_edges_to_drop(
    nodes: usize,
    constraints: &[Constraint],
    weights: &[u64],
    pins: &[Pin],
) -> Result<DropSet, ParityError> {
    check_system(nodes, constraints, pins)?;
    if weights.len() != constraints.len() {
        return Err(ParityError::WeightCount {
            given: weights.len(),
            needed: constraints.len(),
        });
    }
    let mut pinned = vec![None; nodes];
    for pin in pins {
        if pinned[pin.node].is_some_and(|value| value != pin.value) {
            return Err(ParityError::PinsClash { node: pin.node });
        }
        pinned[pin.node] = Some(pin.value);
    }
    // The cap keeps sums far from overflow: a million constraints of u32::MAX still fit.
    let weights: Vec<u64> = weights
        .iter()
        .map(|&w| w.min(u64::from(u32::MAX)))
        .collect();
    let mut values = vec![true; nodes];
    let mut proven = true;
    let orders = search_orders(nodes, constraints);
    for (order, search) in orders
        .iter()
        .zip(searches(&orders, constraints, &weights, &pinned))
    {
        let (found, complete) = search.run();
        proven &= complete;
        order
            .iter()
            .zip(found)
            .for_each(|(&node, value)| values[node] = value);
    }
    let violated = |c: &Constraint| (values[c.a] != values[c.b]) != c.differ;
    let dropped: Vec<usize> = (0..constraints.len())
        .filter(|&i| violated(&constraints[i]))
        .collect();
    let weight = dropped.iter().map(|&i| weights[i]).sum();
    Ok(DropSet {
        dropped,
        weight,
        proven,
        values,
    })
}

/// Nodes of each component in the order of the search: next comes the node with most links to those before it (then
/// most links at all, then the lowest), so that bounds bite early.
fn search_orders(nodes: usize, constraints: &[Constraint]) -> Vec<Vec<usize>> {
    let mut linked: Vec<Vec<usize>> = vec![Vec::new(); nodes];
    for c in constraints.iter().filter(|c| c.a != c.b) {
        linked[c.a].push(c.b);
        linked[c.b].push(c.a);
    }
    let mut placed = vec![false; nodes];
    let mut known = vec![0_usize; nodes];
    let mut orders = Vec::new();
    for first in 0..nodes {
        if placed[first] {
            continue;
        }
        let mut order = Vec::new();
        let mut frontier = std::collections::BTreeSet::from([(0, 0, core::cmp::Reverse(first))]);
        while let Some((_, _, core::cmp::Reverse(node))) = frontier.pop_last() {
            placed[node] = true;
            order.push(node);
            for &next in linked[node].iter().filter(|&&next| !placed[next]) {
                let key = |known| (known, linked[next].len(), core::cmp::Reverse(next));
                frontier.remove(&key(known[next]));
                known[next] += 1;
                frontier.insert(key(known[next]));
            }
        }
        orders.push(order);
    }
    orders
}

/// The searches of all components, in the order of `orders`.
fn searches(
    orders: &[Vec<usize>],
    constraints: &[Constraint],
    weights: &[u64],
    pinned: &[Option<bool>],
) -> Vec<Search> {
    let mut at = vec![(0, 0); pinned.len()];
    let mut searches = Vec::with_capacity(orders.len());
    for (component, order) in orders.iter().enumerate() {
        order
            .iter()
            .enumerate()
            .for_each(|(place, &node)| at[node] = (component, place));
        searches.push(Search::new(
            order.iter().map(|&node| pinned[node]).collect(),
        ));
    }
    for (c, &weight) in constraints.iter().zip(weights).filter(|(c, _)| c.a != c.b) {
        let ((component, a), (_, b)) = (at[c.a], at[c.b]);
        let (first, last) = (a.min(b), a.max(b));
        searches[component].later[first].push(Tie {
            to: last,
            differ: c.differ,
            weight,
        });
        searches[component].earlier[last].push(Tie {
            to: first,
            differ: c.differ,
            weight,
        });
    }
    searches
}

impl Search {
    fn new(pinned: Vec<Option<bool>>) -> Self {
        let none = || (0..pinned.len()).map(|_| Vec::new()).collect();
        Self {
            later: none(),
            earlier: none(),
            pinned,
        }
    }

    /// Weight that node `i` breaks at a value, against its ties in both directions.
    fn broken(&self, values: &[bool], i: usize, value: bool, ties: &[&[Vec<Tie>]]) -> u64 {
        let all = ties.iter().flat_map(|side| &side[i]);
        all.filter(|tie| (values[tie.to] != value) != tie.differ)
            .map(|tie| tie.weight)
            .sum()
    }

    /// Nodes one after another at their cheaper value, then single flips while they help.
    fn greedy(&self) -> Vec<bool> {
        let mut values = vec![true; self.pinned.len()];
        for i in 0..values.len() {
            let [no, yes] = [false, true].map(|v| self.broken(&values, i, v, &[&self.earlier]));
            values[i] = self.pinned[i].unwrap_or(yes <= no);
        }
        let both = [&self.earlier[..], &self.later[..]];
        for _ in 0..100 {
            let mut flipped = false;
            for i in (0..values.len()).filter(|&i| self.pinned[i].is_none()) {
                let now = values[i];
                if self.broken(&values, i, !now, &both) < self.broken(&values, i, now, &both) {
                    values[i] = !now;
                    flipped = true;
                }
            }
            if !flipped {
                break;
            }
        }
        values
    }

    fn cost(&self, values: &[bool]) -> u64 {
        (0..values.len())
            .map(|i| self.broken(values, i, values[i], &[&self.earlier]))
            .sum()
    }

    /// Best values, and whether the search was completed.
    fn run(&self) -> (Vec<bool>, bool) {
        let mut best = self.greedy();
        let mut best_cost = self.cost(&best);
        let limit = if best.len() <= PROVABLE_NODES {
            usize::MAX
        } else {
            SEARCH_LIMIT
        };
        let mut walk = Walk::new(self);
        let mut steps = 0;
        while best_cost > 0 {
            if steps >= limit {
                return (best, false);
            }
            steps += 1;
            if walk.cost + walk.open < best_cost {
                if walk.depth() < best.len() {
                    walk.go_down();
                    continue;
                }
                best.clone_from(&walk.values);
                best_cost = walk.cost;
            }
            if !walk.next_branch() {
                break;
            }
        }
        (best, true)
    }
}

/// A depth-first walk: the values set so far and what each later node's two values would break.
struct Walk<'a> {
    search: &'a Search,
    values: Vec<bool>,
    /// Whether the other value of each set node is still to be tried.
    other_left: Vec<bool>,
    price: Vec<[u64; 2]>,
    cost: u64,
    /// Sum over the nodes not yet set of their cheaper price: what any completion must still break.
    open: u64,
    fixed_sign: bool,
}

impl<'a> Walk<'a> {
    fn new(search: &'a Search) -> Self {
        let size = search.pinned.len();
        let fixed_sign = search.pinned.iter().all(Option::is_none);
        let price = vec![[0, 0]; size];
        Self {
            search,
            values: Vec::new(),
            other_left: Vec::new(),
            price,
            cost: 0,
            open: 0,
            fixed_sign,
        }
    }

    fn depth(&self) -> usize {
        self.values.len()
    }

    fn cheaper(&self, i: usize) -> u64 {
        let [no, yes] = self.price[i];
        match self.search.pinned[i] {
            Some(true) => yes,
            Some(false) => no,
            None => yes.min(no),
        }
    }

    /// Sets the next node to its cheaper value. Without pins all values may be swapped at once, so the first node has one.
    fn go_down(&mut self) {
        let i = self.depth();
        let [no, yes] = self.price[i];
        let value = self.search.pinned[i].unwrap_or(yes <= no);
        let single = self.search.pinned[i].is_some() || (i == 0 && self.fixed_sign);
        self.set(value, !single);
    }

    fn set(&mut self, value: bool, other_left: bool) {
        let i = self.depth();
        self.open -= self.cheaper(i);
        self.cost += self.price[i][usize::from(value)];
        self.values.push(value);
        self.other_left.push(other_left);
        for tie in &self.search.later[i] {
            self.open -= self.cheaper(tie.to);
            self.price[tie.to][usize::from(value == tie.differ)] += tie.weight;
            self.open += self.cheaper(tie.to);
        }
    }

    fn unset(&mut self) -> Option<(bool, bool)> {
        let (value, other_left) = (self.values.pop()?, self.other_left.pop()?);
        let i = self.depth();
        for tie in &self.search.later[i] {
            self.open -= self.cheaper(tie.to);
            self.price[tie.to][usize::from(value == tie.differ)] -= tie.weight;
            self.open += self.cheaper(tie.to);
        }
        self.cost -= self.price[i][usize::from(value)];
        self.open += self.cheaper(i);
        Some((value, other_left))
    }

    /// Goes back to the last node with a value left and sets it; false when there is none.
    fn next_branch(&mut self) -> bool {
        while let Some((value, other_left)) = self.unset() {
            if other_left {
                self.set(!value, false);
                return true;
            }
        }
        false
    }
}
