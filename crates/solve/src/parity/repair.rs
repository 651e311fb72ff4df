//! The cheapest repairs of a parity system when each kind of repair takes away several constraints or pins at once.
//!
//! Every odd cycle must be hit by a chosen repair: a minimum-weight hitting set over sets that are not written down but
//! found when they are violated (implicit hitting set; Karp 1972 for the hardness, from memory). Taking out a node is a
//! repair that removes every constraint at it, so edge removal (the complement of a maximum cut) and node removal (odd
//! cycle transversal: Reed, Smith & Vetta 2004, from memory) mix freely.

use super::repair_search::{Found, Graph, Search};
use super::{Constraint, Forest, ParityError, Pin, check_system};
use tiny_sort::stable::sort_by;

/// Search nodes opened for one cluster of the system before its list is given without proof.
pub const REPAIR_LIMIT: usize = 20_000;
/// Most alternatives that are listed.
pub const MOST_ALTERNATIVES: usize = 100;

/// One thing that can be done to a system.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Repair {
    /// Indices of the constraints that it takes away.
    pub removes: Vec<usize>,
    /// Indices of the pins that it takes away.
    pub unpins: Vec<usize>,
    /// Indices of constraints that it brings in: those named by any repair hold only once such a repair is chosen.
    pub adds: Vec<usize>,
    /// Its price, capped at `u32::MAX`.
    pub weight: u64,
}

/// A system with all that can be done to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RepairProblem<'a> {
    /// Number of nodes.
    pub nodes: usize,
    /// Constraints.
    pub constraints: &'a [Constraint],
    /// Pins.
    pub pins: &'a [Pin],
    /// Repairs to choose from.
    pub repairs: &'a [Repair],
    /// Pairs of repairs of which at most one may be chosen.
    pub conflicts: &'a [[usize; 2]],
}

/// Repairs after which the system can be satisfied, none of them idle.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct RepairSet {
    /// Sum of their weights.
    pub weight: u64,
    /// Indices of the repairs, rising.
    pub repairs: Vec<usize>,
}

/// The cheapest repairs of a system.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Repaired {
    /// Cheapest first. A system without contradiction has one set, the empty one.
    pub sets: Vec<RepairSet>,
    /// The first so many are known to be the cheapest there are, in order; fewer than all where a search reached
    /// [`REPAIR_LIMIT`].
    pub proven: usize,
    /// What is not among the proven sets costs at least this; `None` where the list is all there is.
    pub rest: Option<u64>,
    /// Nothing costs less than this; equal to the first set's weight where that is proven.
    pub lower_bound: u64,
    /// Whether some contradiction is known to be beyond all repairs given.
    pub impossible: bool,
    /// Search nodes opened.
    pub searched: usize,
}

/// The `most` cheapest minimal repairs: sets of repairs after which all constraints and pins that are left can hold, and
/// of which no part alone would do. (Where repairs bring constraints in, sets of more than twelve are checked only with
/// one repair at a time left out.)
///
/// Exact by best-first search over violated odd cycles. Branches on a cycle take one repair that hits it and ban those
/// tried before, so that no set is met twice; the bound adds up odd cycles that share no price (dual ascent). Clusters
/// that no repair links are searched apart and their lists merged. Sets of equal weight stand in the order of fewer
/// repairs, then of indices; which of them are still in a list that ends among them is left to the search.
///
/// # Errors
/// [`ParityError`] for a node, constraint, pin or repair that is not there.
pub fn cheapest_repairs(problem: &RepairProblem<'_>, most: usize) -> Result<Repaired, ParityError> {
    check_problem(problem)?;
    let most = most.clamp(1, MOST_ALTERNATIVES);
    let graph = Graph::of(problem);
    let mut all = Found {
        sets: vec![RepairSet {
            weight: 0,
            repairs: Vec::new(),
        }],
        rest: None,
        floor: 0,
        searched: 0,
    };
    let mut impossible = false;
    for cluster in clusters(problem) {
        let found = Search::new(&graph, &cluster, most).run();
        impossible |= found.sets.is_empty() && found.rest.is_none();
        all = merged(&all, &found, most);
    }
    let proven = all
        .sets
        .iter()
        .take_while(|s| all.rest.is_none_or(|rest| s.weight <= rest))
        .count();
    Ok(Repaired {
        proven,
        rest: all.rest,
        lower_bound: all.floor,
        impossible,
        searched: all.searched,
        sets: all.sets,
    })
}

