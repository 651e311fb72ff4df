//! What need not be looked at: options that no row allows, and options beside which another one does all that they do for no
//! more. What is left of a family, its sites and options numbered anew.

use crate::problem::{Demand, Problem, Site};
use crate::solve::Drop;
use crate::table::Weight;

/// Demands with more combinations than this are not asked whether an option can stand in for another.
const MOST_COMBINATIONS: usize = 1 << 26;

/// What is left of a family.
pub(crate) struct Reduced {
    /// By site: its options by their number in the problem.
    pub options: Vec<Vec<u16>>,
    pub costs: Vec<Vec<i64>>,
    /// One for each demand.
    pub demands: Vec<Rows>,
    /// In their order.
    pub drops: Vec<Drop>,
    /// Nothing is allowed.
    pub is_none: bool,
}

/// Rows that a demand still allows.
pub(crate) struct Rows {
    /// The sites, rising.
    pub sites: Vec<usize>,
    /// One row after the other.
    pub rows: Vec<u16>,
    /// Everything is allowed.
    pub is_idle: bool,
}

/// A demand while options are dropped.
struct Asked {
    /// The sites, rising.
    sites: Vec<usize>,
    rows: Vec<u16>,
    /// By place and option: how many rows have it whose options are all open.
    counts: Vec<Vec<usize>>,
    /// By place: where the rows with each option begin in `by_option`.
    begins: Vec<Vec<usize>>,
    /// By place: the rows in the order of their options.
    by_option: Vec<Vec<u32>>,
    /// By place: how far a step moves in `is_there`; empty for a demand with too many combinations.
    strides: Vec<usize>,
    /// A bit for each combination of open options.
    is_there: Vec<u64>,
}

impl Asked {
    fn of(demand: &Demand, sites: &[Site]) -> Self {
        let mut order: Vec<usize> = (0..demand.sites.len()).collect();
        order.sort_unstable_by_key(|i| demand.sites[*i]);
        let scope: Vec<usize> = order.iter().map(|i| demand.sites[*i]).collect();
        let sizes: Vec<usize> = scope.iter().map(|s| sites[*s].costs.len()).collect();
        let mut rows: Vec<Vec<u16>> = Vec::new();
        let mut flat: Vec<u16> = Vec::with_capacity(demand.rows.len() * order.len());
        let strides = strides(&sizes);
        let all = strides.first().zip(sizes.first());
        let mut is_there = vec![0_u64; all.map_or(0, |(stride, size)| stride * size).div_ceil(64)];
        if strides.is_empty() && !sizes.is_empty() {
            // Too many combinations for a bit each: sorted, what is said twice is found.
            rows.extend(
                demand
                    .rows
                    .iter()
                    .map(|row| order.iter().map(|i| row[*i]).collect()),
            );
            rows.sort_unstable();
            rows.dedup();
            flat.extend(rows.iter().flatten());
        } else {
            for row in &demand.rows {
                let places = order.iter().zip(&strides);
                let index: usize = places
                    .map(|(i, stride)| usize::from(row[*i]) * stride)
                    .sum();
                let (word, bit) = (index / 64, 1 << (index % 64));
                if !order.is_empty() && is_there[word] & bit == 0 {
                    is_there[word] |= bit;
                    flat.extend(order.iter().map(|i| row[*i]));
                }
            }
        }
        let mut asked = Self {
            counts: sizes.iter().map(|n| vec![0; *n]).collect(),
            begins: Vec::new(),
            by_option: Vec::new(),
            rows: flat,
            sites: scope,
            strides,
            is_there,
        };
        for row in asked.rows.chunks_exact(sizes.len().max(1)) {
            for (counts, o) in asked.counts.iter_mut().zip(row) {
                counts[usize::from(*o)] += 1;
            }
        }
        for (place, counts) in asked.counts.iter().enumerate() {
            let mut begins = vec![0];
            for count in counts {
                begins.push(begins[begins.len() - 1] + count);
            }
            let mut next = begins.clone();
            let mut sorted = vec![0; asked.rows.len() / sizes.len()];
            for (r, row) in (0_u32..).zip(asked.rows.chunks_exact(sizes.len())) {
                let slot = &mut next[usize::from(row[place])];
                sorted[*slot] = r;
                *slot += 1;
            }
            asked.begins.push(begins);
            asked.by_option.push(sorted);
        }
        asked
    }

