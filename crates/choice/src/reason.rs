//! Why not less: a small set of demands that by themselves force a family's cost.

use crate::problem::{Cost, Demand, Limits, Problem, ProblemError, Site};
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
    // Many at once while that goes well, one by one in the end.
    let mut lot = kept.len().div_ceil(2);
    while lot > 0 {
        let mut at = 0;
        while at < kept.len() {
            let mut fewer = kept.clone();
            fewer.drain(at..(at + lot).min(kept.len()));
            if forces(problem, family, &fewer, limits)? {
                kept = fewer;
            } else {
                at += lot;
            }
        }
        lot /= 2;
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
    // Only the first cost counts, and sites that none of the demands names take their cheapest option.
    let mut sites: Vec<usize> = demands
        .iter()
        .flat_map(|d| problem.demands[*d].sites.iter().copied())
        .collect();
    sites.sort_unstable();
    sites.dedup();
    let firsts = |s: &usize| problem.sites[*s].costs.iter().map(|c| c.0);
    let others = family
        .sites
        .iter()
        .filter(|s| sites.binary_search(s).is_err());
    let rest = others.fold(0_u32, |sum, s| {
        sum.saturating_add(firsts(s).min().unwrap_or(0))
    });
    let few = Problem {
        sites: sites
            .iter()
            .map(|s| Site {
                costs: firsts(s).map(|c| Cost(c, 0)).collect(),
            })
            .collect(),
        demands: demands
            .iter()
            .map(|d| {
                let demand = &problem.demands[*d];
                let place = |s: &usize| sites.binary_search(s).unwrap_or(0);
                Demand {
                    sites: demand.sites.iter().map(place).collect(),
                    rows: demand.rows.clone(),
                }
            })
            .collect(),
    };
    let answer = solve(&few, limits, &mut |_, _| true)?;
    Ok(match family.cost {
        Some(goal) => answer
            .least()
            .is_none_or(|least| least.0.saturating_add(rest) >= goal.0),
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
