//! Polarity as a parity system: nodes with one of two values, constraints that two of them differ or agree.
//!
//! Such a system has a solution exactly when no cycle holds an odd number of 'differ' constraints (Koenig 1936 for
//! graphs, Harary 1953 for signed graphs; from memory). Union-find with parity decides it in near-linear time; a
//! contradiction is shown as a shortest odd cycle.

mod cycle;
mod drop;
mod repair;
mod repair_search;
mod signs;

pub use drop::{DropSet, PROVABLE_NODES, SEARCH_LIMIT, fewest_edges_to_drop};
pub use repair::{
    MOST_ALTERNATIVES, REPAIR_LIMIT, Repair, RepairProblem, RepairSet, Repaired, cheapest_repairs,
};
pub use signs::{
    LARGEST_COEFFICIENT, SIGN_LIMIT, SignChoice, SignProblem, Sum, Term, most_low_sums,
};

use core::fmt;

/// Largest number of nodes taken.
pub const LARGEST_NODES: usize = 1_000_000;

/// Two nodes that must differ, or must agree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Constraint {
    /// One node.
    pub a: usize,
    /// The other node; the same node makes a constraint that always or never holds.
    pub b: usize,
    /// Whether their values must differ (or agree).
    pub differ: bool,
}

/// A node whose value is fixed beforehand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pin {
    /// The node.
    pub node: usize,
    /// Its value.
    pub value: bool,
}

/// One step of a contradiction.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Link {
    /// Index of a constraint.
    Constraint(usize),
    /// Index of a pin; pins come in pairs, as both are tied to the same common ground.
    Pin(usize),
}

/// Constraints (and pins) that cannot hold together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Contradiction {
    /// Index of the component it lies in.
    pub component: usize,
    /// A shortest odd cycle, in order: each link shares a node with the next, the last with the first.
    pub cycle: Vec<Link>,
    /// The nodes in order: link i joins node i to node i+1 (cyclic); `None` is the common ground of the pins.
    pub nodes: Vec<Option<usize>>,
}

/// Nodes that hang together through constraints.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Component {
    /// Its nodes, rising.
    pub nodes: Vec<usize>,
    /// Whether its sign is free: consistent and without a pin, so that all its values may be swapped at once.
    pub free: bool,
    /// Whether it can be satisfied.
    pub consistent: bool,
}

/// A parity system's answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Solution {
    /// Value of each node, in a free component with its lowest node true; none in a contradictory component.
    pub values: Vec<Option<bool>>,
    /// Component of each node, numbered by their lowest nodes.
    pub component_of: Vec<usize>,
    /// The components.
    pub components: Vec<Component>,
    /// One contradiction for each component that cannot be satisfied, in the order of components.
    pub contradictions: Vec<Contradiction>,
}

/// A system that cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ParityError {
    /// More nodes than are taken.
    TooManyNodes {
        /// Nodes given.
        given: usize,
    },
    /// A constraint, pin or preference names a node that is not there.
    NoSuchNode {
        /// The node named.
        node: usize,
        /// Number of nodes.
        nodes: usize,
    },
    /// One weight is needed for each constraint.
    WeightCount {
        /// Weights given.
        given: usize,
        /// Constraints given.
        needed: usize,
    },
    /// A repair or conflict names an entry that is not there.
    NoSuchEntry {
        /// The index named.
        index: usize,
        /// Length of the list that it points into.
        len: usize,
    },
    /// A node is pinned to both values, which dropping constraints cannot mend.
    PinsClash {
        /// The node.
        node: usize,
    },
}

impl fmt::Display for ParityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooManyNodes { given } => {
                write!(
                    f,
                    "{given} nodes given; at most {LARGEST_NODES} are taken: split the system"
                )
            }
            Self::NoSuchNode { node, nodes } => {
                write!(
                    f,
                    "node {node} is named; there are {nodes} nodes, counted from 0: correct the number"
                )
            }
            Self::WeightCount { given, needed } => {
                write!(
                    f,
                    "{given} weights given; there must be one for each of the {needed} constraints: give them all"
                )
            }
            Self::NoSuchEntry { index, len } => {
                write!(
                    f,
                    "entry {index} of a list is named; it has {len}, counted from 0: correct the number"
                )
            }
            Self::PinsClash { node } => {
                write!(
                    f,
                    "node {node} is pinned to both values; a node has one value: remove one of the pins"
                )
            }
        }
    }
}

impl core::error::Error for ParityError {}

fn check(nodes: usize, named: impl Iterator<Item = usize>) -> Result<(), ParityError> {
    if nodes > LARGEST_NODES {
        return Err(ParityError::TooManyNodes { given: nodes });
    }
    named
        .into_iter()
        .find(|&node| node >= nodes)
        .map_or(Ok(()), |node| Err(ParityError::NoSuchNode { node, nodes }))
}

pub(crate) fn check_system(
    nodes: usize,
    constraints: &[Constraint],
    pins: &[Pin],
) -> Result<(), ParityError> {
    check(
        nodes,
        constraints
            .iter()
            .flat_map(|c| [c.a, c.b])
            .chain(pins.iter().map(|p| p.node)),
    )
}

/// Union-find in which each node knows its parity against its root (Tarjan 1975, path halving by van der Weide 1980).
struct Forest {
    parent: Vec<usize>,
    odd: Vec<bool>,
    size: Vec<usize>,
}

impl Forest {
    fn new(nodes: usize) -> Self {
        Self {
            parent: (0..nodes).collect(),
            odd: vec![false; nodes],
            size: vec![1; nodes],
        }
    }

