//! The answer: by elimination where that is exact, by a search under its bounds where it is not.

use serde::{Deserialize, Serialize};
use tiny_sort::stable::sort;

use crate::eliminate::{Eliminated, eliminate};
use crate::family::families;
use crate::problem::{Cost, Limits, Problem, ProblemError};
use crate::table::Entry;

/// One site minimised out of some tables: a step of the proof.
///
/// Tables of a family are numbered: its demands in order, then the costs of its sites in order, then the messages of the
/// removals in order.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Removal {
    /// The site.
    pub site: usize,
    /// The tables that are summed; each table is used once in all.
    pub tables: Vec<usize>,
    /// The number of the table that results.
    pub message: usize,
}

/// Why nothing cheaper is possible: whoever repeats the removals finds the bound.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Proof {
    /// Sites of the family.
    pub sites: Vec<usize>,
    /// Its demands.
    pub demands: Vec<usize>,
    /// The removals.
    pub removals: Vec<Removal>,
    /// The bound that they give; `None` where they show that nothing is allowed.
    pub least: Option<Cost>,
}

/// The answer for one family.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FamilyAnswer {
    /// Its sites.
    pub sites: Vec<usize>,
    /// Its demands.
    pub demands: Vec<usize>,
    /// Cost of the choice; `None` where none was found.
    pub cost: Option<Cost>,
    /// No choice costs less.
    pub least: Option<Cost>,
    /// Whether the choice is proven to be cheapest (or, without one, that there is none).
    pub proven: bool,
    /// The proof of `least`; none where the search was stopped before it had one.
    pub proof: Option<Proof>,
}

/// The answer to a problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// An option for each site; the first one in a family without a choice.
    pub choice: Vec<u16>,
    /// By family.
    pub families: Vec<FamilyAnswer>,
}

impl Answer {
    /// Cost of the whole; `None` where a family has no choice.
    #[must_use]
    pub fn cost(&self) -> Option<Cost> {
        self.families
            .iter()
            .try_fold(Cost::default(), |sum, f| Some(sum.plus(f.cost?)))
    }

    /// Whether every family is proven.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.families.iter().all(|f| f.proven)
    }

    /// A bound under the cost of any choice; `None` where there is none at all.
    #[must_use]
    pub fn least(&self) -> Option<Cost> {
        self.families
            .iter()
            .try_fold(Cost::default(), |sum, f| Some(sum.plus(f.least?)))
    }
}

/// Solves a problem family by family. `watch` hears how many families are done of how many, often; where it answers
/// `false`, what is not done yet comes back unproven.
///
/// # Errors
/// [`ProblemError`] for a problem that cannot be read.
pub fn solve(
    problem: &Problem,
    limits: Limits,
    watch: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Answer, ProblemError> {
    problem.checked()?;
    let families = families(problem);
    let mut choice = vec![0; problem.sites.len()];
    let count = families.len();
    let mut answers = Vec::with_capacity(count);
    for (done, (sites, demands)) in families.into_iter().enumerate() {
        let mut go_on = || watch(done, count);
        answers.push(family(
            problem,
            sites,
            demands,
            limits,
            &mut choice,
            &mut go_on,
        ));
    }
    Ok(Answer {
        choice,
        families: answers,
    })
}

fn family(
    problem: &Problem,
    sites: Vec<usize>,
    demands: Vec<usize>,
    limits: Limits,
    choice: &mut [u16],
    watch: &mut dyn FnMut() -> bool,
) -> FamilyAnswer {
    let Some(done) = eliminate(problem, &sites, &demands, limits.entries, watch) else {
        return FamilyAnswer {
            sites,
            demands,
            cost: None,
            least: Some(Cost::default()),
            proven: false,
            proof: None,
        };
    };
    let mut search = Search {
        problem,
        done: &done,
        order: backwards(&done, &sites),
        choice,
        best: None,
        equal: None,
        nodes: limits.nodes,
        watch,
    };
    let finished = match done.least {
        Some(_) => search.run(),
        None => true,
    };
    let best = search.best.take();
    let cost = best.as_ref().map(|(cost, _)| *cost);
    if let Some((_, found)) = best {
        for site in &sites {
            choice[*site] = found[*site];
        }
    }
    let bound_is_met = cost == done.least;
    FamilyAnswer {
        proven: bound_is_met || finished,
        // A search that went through all proves its best, though the removals alone give less.
        least: if finished && !bound_is_met {
            cost
        } else {
            done.least
        },
        cost,
        proof: bound_is_met.then(|| Proof {
            sites: sites.clone(),
            demands: demands.clone(),
            removals: done.removals.clone(),
            least: done.least,
        }),
        sites,
        demands,
    }
}

/// Up to `most` choices of a proven family that have the same first cost as its answer, cheapest first, the answer's own among
/// them; each an option for each of the family's sites. Empty where the family is not proven by removals.
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
    let (Some(goal), true) = (family.cost, family.proven && family.proof.is_some()) else {
        return Ok(Vec::new());
    };
    let go_on = &mut || true;
    let Some(done) = eliminate(
        problem,
        &family.sites,
        &family.demands,
        limits.entries,
        go_on,
    ) else {
        return Ok(Vec::new());
    };
    let mut choice = vec![0; problem.sites.len()];
    let mut search = Search {
        problem,
        order: backwards(&done, &family.sites),
        done: &done,
        choice: &mut choice,
        best: None,
        equal: Some(Equal {
            first: goal.0,
            most,
            found: Vec::new(),
        }),
        nodes: limits.nodes,
        watch: go_on,
    };
    search.run();
    let mut found = search.equal.map(|e| e.found).unwrap_or_default();
    sort(&mut found);
    let mine = |all: &[u16]| family.sites.iter().map(|s| all[*s]).collect();
    Ok(found
        .into_iter()
        .map(|(cost, all)| (cost, mine(&all)))
        .collect())
}

