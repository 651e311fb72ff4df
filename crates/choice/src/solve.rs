//! The answer: by elimination where that is exact, by a search under its bounds where it is not.

use crate::eliminate::Elimination;
use crate::family::{components, families};
use crate::merge::Merged;
use crate::problem::{Cost, Limits, Problem, ProblemError};
use crate::reduce::{Reduced, reduce};
use crate::search::{Most, RowTable, Searched, search};
use crate::table::{NEVER, Weight};
use serde::{Deserialize, Serialize};

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

/// An option that need not be looked at: a step of the proof.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Drop {
    /// The site.
    pub site: usize,
    /// The option.
    pub option: u16,
    /// An option that costs no more and that every demand allows wherever it allows this one; `None` where a demand has no
    /// row with this one.
    pub instead: Option<u16>,
}

/// A step of the first part of a proof.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Cut {
    /// An option is left out.
    Drop(Drop),
    /// A site is minimised out.
    Remove(Removal),
}

/// Sites that are looked at together: a table of all that the tables within them allow, at the cost of those that it has.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cluster {
    /// The sites.
    pub sites: Vec<usize>,
    /// The tables that it has, each the affair of one cluster alone.
    pub tables: Vec<usize>,
}

/// The search over sites that hang together once the cuts are made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Part {
    /// The sites.
    pub sites: Vec<usize>,
    /// The clusters of its tables.
    pub clusters: Vec<Cluster>,
    /// What was looked through.
    pub steps: Vec<Step>,
    /// Shifts count in such parts of one of a cost's second number.
    pub scale: i64,
    /// No choice for these sites costs less, as one number (see [`Proof::first`]); `None` where there is none.
    pub least: Option<i64>,
}

/// A step of the search over what the cuts leave.
///
/// Costs are shifted between clusters and sites: a shift adds so much to the site's option and takes it from every row of the
/// cluster that has the option, so that no choice costs more or less by it. Whatever the shifts, the least cost of each site
/// and of each cluster together are a bound under every choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Step {
    /// From now on so much in all is shifted from a cluster to a site's option.
    Shift {
        /// The cluster.
        cluster: usize,
        /// One of its sites.
        site: usize,
        /// The option.
        option: u16,
        /// What is shifted in all, in units of [`Part::scale`].
        to: i64,
    },
    /// With this option the bound is no better than what is claimed, or a table has no row: it is left out from now on.
    Drop {
        /// The site.
        site: usize,
        /// The option.
        option: u16,
    },
    /// Looks at one option of a site alone, until it is closed.
    Assume {
        /// The site.
        site: usize,
        /// The option.
        option: u16,
    },
    /// The bound is no better than what is claimed: all since the last assumption is taken back, and its option left out.
    Close,
}

/// Why nothing cheaper is possible: whoever repeats it finds the bound.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Proof {
    /// Sites of the family.
    pub sites: Vec<usize>,
    /// Its demands.
    pub demands: Vec<usize>,
    /// Sites of the family that are put together as one from here on, the last one's option running fastest. A site of what
    /// follows is a place in this list; a demand is a place in `demands`.
    pub merged: Vec<Vec<usize>>,
    /// A cost as one number is so many times its first number, and its second: more than all second numbers together.
    pub first: i64,
    /// Options left out and sites minimised out, in turn.
    pub cuts: Vec<Cut>,
    /// What was looked through of the rest.
    pub parts: Vec<Part>,
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

/// How far [`solve_watched`] has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Families that are done.
    pub done: usize,
    /// Families in all.
    pub of: usize,
    /// What the best choice found so far for the part at work costs.
    pub best: Option<Cost>,
}

/// Solves a problem family by family. `watch` hears how many families are done of how many, often; where it answers
/// `false`, what is not done yet comes back unproven, with the best that was found.
///
/// ```
/// use lodewright_choice::{Cost, Demand, Limits, Problem, Site, solve};
///
/// // Nothing, steel or a magnet in each of two sites; a joint between them needs a magnet against steel or a magnet.
/// let site = Site { costs: vec![Cost(0, 0), Cost(0, 5), Cost(1, 20)] };
/// let joint = Demand { sites: vec![0, 1], rows: vec![vec![1, 2], vec![2, 1], vec![2, 2]] };
/// let problem = Problem { sites: vec![site.clone(), site], demands: vec![joint] };
/// let answer = solve(&problem, Limits::default(), &mut |_, _| true)?;
/// assert_eq!(answer.cost(), Some(Cost(1, 25)));
/// assert!(answer.proven());
/// # Ok::<(), lodewright_choice::ProblemError>(())
/// ```
///
/// # Errors
/// [`ProblemError`] for a problem that cannot be read.
pub fn solve(
    problem: &Problem,
    limits: Limits,
    watch: &mut dyn FnMut(usize, usize) -> bool,
) -> Result<Answer, ProblemError> {
    solve_watched(problem, limits, &mut |p| watch(p.done, p.of))
}

