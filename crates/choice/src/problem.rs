//! What is asked: sites, what their options cost, and the rows that each demand allows.

use serde::{Deserialize, Serialize};
use std::fmt;

/// What an option costs. The least sum is sought of the first number, then of the second.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Cost(pub u32, pub u32);

impl Cost {
    /// The sum, kept within range.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self(
            self.0.saturating_add(other.0),
            self.1.saturating_add(other.1),
        )
    }
}

/// A place where one of several things goes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Site {
    /// What each option costs; at least one.
    pub costs: Vec<Cost>,
}

/// Which combinations of options some sites may take together.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Demand {
    /// The sites, each once.
    pub sites: Vec<usize>,
    /// Allowed rows: an option for each site, in the order of the sites.
    pub rows: Vec<Vec<u16>>,
}

/// The whole question.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Problem {
    /// The sites.
    pub sites: Vec<Site>,
    /// The demands; all must be met.
    pub demands: Vec<Demand>,
}

/// How much work is done before an answer without proof is given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Largest table that a removal may make, entries.
    pub entries: usize,
    /// Nodes of the search that stands in where tables would be larger.
    pub nodes: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            entries: 4_000_000,
            nodes: 3_000_000,
        }
    }
}

/// A problem that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ProblemError {
    /// A site has no option.
    NoOption {
        /// Index of the site.
        site: usize,
    },
    /// A demand names a site that is not there, or one twice.
    BadSites {
        /// Index of the demand.
        demand: usize,
    },
    /// A row is not as long as the demand's list of sites, or names an option that is not there.
    BadRow {
        /// Index of the demand.
        demand: usize,
        /// Index of the row.
        row: usize,
    },
    /// The costs of a family could add up to more than can be compared.
    TooDear,
}

impl fmt::Display for ProblemError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoOption { site } => {
                write!(f, "site {site} has no option: give it at least one")
            }
            Self::BadSites { demand } => write!(
                f,
                "demand {demand} names a site that is not there, or one twice: name each site once"
            ),
            Self::BadRow { demand, row } => write!(
                f,
                "row {row} of demand {demand} does not fit its sites: give one option of each site"
            ),
            Self::TooDear => f.write_str(
                "the costs of sites that hang together could add up to more than can be compared: give smaller ones",
            ),
        }
    }
}

impl std::error::Error for ProblemError {}

impl Problem {
    /// Finds what cannot be read.
    ///
    /// # Errors
    /// The first [`ProblemError`].
    pub fn checked(&self) -> Result<(), ProblemError> {
        if let Some(site) = self.sites.iter().position(|s| s.costs.is_empty()) {
            return Err(ProblemError::NoOption { site });
        }
        for (demand, d) in self.demands.iter().enumerate() {
            let mut seen = d.sites.clone();
            seen.sort_unstable();
            seen.dedup();
            if seen.len() != d.sites.len() || d.sites.iter().any(|s| *s >= self.sites.len()) {
                return Err(ProblemError::BadSites { demand });
            }
            let fits = |row: &Vec<u16>| {
                row.len() == d.sites.len()
                    && row
                        .iter()
                        .zip(&d.sites)
                        .all(|(o, s)| usize::from(*o) < self.sites[*s].costs.len())
            };
            if let Some(row) = d.rows.iter().position(|r| !fits(r)) {
                return Err(ProblemError::BadRow { demand, row });
            }
        }
        Ok(())
    }
}