fn check_problem(problem: &RepairProblem<'_>) -> Result<(), ParityError> {
    check_system(problem.nodes, problem.constraints, problem.pins)?;
    let lists = [problem.constraints.len(), problem.pins.len()];
    for repair in problem.repairs {
        for (named, len) in [
            (&repair.removes, lists[0]),
            (&repair.adds, lists[0]),
            (&repair.unpins, lists[1]),
        ] {
            if let Some(&index) = named.iter().find(|i| **i >= len) {
                return Err(ParityError::NoSuchEntry { index, len });
            }
        }
    }
    let len = problem.repairs.len();
    match problem.conflicts.iter().flatten().find(|r| **r >= len) {
        Some(&index) => Err(ParityError::NoSuchEntry { index, len }),
        None => Ok(()),
    }
}

/// The sums of two lists of choices that do not touch one another, cheapest first.
fn merged(a: &Found, b: &Found, most: usize) -> Found {
    let mut sets: Vec<RepairSet> = Vec::new();
    for x in &a.sets {
        for y in &b.sets {
            let mut repairs = [&x.repairs[..], &y.repairs[..]].concat();
            repairs.sort_unstable();
            sets.push(RepairSet {
                weight: x.weight + y.weight,
                repairs,
            });
        }
    }
    order(&mut sets);
    let cut = sets.len() > most;
    sets.truncate(most);
    // What is in neither list costs at least the rest of one with the floor of the other.
    let beyond = [
        a.rest.map(|rest| rest + b.floor),
        b.rest.map(|rest| rest + a.floor),
        // What was cut off here is no cheaper than what was kept.
        sets.last().filter(|_| cut).map(|s| s.weight),
    ];
    Found {
        rest: beyond.into_iter().flatten().min(),
        floor: a.floor + b.floor,
        searched: a.searched + b.searched,
        sets,
    }
}

pub(super) fn order(sets: &mut [RepairSet]) {
    sort_by(sets, |a, b| {
        (a.weight, a.repairs.len(), &a.repairs).cmp(&(b.weight, b.repairs.len(), &b.repairs))
    });
}

/// Nodes that constraints, repairs or conflicts tie together, as lists of nodes.
fn clusters(problem: &RepairProblem<'_>) -> Vec<Vec<usize>> {
    let mut forest = Forest::new(problem.nodes);
    for c in problem.constraints {
        forest.join(c.a, c.b, false);
    }
    let first_node = |r: &Repair| {
        let constraint = |i: &usize| problem.constraints[*i].a;
        let named = r.removes.iter().chain(&r.adds).map(constraint);
        named
            .chain(r.unpins.iter().map(|i| problem.pins[*i].node))
            .next()
    };
    for repair in problem.repairs {
        let Some(first) = first_node(repair) else {
            continue;
        };
        for i in repair.removes.iter().chain(&repair.adds) {
            forest.join(first, problem.constraints[*i].a, false);
        }
        for i in &repair.unpins {
            forest.join(first, problem.pins[*i].node, false);
        }
    }
    for [a, b] in problem.conflicts {
        if let (Some(a), Some(b)) = (
            first_node(&problem.repairs[*a]),
            first_node(&problem.repairs[*b]),
        ) {
            forest.join(a, b, false);
        }
    }
    let (_, components) = super::components(problem.nodes, &mut forest);
    components.into_iter().map(|c| c.nodes).collect()
}
