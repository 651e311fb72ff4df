//! Reads an answer against its problem: that the choice is allowed, what it costs, and that the removals give the bound.
//! Shares no code with the search.

use std::collections::BTreeMap;
use std::fmt;

use crate::problem::{Cost, Problem};
use crate::solve::{Answer, FamilyAnswer, Proof};

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Checked {
    /// Cost of the choice, counted again.
    pub cost: Cost,
    /// Bound under every choice, from the proofs; none where a family has no proof.
    pub least: Option<Cost>,
}

/// What is wrong with an answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ProofError {
    /// The choice is not as long as the list of sites, or names an option that is not there.
    BadChoice,
    /// A demand is not met.
    NotMet {
        /// Index of the demand.
        demand: usize,
    },
    /// The families leave a site or a demand out, or name one twice.
    NotAll,
    /// A removal uses a table twice, leaves one out that mentions its site, or names one that is not there.
    BadRemoval {
        /// Index of the removal.
        removal: usize,
    },
    /// A family's cost or bound is not what is said.
    WrongCost {
        /// Index of the family.
        family: usize,
    },
}

impl fmt::Display for ProofError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BadChoice => f.write_str("the choice does not fit the sites"),
            Self::NotMet { demand } => write!(f, "demand {demand} is not met"),
            Self::NotAll => f.write_str("the families are not the whole problem"),
            Self::BadRemoval { removal } => write!(f, "removal {removal} is not sound"),
            Self::WrongCost { family } => write!(f, "family {family} does not cost what it says"),
        }
    }
}

impl std::error::Error for ProofError {}

/// Checks an answer in which every family has a choice.
///
/// # Errors
/// The first [`ProofError`].
pub fn check(problem: &Problem, answer: &Answer) -> Result<Checked, ProofError> {
    covered(problem, answer)?;
    let (mut cost, mut least) = (Cost(0, 0), Some(Cost(0, 0)));
    for family in 0..answer.families.len() {
        let found = check_family(problem, answer, family)?;
        cost = Cost(cost.0 + found.cost.0, cost.1 + found.cost.1);
        least = least
            .zip(found.least)
            .map(|(a, b)| Cost(a.0 + b.0, a.1 + b.1));
    }
    Ok(Checked { cost, least })
}

/// Checks one family that has a choice, by its number.
///
/// # Errors
/// The first [`ProofError`]; [`ProofError::WrongCost`] for a family that has no choice or is not there.
pub fn check_family(
    problem: &Problem,
    answer: &Answer,
    family: usize,
) -> Result<Checked, ProofError> {
    let options = problem.sites.iter().map(|s| s.costs.len());
    let fits = answer.choice.len() == problem.sites.len()
        && answer
            .choice
            .iter()
            .zip(options)
            .all(|(o, n)| usize::from(*o) < n);
    if !fits {
        return Err(ProofError::BadChoice);
    }
    let Some(f) = answer.families.get(family) else {
        return Err(ProofError::WrongCost { family });
    };
    for demand in &f.demands {
        let d = problem.demands.get(*demand).ok_or(ProofError::NotAll)?;
        let here: Vec<u16> = d.sites.iter().map(|s| answer.choice[*s]).collect();
        if !d.rows.contains(&here) {
            return Err(ProofError::NotMet { demand: *demand });
        }
    }
    if f.sites.iter().any(|s| *s >= problem.sites.len()) {
        return Err(ProofError::NotAll);
    }
    let cost = f.sites.iter().fold(Cost(0, 0), |sum, s| {
        let c = problem.sites[*s].costs[usize::from(answer.choice[*s])];
        Cost(sum.0 + c.0, sum.1 + c.1)
    });
    if f.cost != Some(cost) {
        return Err(ProofError::WrongCost { family });
    }
    Ok(Checked {
        cost,
        least: proven_least(problem, f, family)?,
    })
}

fn covered(problem: &Problem, answer: &Answer) -> Result<(), ProofError> {
    let each_once = |mut all: Vec<usize>, count: usize| {
        all.sort_unstable();
        all == (0..count).collect::<Vec<_>>()
    };
    let sites = answer
        .families
        .iter()
        .flat_map(|f| f.sites.clone())
        .collect();
    let demands = answer
        .families
        .iter()
        .flat_map(|f| f.demands.clone())
        .collect();
    if each_once(sites, problem.sites.len()) && each_once(demands, problem.demands.len()) {
        Ok(())
    } else {
        Err(ProofError::NotAll)
    }
}

/// A table as a map from the options of its sites to a cost; what is not in it is not allowed.
struct Map {
    sites: Vec<usize>,
    costs: BTreeMap<Vec<u16>, Cost>,
}