    /// Root of a node and the node's parity against it; halves the path on the way.
    fn find(&mut self, mut node: usize) -> (usize, bool) {
        let mut odd = false;
        while self.parent[node] != node {
            let up = self.parent[node];
            // Skipping the parent: at a root this changes nothing, as a root is even against itself.
            self.odd[node] ^= self.odd[up];
            self.parent[node] = self.parent[up];
            odd ^= self.odd[node];
            node = self.parent[node];
        }
        (node, odd)
    }

    /// Joins two nodes; false if they were joined already with the other parity.
    fn join(&mut self, a: usize, b: usize, differ: bool) -> bool {
        let ((mut ra, pa), (mut rb, pb)) = (self.find(a), self.find(b));
        let odd = pa ^ pb ^ differ;
        if ra == rb {
            return !odd;
        }
        if self.size[ra] < self.size[rb] {
            core::mem::swap(&mut ra, &mut rb);
        }
        self.parent[rb] = ra;
        self.odd[rb] = odd;
        self.size[ra] += self.size[rb];
        true
    }
}

fn components(nodes: usize, forest: &mut Forest) -> (Vec<usize>, Vec<Component>) {
    let mut number = vec![usize::MAX; nodes];
    let mut component_of = Vec::with_capacity(nodes);
    let mut components: Vec<Component> = Vec::new();
    for node in 0..nodes {
        let (root, _) = forest.find(node);
        if number[root] == usize::MAX {
            number[root] = components.len();
            components.push(Component {
                nodes: Vec::new(),
                free: true,
                consistent: true,
            });
        }
        component_of.push(number[root]);
        components[number[root]].nodes.push(node);
    }
    (component_of, components)
}

/// Solves a parity system, or shows a shortest contradiction for each component that has one.
///
/// Deterministic: of equally short odd cycles, the one through the lowest node is shown, found by breadth-first search
/// in the order of constraints.
///
/// # Errors
/// [`ParityError::TooManyNodes`] or [`ParityError::NoSuchNode`].
///
/// # Examples
/// Three magnets that must all differ in pairs cannot: the circle has an odd number of constraints.
///
/// ```
/// use lodewright_solve::parity::{solve_parity, Constraint, Pin};
///
/// let differ = |a, b| Constraint { a, b, differ: true };
/// let north = Pin { node: 0, value: true };
/// let chain = solve_parity(3, &[differ(0, 1), differ(1, 2)], &[north])?;
/// assert_eq!(chain.values, [Some(true), Some(false), Some(true)]);
///
/// let circle = solve_parity(3, &[differ(0, 1), differ(1, 2), differ(2, 0)], &[])?;
/// assert_eq!(circle.values, [None; 3]);
/// assert_eq!(circle.contradictions[0].cycle.len(), 3);
/// # Ok::<(), lodewright_solve::parity::ParityError>(())
/// ```
pub fn solve_parity(
    nodes: usize,
    constraints: &[Constraint],
    pins: &[Pin],
) -> Result<Solution, ParityError> {
    check_system(nodes, constraints, pins)?;
    let mut forest = Forest::new(nodes);
    let broken: Vec<usize> = constraints
        .iter()
        .filter(|c| !forest.join(c.a, c.b, c.differ))
        .map(|c| c.a)
        .collect();
    let (component_of, mut components) = components(nodes, &mut forest);
    for node in broken {
        components[component_of[node]].consistent = false;
    }
    // What a pin asks of its component's root; the lowest node stands in for a missing pin.
    let mut root_value: Vec<Option<bool>> = vec![None; components.len()];
    for pin in pins {
        let at = component_of[pin.node];
        let asked = forest.find(pin.node).1 ^ pin.value;
        components[at].free = false;
        components[at].consistent &= root_value[at].is_none_or(|value| value == asked);
        root_value[at] = Some(asked);
    }
    for (component, value) in components.iter_mut().zip(&mut root_value) {
        component.free &= component.consistent;
        if let (None, Some(&lowest)) = (*value, component.nodes.first()) {
            *value = Some(!forest.find(lowest).1);
        }
    }
    let value = |node: usize| {
        let at: usize = component_of[node];
        root_value[at]
            .filter(|_| components[at].consistent)
            .map(|root| root ^ forest.find(node).1)
    };
    let values = (0..nodes).map(value).collect();
    let contradictions = cycle::contradictions(&component_of, &components, constraints, pins);
    Ok(Solution {
        values,
        component_of,
        components,
        contradictions,
    })
}

/// Values of a solution with the sign of each free component chosen so that as many preferences as possible hold.
///
/// Exact, as free components do not depend on one another: the majority of each decides. Ties, and components without
/// preferences, leave the lowest node true. Nodes of contradictory components stay without a value.
///
/// # Errors
/// [`ParityError::NoSuchNode`] for a preference that names a node that is not there.
pub fn choose_signs(
    solution: &Solution,
    preferred: &[Pin],
) -> Result<Vec<Option<bool>>, ParityError> {
    check(solution.values.len(), preferred.iter().map(|p| p.node))?;
    let mut votes = vec![0_i64; solution.components.len()];
    for wish in preferred {
        if let (Some(value), Some(&at)) = (
            solution.values[wish.node],
            solution.component_of.get(wish.node),
        ) {
            votes[at] += if value == wish.value { 1 } else { -1 };
        }
    }
    let swapped = |at: usize| solution.components[at].free && votes[at] < 0;
    let pairs = solution.values.iter().zip(&solution.component_of);
    Ok(pairs
        .map(|(value, &at)| value.map(|v| v ^ swapped(at)))
        .collect())
}