/// The same; `watch` also hears what the best choice so far costs.
///
/// # Errors
/// [`ProblemError`] for a problem that cannot be read.
pub fn solve_watched(
    problem: &Problem,
    limits: Limits,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Answer, ProblemError> {
    problem.checked()?;
    let families = families(problem);
    let mut choice = vec![0; problem.sites.len()];
    let of = families.len();
    let mut answers = Vec::with_capacity(of);
    for (done, (sites, demands)) in families.into_iter().enumerate() {
        let mut go_on = |best| watch(&Progress { done, of, best });
        let answer = family(problem, sites, demands, limits, &mut choice, &mut go_on)?;
        answers.push(answer);
    }
    Ok(Answer {
        choice,
        families: answers,
    })
}

/// Elimination alone is the quickest where it makes no more entries than this.
const QUICK_ENTRIES: usize = 60_000;
/// So many rows the search looks at, or as many as elimination would make entries, before elimination is tried instead.
const FIRST_WORK: u64 = 2_000_000;
/// What is left to the search has no table made larger than this.
const SMALL_ENTRIES: usize = 300;

fn family(
    problem: &Problem,
    sites: Vec<usize>,
    demands: Vec<usize>,
    limits: Limits,
    choice: &mut [u16],
    watch: &mut dyn FnMut(Option<Cost>) -> bool,
) -> Result<FamilyAnswer, ProblemError> {
    let weight = Weight::of(problem, &sites).ok_or(ProblemError::TooDear)?;
    let merged = Merged::of(problem, &sites, &demands);
    let mut work = Work {
        reduced: reduce(&merged.problem, weight, false),
        weight,
        limits,
        watch: &mut |best| watch(best.map(|b| weight.two(b))),
    };
    let found = work.run();
    if let Some((_, best)) = &found.best {
        for (local, option) in best.iter().enumerate() {
            for (site, o) in merged.split(problem, local, work.original(local, *option)) {
                choice[site] = o;
            }
        }
    }
    let cost = found.best.as_ref().map(|(cost, _)| weight.two(*cost));
    let least = (found.least < NEVER).then(|| weight.two(found.least));
    let mut cuts: Vec<Cut> = work.reduced.drops.iter().copied().map(Cut::Drop).collect();
    cuts.extend(found.cuts);
    Ok(FamilyAnswer {
        cost,
        least,
        proven: cost == least,
        proof: Some(Proof {
            sites: sites.clone(),
            demands: demands.clone(),
            merged: merged.sites,
            first: weight.first,
            cuts,
            parts: found.parts,
            least,
        }),
        sites,
        demands,
    })
}

/// A family being solved.
struct Work<'a> {
    reduced: Reduced,
    weight: Weight,
    limits: Limits,
    watch: &'a mut dyn FnMut(Option<i64>) -> bool,
}

/// What came of it: the choice by numbers in what was reduced, the proof by those of the family with its sites put together.
struct Found {
    best: Option<(i64, Vec<u16>)>,
    /// [`NEVER`] where nothing is allowed.
    least: i64,
    cuts: Vec<Cut>,
    parts: Vec<Part>,
}

/// Sites that hang together through tables that are left.
pub(crate) struct Rest {
    pub sites: Vec<usize>,
    /// By site: its options, as they are numbered in what was reduced.
    pub options: Vec<Vec<u16>>,
    /// What they cost.
    pub costs: Vec<Vec<i64>>,
    /// The tables, sites and options by their place here.
    pub tables: Vec<RowTable>,
}

