//! Other choices that cost as many of the first number.

use tiny_sort::stable::sort;

use crate::eliminate::{Eliminated, Elimination};
use crate::merge::Merged;
use crate::problem::{Cost, Limits, Problem, ProblemError};
use crate::reduce::reduce;
use crate::search::{Most, all_within};
use crate::solve::{Cut, FamilyAnswer, Rest};
use crate::table::{NEVER, Weight};

/// Elimination shows all of them where it makes no more entries than this.
const MOST_ENTRIES: usize = 3_000_000;
/// So many rows are looked at by a search for them.
const MOST_WORK: u64 = 20_000_000;

/// Up to `most` choices of a proven family that have the same first cost as its answer, cheapest first of those found; each an
/// option for each of the family's sites. Empty where the family is not proven. Where sites hang together too densely to go
/// through all, some may be missing.
///
/// # Errors
/// [`ProblemError`] for a problem that cannot be read.
pub fn alternatives(
    problem: &Problem,
    family: &FamilyAnswer,
    most: usize,
    limits: Limits,
) -> Result<Vec<(Cost, Vec<u16>)>, ProblemError> {
    problem.checked()?;
    let (Some(goal), true) = (family.cost, family.proven) else {
        return Ok(Vec::new());
    };
    let weight = Weight::of(problem, &family.sites).ok_or(ProblemError::TooDear)?;
    let merged = Merged::of(problem, &family.sites, &family.demands);
    let reduced = reduce(&merged.problem, weight, true);
    if reduced.is_none {
        return Ok(Vec::new());
    }
    let dearest = weight.one(Cost(goal.0, 0)) + weight.first - 1;
    let sites: Vec<usize> = (0..reduced.options.len()).collect();
    let mut work = Elimination::new(&reduced);
    let order = work.order(&sites);
    let found = if order.most <= limits.entries && order.all <= MOST_ENTRIES {
        work.remove_all(&order.sites, &mut || true);
        let mut walk = Walk {
            done: &work.done,
            sizes: reduced.options.iter().map(Vec::len).collect(),
            choice: vec![0; sites.len()],
            dearest,
            most,
            found: Vec::new(),
        };
        walk.from(work.done.steps.len(), work.done.constant);
        walk.found
    } else {
        let rest = Rest::of(&reduced, &work, sites);
        let limits = Most {
            nodes: limits.nodes,
            work: MOST_WORK,
        };
        all_within(&rest.costs, &rest.tables, weight, limits, dearest, most)
    };
    let mut out = Vec::with_capacity(found.len());
    let mut choice = vec![0; problem.sites.len()];
    for (cost, options) in found {
        for (site, option) in options.iter().enumerate() {
            let option = reduced.options[site][usize::from(*option)];
            for (s, o) in merged.split(problem, site, option) {
                choice[s] = o;
            }
        }
        let mine = family.sites.iter().map(|s| choice[*s]).collect();
        out.push((weight.two(cost), mine));
    }
    sort(&mut out);
    Ok(out)
}

/// Depth first, the sites in the reverse order of their removal: the messages tell what the rest costs at least, exactly.
struct Walk<'a> {
    done: &'a Eliminated,
    sizes: Vec<usize>,
    choice: Vec<u16>,
    dearest: i64,
    most: usize,
    found: Vec<(i64, Vec<u16>)>,
}

impl Walk<'_> {
    /// `cost` is that of the best completion.
    fn from(&mut self, step: usize, cost: i64) {
        if cost > self.dearest || self.found.len() >= self.most {
            return;
        }
        let Some(Cut::Remove(removal)) = step.checked_sub(1).map(|i| &self.done.steps[i]) else {
            self.found.push((cost, self.choice.clone()));
            return;
        };
        // Choosing an option replaces the message by the sum of the tables that it was made of.
        let table = |t: usize, choice: &[u16]| {
            let table = self.done.tables[t].as_ref();
            table.map_or(0, |table| table.at(choice))
        };
        let message = table(removal.message, &self.choice);
        let mut next: Vec<(i64, u16)> = Vec::with_capacity(self.sizes[removal.site]);
        for option in (0_u16..).take(self.sizes[removal.site]) {
            self.choice[removal.site] = option;
            let sum = removal.tables.iter().map(|t| table(*t, &self.choice));
            let sum = sum.fold(0, |a, b| (a + b).min(NEVER));
            if sum < NEVER {
                next.push((cost - message + sum, option));
            }
        }
        next.sort_unstable();
        for (cost, option) in next {
            self.choice[removal.site] = option;
            self.from(step - 1, cost);
        }
    }
}
