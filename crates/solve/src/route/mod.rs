//! Shortest round trip through all nodes of a distance table: exact for few nodes, else good with a lower bound.
//!
//! Few: dynamic programming over subsets (Held & Karp 1962; Bellman 1962). More: nearest neighbour from every start,
//! then reversals (2-opt) and segment moves (Or-opt); the bound is the larger of the assignment bound and, for a
//! symmetric table, the one-tree bound with node prices (Held & Karp 1970). Works on asymmetric tables.

mod assignment;
mod exact;
mod improve;
mod one_tree;

use core::fmt;

/// Up to this many nodes the round trip is exact.
pub const EXACT_NODES: usize = 17;
/// Largest number of nodes taken.
pub const MOST_NODES: usize = 200;
/// Largest distance taken.
pub const LONGEST: u32 = 1_000_000_000;

/// A round trip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RoundTrip {
    /// The nodes in order, from node 0; after the last it goes back to node 0.
    pub order: Vec<usize>,
    /// Its length, in the table's unit.
    pub length: u64,
    /// No round trip is shorter.
    pub lower_bound: u64,
    /// Whether it is known to be the shortest.
    pub optimal: bool,
}

impl RoundTrip {
    /// How far it may be from the shortest, as a share of the lower bound; zero when known to be shortest, infinite
    /// when the bound is zero and the length is not.
    #[must_use]
    pub fn gap(&self) -> f64 {
        if self.optimal {
            0.0
        } else {
            (self.length - self.lower_bound) as f64 / self.lower_bound as f64
        }
    }
}

/// A table that cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RouteError {
    /// More nodes than [`MOST_NODES`].
    TooManyNodes {
        /// Nodes given.
        given: usize,
    },
    /// A row is not as long as there are rows.
    NotSquare {
        /// The row.
        row: usize,
        /// Its length.
        given: usize,
        /// The length it must have.
        needed: usize,
    },
    /// A distance is beyond [`LONGEST`].
    TooFar {
        /// From this node.
        from: usize,
        /// To this node.
        to: usize,
        /// The distance given.
        given: u32,
    },
}

impl fmt::Display for RouteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooManyNodes { given } => {
                write!(
                    f,
                    "{given} nodes given; at most {MOST_NODES} are taken: leave some out"
                )
            }
            Self::NotSquare { row, given, needed } => {
                write!(
                    f,
                    "row {row} has {given} distances; it must have {needed}, one for each node: complete it"
                )
            }
            Self::TooFar { from, to, given } => {
                write!(
                    f,
                    "the distance from {from} to {to} is {given}; at most {LONGEST} is taken: use a larger unit"
                )
            }
        }
    }
}

impl core::error::Error for RouteError {}

/// A checked square table.
pub(crate) struct Table<'a>(&'a [Vec<u32>]);

impl Table<'_> {
    pub fn len(&self) -> usize {
        self.0.len()
    }

    pub fn get(&self, from: usize, to: usize) -> u64 {
        u64::from(self.0[from][to])
    }

    pub fn symmetric(&self) -> bool {
        (0..self.len()).all(|i| (0..i).all(|j| self.0[i][j] == self.0[j][i]))
    }

    pub fn length(&self, order: &[usize]) -> u64 {
        order
            .iter()
            .zip(order.iter().cycle().skip(1))
            .map(|(&a, &b)| self.get(a, b))
            .sum()
    }
}

fn check(distances: &[Vec<u32>]) -> Result<Table<'_>, RouteError> {
    let needed = distances.len();
    if needed > MOST_NODES {
        return Err(RouteError::TooManyNodes { given: needed });
    }
    for (from, row) in distances.iter().enumerate() {
        if row.len() != needed {
            return Err(RouteError::NotSquare {
                row: from,
                given: row.len(),
                needed,
            });
        }
        let far = row
            .iter()
            .enumerate()
            .find(|&(to, &given)| to != from && given > LONGEST);
        if let Some((to, &given)) = far {
            return Err(RouteError::TooFar { from, to, given });
        }
    }
    Ok(Table(distances))
}

/// Shortest round trip through every node once; `distances[from][to]` need not be symmetric, its diagonal is ignored.
///
/// Exact up to [`EXACT_NODES`] nodes. Beyond, a good one with a lower bound; `optimal` then only if both are equal.
/// Deterministic. No nodes give an empty trip of length zero.
///
/// # Errors
/// [`RouteError`] for a table that is not square or has numbers beyond bounds.
///
/// # Examples
/// ```
/// use lodewright_solve::route::round_trip;
///
/// // Four corners of a square: round its sides, not across it.
/// let corners = [vec![0, 2, 3, 2], vec![2, 0, 2, 3], vec![3, 2, 0, 2], vec![2, 3, 2, 0]];
/// let trip = round_trip(&corners)?;
/// assert_eq!((trip.length, trip.optimal), (8, true));
/// # Ok::<(), lodewright_solve::route::RouteError>(())
/// ```
pub fn round_trip(distances: &[Vec<u32>]) -> Result<RoundTrip, RouteError> {
    let table = check(distances)?;
    if table.len() < 2 {
        return Ok(RoundTrip {
            order: (0..table.len()).collect(),
            length: 0,
            lower_bound: 0,
            optimal: true,
        });
    }
    if table.len() <= EXACT_NODES {
        let order = exact::shortest(&table);
        let length = table.length(&order);
        return Ok(RoundTrip {
            order,
            length,
            lower_bound: length,
            optimal: true,
        });
    }
    Ok(bounded_round_trip(&table))
}

/// The way of many nodes.
fn bounded_round_trip(table: &Table<'_>) -> RoundTrip {
    let order = improve::good(table);
    let length = table.length(&order);
    let mut lower_bound = assignment::bound(table);
    // Two nodes have one link between them, and a one-tree needs two at each.
    if table.len() > 2 && table.symmetric() {
        lower_bound = lower_bound.max(one_tree::bound(table));
    }
    RoundTrip {
        order,
        length,
        lower_bound,
        optimal: lower_bound == length,
    }
}

#[cfg(test)]
mod tests;
