//! Reads an answer against its problem: that the choice is allowed, what it costs, and that its proof gives the bound.
//! Shares no code with the search.

mod part;
mod tables;

use std::fmt;

use crate::problem::{Cost, Problem};
use crate::solve::{Answer, Cut, FamilyAnswer, Proof};
use tables::Tables;

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
    /// An option is left out that could be needed, or a removal uses a table twice or names one that is not there.
    BadCut {
        /// Index of the cut.
        cut: usize,
    },
    /// A part does not show what it claims.
    BadPart {
        /// Index of the part.
        part: usize,
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
            Self::BadCut { cut } => write!(f, "cut {cut} is not sound"),
            Self::BadPart { part } => write!(f, "part {part} does not show what it claims"),
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

fn proven_least(
    problem: &Problem,
    f: &FamilyAnswer,
    family: usize,
) -> Result<Option<Cost>, ProofError> {
    match f.proof {
        Some(_) => check_bound(problem, f).map_err(|e| match e {
            ProofError::WrongCost { .. } => ProofError::WrongCost { family },
            other => other,
        }),
        None => Ok(None),
    }
}

/// Checks the proof of a family alone, whether it has a choice or none: the bound that it shows, `None` where it shows that
/// nothing is allowed.
///
/// # Errors
/// The first [`ProofError`]; [`ProofError::NotAll`] for a family without proof, [`ProofError::WrongCost`] where it shows
/// something else than the family's bound.
pub fn check_bound(problem: &Problem, f: &FamilyAnswer) -> Result<Option<Cost>, ProofError> {
    let proof = f.proof.as_ref().ok_or(ProofError::NotAll)?;
    if proof.sites != f.sites || proof.demands != f.demands {
        return Err(ProofError::NotAll);
    }
    let least = replayed(problem, proof)?;
    if least != proof.least || f.least != least {
        return Err(ProofError::WrongCost { family: 0 });
    }
    Ok(least)
}

/// Repeats cuts and parts.
fn replayed(problem: &Problem, proof: &Proof) -> Result<Option<Cost>, ProofError> {
    let mut tables = Tables::new(problem, proof)?;
    for (cut, step) in proof.cuts.iter().enumerate() {
        let is_sound = match step {
            Cut::Drop(drop) => tables.drop(drop.site, drop.option, drop.instead),
            Cut::Remove(removal) => tables.remove(removal.site, &removal.tables, removal.message),
        };
        is_sound.ok_or(ProofError::BadCut { cut })?;
    }
    let mut least = tables.constant();
    let mut taken = vec![false; tables.site_count()];
    for (number, part) in proof.parts.iter().enumerate() {
        for site in &part.sites {
            // A site in two parts would be paid for twice.
            if *site >= taken.len() || taken[*site] {
                return Err(ProofError::BadPart { part: number });
            }
            taken[*site] = true;
        }
        let claimed = part.least.unwrap_or_else(|| tables.beyond());
        if claimed < 0 || !part::holds(&mut tables, part, claimed) {
            return Err(ProofError::BadPart { part: number });
        }
        least = least.zip(part.least).map(|(a, b)| a + b);
    }
    least.map_or(Ok(None), |sum| {
        let number = |n: i64| u32::try_from(n).map_err(|_| ProofError::NotAll);
        Ok(Some(Cost(
            number(sum / proof.first)?,
            number(sum % proof.first)?,
        )))
    })
}