impl Work<'_> {
    fn original(&self, site: usize, option: u16) -> u16 {
        self.reduced.options[site][usize::from(option)]
    }

    fn run(&mut self) -> Found {
        let mut found = Found {
            best: None,
            least: NEVER,
            cuts: Vec::new(),
            parts: Vec::new(),
        };
        if self.reduced.is_none {
            return found;
        }
        let mut work = Elimination::new(&self.reduced);
        found.least = 0;
        let small = SMALL_ENTRIES.min(self.limits.entries);
        let mut go_on = || (self.watch)(None);
        if work
            .shrink(small, self.limits.entries, &mut go_on)
            .is_none()
        {
            return found;
        }
        let mut choice = vec![0; self.reduced.options.len()];
        let mut cost = Some(0);
        for sites in together(&work) {
            let order = work.order(&sites);
            let fits = order.most <= self.limits.entries;
            let mut go_on = || (self.watch)(None);
            if fits && order.all <= QUICK_ENTRIES && work.remove_all(&order.sites, &mut go_on) {
                continue;
            }
            let rest = Rest::of(&self.reduced, &work, sites);
            let most = Most {
                nodes: self.limits.nodes,
                work: if fits {
                    (order.all as u64).max(FIRST_WORK)
                } else {
                    u64::MAX
                },
            };
            let watch = &mut *self.watch;
            let result = search(&rest.costs, &rest.tables, self.weight, most, watch);
            let is_open = result.best.as_ref().map_or(NEVER, |(c, _)| *c) > result.least;
            let best = result.best.as_ref().map(|(c, _)| *c);
            let mut go_on = || (self.watch)(best);
            if is_open && fits && work.remove_all(&order.sites, &mut go_on) {
                continue;
            }
            found.least = (found.least + result.least).min(NEVER);
            cost = cost.zip(best).map(|(sum, more)| sum + more);
            let best = result.best.iter().flat_map(|b| &b.1);
            for ((site, mine), option) in rest.sites.iter().zip(&rest.options).zip(best) {
                choice[*site] = mine[usize::from(*option)];
            }
            found.parts.push(self.part(&rest, result));
        }
        let done = work.done;
        found.least = (found.least + done.constant).min(NEVER);
        let cost = cost.map(|c| c + done.constant);
        if let Some(cost) = cost.filter(|c| *c < NEVER) {
            done.fill(&mut choice);
            found.best = Some((cost, choice));
        }
        found.cuts = done.steps;
        for cut in &mut found.cuts {
            match cut {
                Cut::Remove(_) => {}
                Cut::Drop(drop) => {
                    drop.option = self.original(drop.site, drop.option);
                    drop.instead = drop.instead.map(|o| self.original(drop.site, o));
                }
            }
        }
        found
    }

    /// A search in the words of the problem.
    fn part(&self, rest: &Rest, result: Searched) -> Part {
        let site = |local: usize| rest.sites[local];
        let option = |local: usize, o: u16| {
            self.original(rest.sites[local], rest.options[local][usize::from(o)])
        };
        let clusters = result.clusters.into_iter().map(|(sites, tables)| Cluster {
            sites: sites.into_iter().map(site).collect(),
            tables,
        });
        let steps = result.steps.into_iter().map(|step| match step {
            Step::Shift {
                cluster,
                site: s,
                option: o,
                to,
            } => Step::Shift {
                cluster,
                site: site(s),
                option: option(s, o),
                to,
            },
            Step::Drop { site: s, option: o } => Step::Drop {
                site: site(s),
                option: option(s, o),
            },
            Step::Assume { site: s, option: o } => Step::Assume {
                site: site(s),
                option: option(s, o),
            },
            Step::Close => Step::Close,
        });
        Part {
            sites: (0..rest.sites.len()).map(site).collect(),
            clusters: clusters.collect(),
            steps: steps.collect(),
            scale: result.scale,
            least: Some(result.least).filter(|l| *l < NEVER),
        }
    }
}

impl Rest {
    /// What the cuts leave of sites that hang together.
    pub(crate) fn of(reduced: &Reduced, work: &Elimination<'_>, sites: Vec<usize>) -> Self {
        let n = reduced.options.len();
        let count = reduced.demands.len();
        let done = &work.done;
        let options: Vec<Vec<u16>> = sites
            .iter()
            .map(|s| {
                let open = (0_u16..).zip(&done.is_open[*s]);
                open.filter(|(_, open)| **open).map(|(o, _)| o).collect()
            })
            .collect();
        let costs = sites.iter().zip(&options).map(|(s, mine)| {
            let costs = &reduced.costs[*s];
            mine.iter().map(|o| costs[usize::from(*o)]).collect()
        });
        let mut rest = Self {
            costs: costs.collect(),
            sites,
            options,
            tables: Vec::new(),
        };
        let left = (0..done.tables.len()).filter(|t| {
            let is_cost = (count..count + n).contains(t);
            let first = work.scope(*t).first();
            done.is_left[*t]
                && !is_cost
                && first.is_some_and(|s| rest.sites.binary_search(s).is_ok())
        });
        let left: Vec<usize> = left.collect();
        for number in left {
            let place = |s: &usize| rest.sites.binary_search(s).unwrap_or(0);
            let mut table = RowTable {
                number,
                sites: work.scope(number).iter().map(place).collect(),
                ..RowTable::default()
            };
            let mut take = |row: &[u16], cost: i64| {
                let row: Option<Vec<u16>> = row
                    .iter()
                    .zip(&table.sites)
                    .map(|(o, s)| {
                        let place = rest.options[*s].binary_search(o).ok()?;
                        u16::try_from(place).ok()
                    })
                    .collect();
                if let Some(row) = row {
                    table.rows.extend(row);
                    table.costs.push(cost);
                }
            };
            if let Some(message) = &done.tables[number] {
                let mut row = vec![0; message.sites.len()];
                for cost in &message.entries {
                    if *cost < NEVER {
                        take(&row, *cost);
                    }
                    for (o, size) in row.iter_mut().zip(&message.sizes).rev() {
                        *o += 1;
                        if usize::from(*o) < *size {
                            break;
                        }
                        *o = 0;
                    }
                }
            } else if let Some(demand) = reduced.demands.get(number) {
                for row in demand.rows.chunks_exact(demand.sites.len().max(1)) {
                    take(row, 0);
                }
            }
            rest.tables.push(table);
        }
        rest
    }
}

/// Sites that are left, by what hangs together through tables.
fn together(work: &Elimination<'_>) -> Vec<Vec<usize>> {
    let done = &work.done;
    let left = (0..done.tables.len()).filter(|t| done.is_left[*t]);
    let mut all = components(done.is_removed.len(), left.map(|t| work.scope(t)));
    all.retain(|sites| !done.is_removed[sites[0]]);
    all
}