    /// The rows with an option, with closed ones among them.
    fn with(&self, place: usize, option: u16) -> impl Iterator<Item = &[u16]> {
        let begins = &self.begins[place][usize::from(option)..];
        let width = self.sites.len();
        self.by_option[place][begins[0]..begins[1]]
            .iter()
            .map(move |r| &self.rows[*r as usize * width..][..width])
    }

    fn index(&self, row: &[u16]) -> usize {
        row.iter()
            .zip(&self.strides)
            .map(|(o, stride)| usize::from(*o) * stride)
            .sum()
    }

    fn has(&self, index: usize) -> bool {
        self.is_there[index / 64] >> (index % 64) & 1 == 1
    }

    /// Whether every row with option `a` at a place is also there with `b`.
    fn stands_in(&self, place: usize, a: u16, b: u16) -> bool {
        let counts = &self.counts[place];
        if self.strides.is_empty() || counts[usize::from(b)] < counts[usize::from(a)] {
            return false;
        }
        let stride = self.strides[place];
        self.with(place, a).all(|row| {
            let at = self.index(row);
            !self.has(at) || self.has(at - usize::from(a) * stride + usize::from(b) * stride)
        })
    }

    /// Takes out all rows with an option.
    fn without(&mut self, place: usize, option: u16, is_open: &[Vec<bool>]) {
        let is_live = |row: &[u16]| {
            let mut places = self.sites.iter().zip(row);
            places.all(|(s, o)| is_open[*s][usize::from(*o)])
        };
        let gone: Vec<Vec<u16>> = self
            .with(place, option)
            .filter(|row| is_live(row))
            .map(<[u16]>::to_vec)
            .collect();
        for row in gone {
            for (counts, o) in self.counts.iter_mut().zip(&row) {
                counts[usize::from(*o)] -= 1;
            }
            if !self.strides.is_empty() {
                let at = self.index(&row);
                self.is_there[at / 64] &= !(1 << (at % 64));
            }
        }
    }
}

/// Drops options of a family until none can be dropped; with `keep_all` only those that no row allows, so that every allowed
/// choice is left.
pub(crate) fn reduce(problem: &Problem, weight: Weight, keep_all: bool) -> Reduced {
    let mut work = Work::new(problem, weight);
    work.run(keep_all);
    work.left()
}

struct Work {
    costs: Vec<Vec<i64>>,
    is_open: Vec<Vec<bool>>,
    asked: Vec<Asked>,
    /// By site: demands and places in them.
    at: Vec<Vec<(usize, usize)>>,
    drops: Vec<Drop>,
    is_none: bool,
}

impl Work {
    fn new(problem: &Problem, weight: Weight) -> Self {
        let mut at = vec![Vec::new(); problem.sites.len()];
        let asked: Vec<Asked> = problem
            .demands
            .iter()
            .map(|d| Asked::of(d, &problem.sites))
            .collect();
        for (d, one) in asked.iter().enumerate() {
            for (place, site) in one.sites.iter().enumerate() {
                at[*site].push((d, place));
            }
        }
        let costs = problem.sites.iter();
        let costs: Vec<Vec<i64>> = costs
            .map(|s| s.costs.iter().map(|c| weight.one(*c)).collect())
            .collect();
        Self {
            is_open: costs.iter().map(|c| vec![true; c.len()]).collect(),
            costs,
            asked,
            at,
            drops: Vec::new(),
            is_none: problem.demands.iter().any(|d| d.rows.is_empty()),
        }
    }

