//! Sites that every demand names all together or not at all, such as the holes of one face, as one site: what they can do
//! together is compared as a whole then.

use crate::problem::{Demand, Problem, Site};

/// Sites are put together up to so many options.
const MOST_OPTIONS: usize = 1_300;

/// A family with some of its sites put together.
pub(crate) struct Merged {
    /// Its sites, each one or several of the problem's, the last one's option running fastest.
    pub sites: Vec<Vec<usize>>,
    /// The family alone, by its own numbers.
    pub problem: Problem,
}

impl Merged {
    pub(crate) fn of(problem: &Problem, sites: &[usize], demands: &[usize]) -> Self {
        let groups = groups(problem, sites, demands);
        let size = |s: &usize| problem.sites[*s].costs.len();
        let costs = groups.iter().map(|group| {
            let mut sums = vec![crate::problem::Cost::default()];
            for site in group {
                let costs = &problem.sites[*site].costs;
                let more = sums
                    .iter()
                    .flat_map(|sum| costs.iter().map(|c| sum.plus(*c)));
                sums = more.collect();
            }
            Site { costs: sums }
        });
        let mut home = vec![0; problem.sites.len()];
        for (g, group) in groups.iter().enumerate() {
            group.iter().for_each(|s| home[*s] = g);
        }
        let demand = |d: &usize| {
            let demand = &problem.demands[*d];
            let mut scope: Vec<usize> = demand.sites.iter().map(|s| home[*s]).collect();
            scope.sort_unstable();
            scope.dedup();
            let places: Vec<Vec<(usize, usize)>> = scope
                .iter()
                .map(|g| {
                    let place = |s: &usize| demand.sites.iter().position(|t| t == s).unwrap_or(0);
                    groups[*g].iter().map(|s| (place(s), size(s))).collect()
                })
                .collect();
            let row = |row: &Vec<u16>| {
                let option = |places: &Vec<(usize, usize)>| {
                    let all = places.iter();
                    let index = all.fold(0, |i, (p, size)| i * size + usize::from(row[*p]));
                    u16::try_from(index).unwrap_or(u16::MAX)
                };
                places.iter().map(option).collect()
            };
            Demand {
                rows: demand.rows.iter().map(row).collect(),
                sites: scope,
            }
        };
        Self {
            problem: Problem {
                sites: costs.collect(),
                demands: demands.iter().map(demand).collect(),
            },
            sites: groups,
        }
    }

    /// The options of the problem's sites that a site's option stands for.
    pub(crate) fn split(&self, whole: &Problem, site: usize, option: u16) -> Vec<(usize, u16)> {
        let mut rest = usize::from(option);
        let mut all: Vec<(usize, u16)> = Vec::new();
        for s in self.sites[site].iter().rev() {
            let size = whole.sites[*s].costs.len();
            all.push((*s, u16::try_from(rest % size).unwrap_or(u16::MAX)));
            rest /= size;
        }
        all
    }
}

/// Sites by the demands that name them.
fn groups(problem: &Problem, sites: &[usize], demands: &[usize]) -> Vec<Vec<usize>> {
    let mut named: Vec<Vec<usize>> = vec![Vec::new(); problem.sites.len()];
    for d in demands {
        let demand = &problem.demands[*d];
        demand.sites.iter().for_each(|s| named[*s].push(*d));
    }
    let mut order = sites.to_vec();
    order.sort_unstable_by(|a, b| named[*a].cmp(&named[*b]).then(a.cmp(b)));
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut options = 0;
    for site in order {
        let size = problem.sites[site].costs.len();
        match groups.last_mut() {
            Some(group)
                if named[group[0]] == named[site]
                    && !named[site].is_empty()
                    && options * size <= MOST_OPTIONS =>
            {
                group.push(site);
                options *= size;
            }
            _ => {
                groups.push(vec![site]);
                options = size;
            }
        }
    }
    groups.sort_unstable();
    groups
}