/// Choices of one first cost that are to be collected.
struct Equal {
    first: u32,
    most: usize,
    found: Vec<(Cost, Vec<u16>)>,
}

/// The sites in the reverse of the order of removal, each once, with those that were never removed last.
fn backwards(done: &Eliminated, sites: &[usize]) -> Vec<usize> {
    let mut order: Vec<usize> = Vec::new();
    for removal in done.removals.iter().rev() {
        if !order.contains(&removal.site) {
            order.push(removal.site);
        }
    }
    order.extend(
        sites
            .iter()
            .filter(|s| !order.contains(s))
            .collect::<Vec<_>>(),
    );
    order
}

/// Depth first, the sites in the reverse order of their removal: the messages of later removals bound what is still open,
/// exactly where nothing was split.
struct Search<'a> {
    problem: &'a Problem,
    done: &'a Eliminated,
    order: Vec<usize>,
    choice: &'a mut [u16],
    best: Option<(Cost, Vec<u16>)>,
    /// Where given, all choices of that first cost are collected instead of one best.
    equal: Option<Equal>,
    nodes: usize,
    watch: &'a mut dyn FnMut() -> bool,
}

impl Search<'_> {
    /// Whether everything was looked through.
    fn run(&mut self) -> bool {
        let by_site: Vec<Vec<(usize, Vec<usize>)>> = self
            .order
            .iter()
            .map(|site| {
                let mine = self.done.removals.iter().filter(|r| r.site == *site);
                mine.map(|r| (r.message, r.tables.clone())).collect()
            })
            .collect();
        self.descend(&by_site, 0, self.done.least)
    }

    /// `bound` is a bound under every completion of what is chosen so far.
    fn descend(
        &mut self,
        by_site: &[Vec<(usize, Vec<usize>)>],
        depth: usize,
        bound: Entry,
    ) -> bool {
        let Some(bound) = bound else { return true };
        let is_worse = match &self.equal {
            Some(equal) => bound.0 > equal.first || equal.found.len() >= equal.most,
            None => self.best.as_ref().is_some_and(|(best, _)| *best <= bound),
        };
        if is_worse {
            return true;
        }
        let Some(site) = self.order.get(depth).copied() else {
            let found = (bound, self.choice.to_vec());
            match &mut self.equal {
                Some(equal) => equal.found.push(found),
                None => self.best = Some(found),
            }
            return true;
        };
        if self.nodes == 0 || (self.nodes.is_multiple_of(1024) && !(self.watch)()) {
            self.nodes = 0;
            return false;
        }
        self.nodes -= 1;
        // Choosing an option replaces each message of this site by the sum of the tables that it was made of.
        let messages: Vec<Entry> = by_site[depth]
            .iter()
            .map(|(message, _)| self.done.tables[*message].at(self.choice))
            .collect();
        let options = self.problem.sites[site].costs.len();
        let mut next: Vec<(Cost, u16)> = Vec::with_capacity(options);
        for option in 0..options {
            let option = u16::try_from(option).unwrap_or(u16::MAX);
            self.choice[site] = option;
            if let Some(there) = self.bound_with(&by_site[depth], &messages, bound) {
                next.push((there, option));
            }
        }
        next.sort_unstable();
        let mut whole = true;
        for (there, option) in next {
            self.choice[site] = option;
            whole &= self.descend(by_site, depth + 1, Some(there));
        }
        whole
    }

    fn bound_with(
        &self,
        removals: &[(usize, Vec<usize>)],
        messages: &[Entry],
        bound: Cost,
    ) -> Entry {
        let (mut less, mut more) = (Cost::default(), Cost::default());
        for ((_, tables), message) in removals.iter().zip(messages) {
            less = less.plus((*message)?);
            for t in tables {
                more = more.plus(self.done.tables[*t].at(self.choice)?);
            }
        }
        // The parts of a sum: first and second numbers are taken apart each by itself.
        Some(Cost(
            (bound.0 + more.0).saturating_sub(less.0),
            (bound.1 + more.1).saturating_sub(less.1),
        ))
    }
}