    fn run(&mut self, keep_all: bool) {
        let mut is_due = vec![true; self.at.len()];
        while let Some(site) = is_due.iter().position(|due| *due) {
            if self.is_none {
                return;
            }
            is_due[site] = false;
            // Of options that do the same the first stays.
            for option in (0..self.is_open[site].len()).rev() {
                if !self.is_open[site][option] {
                    continue;
                }
                let number = u16::try_from(option).unwrap_or(u16::MAX);
                let is_allowed =
                    |(d, place): &(usize, usize)| self.asked[*d].counts[*place][option] > 0;
                let instead = if !self.at[site].iter().all(is_allowed) {
                    None
                } else if keep_all {
                    continue;
                } else if let Some(other) = self.better(site, number) {
                    Some(other)
                } else {
                    continue;
                };
                self.drop(site, number, instead);
                for (d, _) in &self.at[site] {
                    for other in &self.asked[*d].sites {
                        is_due[*other] = true;
                    }
                }
            }
            self.is_none |= !self.is_open[site].contains(&true);
        }
    }

    /// An option that does all that this one does for no more.
    fn better(&self, site: usize, option: u16) -> Option<u16> {
        let cost = self.costs[site][usize::from(option)];
        (0_u16..)
            .zip(self.is_open[site].iter().zip(&self.costs[site]))
            .find(|(other, (open, c))| {
                **open
                    && *other != option
                    && **c <= cost
                    && self.at[site]
                        .iter()
                        .all(|(d, place)| self.asked[*d].stands_in(*place, option, *other))
            })
            .map(|(other, _)| other)
    }

    fn drop(&mut self, site: usize, option: u16, instead: Option<u16>) {
        for (d, place) in &self.at[site] {
            self.asked[*d].without(*place, option, &self.is_open);
        }
        self.is_open[site][usize::from(option)] = false;
        self.drops.push(Drop {
            site,
            option,
            instead,
        });
    }

    fn left(self) -> Reduced {
        let options: Vec<Vec<u16>> = self
            .is_open
            .iter()
            .map(|open| {
                let open = (0_u16..).zip(open).filter(|(_, open)| **open);
                open.map(|(o, _)| o).collect()
            })
            .collect();
        let costs = self.costs.iter().zip(&options);
        let costs = costs
            .map(|(costs, mine)| mine.iter().map(|o| costs[usize::from(*o)]).collect())
            .collect();
        let demands = self.asked.iter().map(|a| {
            let width = a.sites.len().max(1);
            let mut rows = Vec::new();
            for row in a.rows.chunks_exact(width) {
                let new: Option<Vec<u16>> = row
                    .iter()
                    .zip(&a.sites)
                    .map(|(o, s)| {
                        let place = options[*s].binary_search(o).ok()?;
                        u16::try_from(place).ok()
                    })
                    .collect();
                rows.extend(new.into_iter().flatten());
            }
            let all = a.sites.iter().map(|s| options[*s].len());
            let all = all.fold(1_usize, usize::saturating_mul);
            Rows {
                is_idle: rows.len() / width == all || a.sites.is_empty(),
                sites: a.sites.clone(),
                rows,
            }
        });
        Reduced {
            demands: demands.collect(),
            options,
            costs,
            drops: self.drops,
            is_none: self.is_none,
        }
    }
}

/// How far a step at each place moves, the last one running fastest; empty beyond the most combinations.
fn strides(sizes: &[usize]) -> Vec<usize> {
    let mut all = vec![1; sizes.len()];
    let mut product = 1_usize;
    for (stride, size) in all.iter_mut().zip(sizes).rev() {
        *stride = product;
        product = product.saturating_mul(*size);
        if product > MOST_COMBINATIONS {
            return Vec::new();
        }
    }
    all
}
