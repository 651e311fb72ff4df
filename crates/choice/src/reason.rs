//! Why not less: a small set of demands that by themselves force a family's cost.

use crate::problem::{Cost, Limits, Problem, ProblemError, Site};
use crate::solve::{FamilyAnswer, solve};

/// Subsets tried for a smaller reason at the most.
const MOST_SUBSETS: usize = 4_000;

/// The reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reason {
    /// Demands that together leave nothing cheaper.
    pub demands: Vec<usize>,
    /// Whether no smaller set does; else only none of them can be left out.
    pub smallest: bool,
}

/// The reason why a family's choice cannot have a lower first cost (for a family without a choice: why it has none).
/// `None` for a family that is not proven, or costs nothing.
///
/// # Errors
/// [`ProblemError`] for a problem that cannot be read.
pub fn why_not_less(
    problem: &Problem,
    family: &FamilyAnswer,
    limits: Limits,
) -> Result<Option<Reason>, ProblemError> {
    problem.checked()?;
    if !family.proven || family.cost.is_some_and(|c| c.0 == 0) {
        return Ok(None);
    }
    let mut kept = family.demands.clone();
    let mut at = 0;
    while at < kept.len() {
        let mut fewer = kept.clone();
        fewer.remove(at);
        if forces(problem, family, &fewer, limits)? {
            kept = fewer;
        } else {
            at += 1;
        }
    }
    kept = smaller(problem, family, kept, limits)?;
    let smallest = subsets(family.demands.len(), kept.len().saturating_sub(1)) <= MOST_SUBSETS;
    Ok(Some(Reason {
        demands: kept,
        smallest,
    }))
}

/// Whether these demands alone leave no choice with a first cost under the family's (or none at all, where it has none).
fn forces(
    problem: &Problem,
    family: &FamilyAnswer,
    demands: &[usize],
    limits: Limits,
) -> Result<bool, ProblemError> {
    // Only the first cost of the family's own sites counts.
    let mut few = Problem {
        sites: vec![
            Site {
                costs: vec![Cost::default()],
            };
            problem.sites.len()
        ],
        demands: demands
            .iter()
            .map(|d| problem.demands[*d].clone())
            .collect(),
    };
    for site in &family.sites {
        few.sites[*site] = Site {
            costs: problem.sites[*site]
                .costs
                .iter()
                .map(|c| Cost(c.0, 0))
                .collect(),
        };
    }
    let answer = solve(&few, limits, &mut |_, _| true)?;
    Ok(match family.cost {
        Some(goal) => answer.least().is_none_or(|least| least.0 >= goal.0),
        None => answer.proven() && answer.cost().is_none(),
    })
}

/// Looks for a smaller set among all of one demand, of two, and so on, while those are few.
fn smaller(
    problem: &Problem,
    family: &FamilyAnswer,
    kept: Vec<usize>,
    limits: Limits,
) -> Result<Vec<usize>, ProblemError> {
    let all = &family.demands;
    for size in 1..kept.len() {
        if subsets(all.len(), size) > MOST_SUBSETS {
            break;
        }
        let mut pick: Vec<usize> = (0..size).collect();
        loop {
            let demands: Vec<usize> = pick.iter().map(|i| all[*i]).collect();
            if forces(problem, family, &demands, limits)? {
                return Ok(demands);
            }
            if !next_pick(&mut pick, all.len()) {
                break;
            }
        }
    }
    Ok(kept)
}

/// The next rising selection; false after the last.
fn next_pick(pick: &mut [usize], of: usize) -> bool {
    let size = pick.len();
    for i in (0..size).rev() {
        if pick[i] + (size - i) < of {
            pick[i] += 1;
            for j in i + 1..size {
                pick[j] = pick[j - 1] + 1;
            }
            return true;
        }
    }
    false
}

/// How many sets of `size` there are among `of`, kept within range.
fn subsets(of: usize, size: usize) -> usize {
    (0..size).fold(1_usize, |n, i| n.saturating_mul(of - i) / (i + 1))
}