fn proven_least(
    problem: &Problem,
    f: &FamilyAnswer,
    family: usize,
) -> Result<Option<Cost>, ProofError> {
    let Some(proof) = &f.proof else {
        return Ok(None);
    };
    if proof.sites != f.sites || proof.demands != f.demands {
        return Err(ProofError::NotAll);
    }
    let least = replayed(problem, proof)?;
    if least != proof.least || f.least != least {
        return Err(ProofError::WrongCost { family });
    }
    Ok(least)
}

/// Repeats the removals on maps of what is allowed.
fn replayed(problem: &Problem, proof: &Proof) -> Result<Option<Cost>, ProofError> {
    let mut maps: Vec<Map> = Vec::new();
    for d in &proof.demands {
        let demand = &problem.demands[*d];
        maps.push(Map {
            sites: demand.sites.clone(),
            costs: demand
                .rows
                .iter()
                .map(|r| (r.clone(), Cost(0, 0)))
                .collect(),
        });
    }
    for s in &proof.sites {
        let options = problem.sites[*s].costs.iter().enumerate();
        maps.push(Map {
            sites: vec![*s],
            costs: options
                .map(|(o, c)| (vec![u16::try_from(o).unwrap_or(u16::MAX)], *c))
                .collect(),
        });
    }
    let mut used = vec![false; maps.len()];
    let mut least = Some(Cost(0, 0));
    for (removal, r) in proof.removals.iter().enumerate() {
        let bad = Err(ProofError::BadRemoval { removal });
        if r.message != maps.len() || r.tables.is_empty() {
            return bad;
        }
        for t in &r.tables {
            if *t >= maps.len() || used[*t] {
                return bad;
            }
            used[*t] = true;
        }
        let mut sum = Map {
            sites: Vec::new(),
            costs: BTreeMap::from([(Vec::new(), Cost(0, 0))]),
        };
        for t in &r.tables {
            sum = joined(&sum, &maps[*t]);
        }
        let message = without(&sum, r.site);
        if message.sites.is_empty() {
            least = least
                .zip(message.costs.get(&Vec::new()).copied())
                .map(|(a, b)| Cost(a.0 + b.0, a.1 + b.1));
        }
        used.push(message.sites.is_empty());
        maps.push(message);
    }
    // Nothing may be left out: a table that no removal used would let the bound be too low, never too high, but then the
    // removals are not those of this family.
    match used
        .iter()
        .zip(&maps)
        .position(|(used, map)| !used && !map.sites.is_empty())
    {
        Some(_) => Err(ProofError::BadRemoval {
            removal: proof.removals.len(),
        }),
        None => Ok(least),
    }
}

/// Combinations that both allow, with the sum of both costs.
fn joined(a: &Map, b: &Map) -> Map {
    let shared: Vec<(usize, usize)> = a
        .sites
        .iter()
        .enumerate()
        .filter_map(|(i, s)| Some((i, b.sites.iter().position(|t| t == s)?)))
        .collect();
    let fresh: Vec<usize> = (0..b.sites.len())
        .filter(|j| shared.iter().all(|(_, k)| k != j))
        .collect();
    // Rows of the second by what they share with the first.
    let mut by_shared: BTreeMap<Vec<u16>, Vec<(&Vec<u16>, Cost)>> = BTreeMap::new();
    for (row, cost) in &b.costs {
        let key = shared.iter().map(|(_, j)| row[*j]).collect();
        by_shared.entry(key).or_default().push((row, *cost));
    }
    let mut costs = BTreeMap::new();
    for (row, cost) in &a.costs {
        let key: Vec<u16> = shared.iter().map(|(i, _)| row[*i]).collect();
        for (other, more) in by_shared.get(&key).into_iter().flatten() {
            let mut both = row.clone();
            both.extend(fresh.iter().map(|j| other[*j]));
            costs.insert(both, Cost(cost.0 + more.0, cost.1 + more.1));
        }
    }
    let mut sites = a.sites.clone();
    sites.extend(fresh.iter().map(|j| b.sites[*j]));
    Map { sites, costs }
}

/// The least over one site's options.
fn without(map: &Map, site: usize) -> Map {
    let keep: Vec<usize> = (0..map.sites.len())
        .filter(|i| map.sites[*i] != site)
        .collect();
    let mut costs: BTreeMap<Vec<u16>, Cost> = BTreeMap::new();
    for (row, cost) in &map.costs {
        let key = keep.iter().map(|i| row[*i]).collect();
        costs
            .entry(key)
            .and_modify(|least| *least = (*least).min(*cost))
            .or_insert(*cost);
    }
    Map {
        sites: keep.iter().map(|i| map.sites[*i]).collect(),
        costs,
    }
}
