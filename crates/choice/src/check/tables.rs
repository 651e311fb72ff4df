//! The tables of a proof, as lists of rows in the order of their numbers.

use super::ProofError;
use crate::problem::Problem;
use crate::solve::Proof;

/// Messages with more combinations than this are not made.
const MOST_COMBINATIONS: u64 = 1 << 27;

/// Tables with no more combinations than this are looked up by them.
const MOST_DENSE: u64 = 4_096;

/// Rows over some sites with their costs; what is not in it is not allowed.
pub(super) struct Rows {
    pub sites: Vec<usize>,
    sizes: Vec<u64>,
    /// By number: the options as digits, the last site's running fastest.
    pub rows: Vec<(u64, i64)>,
    /// By place: rows by their option, made when they are first asked for.
    by_option: Vec<Vec<Vec<u32>>>,
}

impl Rows {
    fn new(sites: Vec<usize>, sizes: Vec<u64>, mut rows: Vec<(u64, i64)>) -> Self {
        rows.sort_unstable();
        rows.dedup_by_key(|(number, _)| *number);
        Self {
            sites,
            sizes,
            rows,
            by_option: Vec::new(),
        }
    }

    fn step(&self, place: usize) -> u64 {
        self.sizes[place + 1..].iter().product()
    }

    pub(super) fn option(&self, number: u64, place: usize) -> u16 {
        u16::try_from(number / self.step(place) % self.sizes[place]).unwrap_or(u16::MAX)
    }

    fn cost(&self, number: u64) -> Option<i64> {
        let at = self.rows.binary_search_by_key(&number, |(n, _)| *n).ok()?;
        Some(self.rows[at].1)
    }

    fn with(&mut self, place: usize, option: u16) -> &[u32] {
        if self.by_option.is_empty() {
            let lists = |size: &u64| vec![Vec::new(); usize::try_from(*size).unwrap_or(0)];
            let mut all: Vec<Vec<Vec<u32>>> = self.sizes.iter().map(lists).collect();
            for (i, (number, _)) in (0_u32..).zip(&self.rows) {
                for (place, lists) in all.iter_mut().enumerate() {
                    lists[usize::from(self.option(*number, place))].push(i);
                }
            }
            self.by_option = all;
        }
        &self.by_option[place][usize::from(option)]
    }
}

/// A table asked about rows over more sites.
struct Lookup<'a> {
    rows: &'a Rows,
    /// By place of the table: the place in the row, and how far a step moves.
    digits: Vec<(usize, u64)>,
    /// Costs by number where that is not too much.
    dense: Vec<Option<i64>>,
    is_owned: bool,
}

impl<'a> Lookup<'a> {
    fn new(rows: &'a Rows, scope: &[usize], is_owned: bool) -> Self {
        let digit = |(place, site): (usize, &usize)| {
            let at = scope.iter().position(|s| s == site).unwrap_or(0);
            (at, rows.step(place))
        };
        let all = rows.sizes.iter().product::<u64>();
        let mut dense = Vec::new();
        if all <= MOST_DENSE.max(8 * rows.rows.len() as u64) {
            dense.resize(usize::try_from(all).unwrap_or(0), None);
            for (number, cost) in &rows.rows {
                dense[*number as usize] = Some(*cost);
            }
        }
        Self {
            digits: rows.sites.iter().enumerate().map(digit).collect(),
            rows,
            dense,
            is_owned,
        }
    }

    /// What a row costs by it, nothing for one that it only allows.
    fn cost(&self, row: &[u16]) -> Option<i64> {
        let digits = self.digits.iter();
        let number: u64 = digits.map(|(at, step)| u64::from(row[*at]) * step).sum();
        let cost = if self.dense.is_empty() {
            self.rows.cost(number)
        } else {
            self.dense[number as usize]
        };
        cost.map(|c| if self.is_owned { c } else { 0 })
    }
}

/// All tables by number, and which options are still open.
pub(super) struct Tables {
    pub all: Vec<Rows>,
    is_used: Vec<bool>,
    pub is_open: Vec<Vec<bool>>,
    demands: usize,
    constant: Option<i64>,
    beyond: i64,
}

impl Tables {
    /// The demands, then the costs of the sites.
    pub(super) fn new(problem: &Problem, proof: &Proof) -> Result<Self, ProofError> {
        let mut all_sites: Vec<usize> = proof.merged.iter().flatten().copied().collect();
        all_sites.sort_unstable();
        let mut asked = proof.sites.clone();
        asked.sort_unstable();
        let is_whole = all_sites == asked && proof.merged.iter().all(|m| !m.is_empty());
        if !is_whole || proof.demands.iter().any(|d| *d >= problem.demands.len()) {
            return Err(ProofError::NotAll);
        }
        let costs = |site: usize| &problem.sites[site].costs;
        let most = |number: &dyn Fn(usize) -> u32| -> i64 {
            proof.sites.iter().map(|s| i64::from(number(*s))).sum()
        };
        let seconds = most(&|s| costs(s).iter().map(|c| c.1).max().unwrap_or(0));
        let firsts = most(&|s| costs(s).iter().map(|c| c.0).max().unwrap_or(0));
        let beyond = firsts
            .checked_mul(proof.first)
            .and_then(|n| n.checked_add(proof.first));
        // Only then does the one number compare as the two do.
        let Some(beyond) = beyond.filter(|_| proof.first > seconds) else {
            return Err(ProofError::NotAll);
        };
        let size = |m: &Vec<usize>| m.iter().map(|s| costs(*s).len() as u64).product::<u64>();
        let sizes: Vec<u64> = proof.merged.iter().map(size).collect();
        if sizes.iter().any(|s| *s > u64::from(u16::MAX)) {
            return Err(ProofError::NotAll);
        }
        let mut tables = Self {
            all: Vec::new(),
            is_used: Vec::new(),
            is_open: sizes
                .iter()
                .map(|n| vec![true; usize::try_from(*n).unwrap_or(0)])
                .collect(),
            demands: proof.demands.len(),
            constant: Some(0),
            beyond,
        };
        for demand in proof.demands.iter().map(|d| &problem.demands[*d]) {
            let named = |m: &Vec<usize>| m.iter().filter(|s| demand.sites.contains(s)).count();
            let groups: Vec<usize> = (0..sizes.len())
                .filter(|g| named(&proof.merged[*g]) > 0)
                .collect();
            if groups
                .iter()
                .any(|g| named(&proof.merged[*g]) < proof.merged[*g].len())
            {
                return Err(ProofError::NotAll);
            }
            let scope: Vec<u64> = groups.iter().map(|g| sizes[*g]).collect();
            let all = scope.iter().try_fold(1_u64, |n, s| n.checked_mul(*s));
            all.ok_or(ProofError::NotAll)?;
            // By site: its place in the demand's rows and its size, in the order of the groups.
            let digits: Vec<(usize, u64)> = groups
                .iter()
                .flat_map(|g| &proof.merged[*g])
                .filter_map(|s| {
                    Some((
                        demand.sites.iter().position(|t| t == s)?,
                        costs(*s).len() as u64,
                    ))
                })
                .collect();
            let number = |row: &Vec<u16>| {
                let all = digits.iter();
                all.fold(0, |n, (place, size)| n * size + u64::from(row[*place]))
            };
            let rows: Vec<(u64, i64)> = demand.rows.iter().map(|row| (number(row), 0)).collect();
            if rows.is_empty() {
                tables.constant = None;
            }
            tables.push(Rows::new(groups, scope, rows));
        }
        for (site, merged) in proof.merged.iter().enumerate() {
            let mut sums = vec![0];
            for s in merged {
                let mine = costs(*s)
                    .iter()
                    .map(|c| i64::from(c.0) * proof.first + i64::from(c.1));
                let mine: Vec<i64> = mine.collect();
                sums = sums
                    .iter()
                    .flat_map(|sum| mine.iter().map(move |c| sum + c))
                    .collect();
            }
            tables.push(Rows::new(
                vec![site],
                vec![sizes[site]],
                (0..).zip(sums).collect(),
            ));
        }
        Ok(tables)
    }

    fn push(&mut self, rows: Rows) {
        self.all.push(rows);
        self.is_used.push(false);
    }

    pub(super) fn site_count(&self) -> usize {
        self.is_open.len()
    }

    /// More than any choice costs.
    pub(super) fn beyond(&self) -> i64 {
        self.beyond
    }

    /// What is certain so far; `None` where nothing is allowed.
    pub(super) fn constant(&self) -> Option<i64> {
        let is_empty = self.is_open.iter().any(|open| !open.contains(&true));
        self.constant.filter(|_| !is_empty)
    }

    pub(super) fn is_live(&self, t: usize, number: u64) -> bool {
        let rows = &self.all[t];
        let mut places = (0..rows.sites.len()).zip(&rows.sites);
        places.all(|(place, site)| self.is_open[*site][usize::from(rows.option(number, place))])
    }

    /// Takes a table for somebody; `None` where it is not there or taken.
    pub(super) fn take(&mut self, t: usize) -> Option<()> {
        let used = self.is_used.get_mut(t).filter(|used| !**used)?;
        *used = true;
        Some(())
    }

    /// The number of the table of a site's costs.
    pub(super) fn cost_table(&self, site: usize) -> usize {
        self.demands + site
    }

    /// Leaves an option out, if no table allows it or another one never costs more; `None` where that is not so.
    pub(super) fn drop(&mut self, site: usize, option: u16, instead: Option<u16>) -> Option<()> {
        let is_open = |o: u16| self.is_open.get(site)?.get(usize::from(o)).filter(|o| **o);
        is_open(option)?;
        if let Some(other) = instead {
            is_open(other).filter(|_| other != option)?;
        }
        let mut more = 0;
        let mut is_allowed = true;
        for t in 0..self.all.len() {
            let Some(place) = self.all[t].sites.iter().position(|s| *s == site) else {
                continue;
            };
            if self.is_used[t] {
                continue;
            }
            let step = self.all[t].step(place);
            let rows = self.all[t].with(place, option).to_vec();
            let mut most: Option<i64> = None;
            for (number, cost) in rows.iter().map(|r| self.all[t].rows[*r as usize]) {
                if !self.is_live(t, number) {
                    continue;
                }
                let with = match instead {
                    Some(other) => {
                        let number = number - u64::from(option) * step + u64::from(other) * step;
                        self.all[t].cost(number)? - cost
                    }
                    None => 0,
                };
                most = Some(most.map_or(with, |m| m.max(with)));
            }
            match most {
                Some(most) => more += most,
                None => is_allowed = false,
            }
        }
        if is_allowed && (instead.is_none() || more > 0) {
            return None;
        }
        self.is_open[site][usize::from(option)] = false;
        Some(())
    }

    /// Minimises a site out of the sum of some tables; `None` where that is not sound or too large.
    pub(super) fn remove(&mut self, site: usize, tables: &[usize], message: usize) -> Option<()> {
        if message != self.all.len() {
            return None;
        }
        for t in tables {
            self.take(*t)?;
        }
        let mut scope: Vec<usize> = tables
            .iter()
            .flat_map(|t| self.all[*t].sites.iter().copied())
            .collect();
        scope.sort_unstable();
        scope.dedup();
        let rest: Vec<usize> = scope.iter().copied().filter(|s| *s != site).collect();
        let sizes: Vec<u64> = rest.iter().map(|s| self.is_open[*s].len() as u64).collect();
        sizes.iter().try_fold(1_u64, |n, s| n.checked_mul(*s))?;
        // Only open options take room: by site of the message, each open option's place among them.
        let open = |s: &usize| -> Vec<u64> {
            let options = (0_u64..).zip(&self.is_open[*s]);
            options.filter(|(_, o)| **o).map(|(o, _)| o).collect()
        };
        let open: Vec<Vec<u64>> = rest.iter().map(open).collect();
        let all = open
            .iter()
            .try_fold(1_u64, |n, o| n.checked_mul(o.len() as u64))
            .filter(|all| *all <= MOST_COMBINATIONS)?;
        let mut least = vec![i64::MAX; usize::try_from(all).ok()?];
        let places: Vec<usize> = (0..scope.len()).filter(|i| scope[*i] != site).collect();
        self.joined(&scope, tables, tables, &mut |row, cost| {
            let index = places.iter().zip(&open).fold(0, |n, (place, open)| {
                let among = open.binary_search(&u64::from(row[*place])).unwrap_or(0);
                n * open.len() + among
            });
            least[index] = least[index].min(cost);
        });
        let number = |index: usize| {
            let mut index = index;
            let (mut number, mut step) = (0, 1);
            for (open, size) in open.iter().zip(&sizes).rev() {
                number += open[index % open.len()] * step;
                index /= open.len();
                step *= size;
            }
            number
        };
        let rows: Vec<(u64, i64)> = least
            .iter()
            .enumerate()
            .filter(|(_, c)| **c < i64::MAX)
            .map(|(index, c)| (number(index), *c))
            .collect();
        if rest.is_empty() {
            self.constant = self.constant.zip(rows.first()).map(|(sum, (_, c))| sum + c);
        }
        let is_used = rest.is_empty();
        self.push(Rows::new(rest, sizes, rows));
        self.is_used[message] = is_used;
        Some(())
    }

    /// Every row of open options over some sites that all of `hard` allow, with the sum of what `owned` ones cost.
    pub(super) fn joined(
        &self,
        scope: &[usize],
        hard: &[usize],
        owned: &[usize],
        take: &mut dyn FnMut(&[u16], i64),
    ) {
        // The rows of the widest table, each with every option of the sites that it does not have.
        let start = hard
            .iter()
            .copied()
            .max_by_key(|t| (self.all[*t].sites.len(), self.all[*t].rows.len()));
        let mine: &[usize] = start.map_or(&[], |t| &self.all[t].sites);
        let others: Vec<usize> = (0..scope.len())
            .filter(|i| !mine.contains(&scope[*i]))
            .collect();
        let lookups: Vec<Lookup<'_>> = hard
            .iter()
            .map(|t| Lookup::new(&self.all[*t], scope, owned.contains(t)))
            .collect();
        let mut row = vec![0_u16; scope.len()];
        let mut each = |row: &mut Vec<u16>| {
            let options: Vec<Vec<u16>> = others
                .iter()
                .map(|i| {
                    let open = (0_u16..).zip(&self.is_open[scope[*i]]);
                    open.filter(|(_, open)| **open).map(|(o, _)| o).collect()
                })
                .collect();
            if options.iter().any(Vec::is_empty) {
                return;
            }
            let mut at = vec![0; others.len()];
            loop {
                for ((i, list), a) in others.iter().zip(&options).zip(&at) {
                    row[*i] = list[*a];
                }
                let mut sum = Some(0);
                for lookup in &lookups {
                    sum = sum.zip(lookup.cost(row)).map(|(a, b)| a + b);
                    if sum.is_none() {
                        break;
                    }
                }
                if let Some(sum) = sum {
                    take(row, sum);
                }
                let Some(i) = (0..at.len()).rev().find(|i| at[*i] + 1 < options[*i].len()) else {
                    return;
                };
                at[i] += 1;
                at[i + 1..].fill(0);
            }
        };
        let Some(start) = start else {
            each(&mut row);
            return;
        };
        let places: Vec<usize> = mine
            .iter()
            .filter_map(|s| scope.iter().position(|t| t == s))
            .collect();
        for (number, _) in &self.all[start].rows {
            if self.is_live(start, *number) {
                for (i, place) in places.iter().enumerate() {
                    row[*place] = self.all[start].option(*number, i);
                }
                each(&mut row);
            }
        }
    }

    /// Tables that lie within some sites and that no removal used up.
    pub(super) fn within(&self, sites: &[usize]) -> Vec<usize> {
        let is_within = |t: &usize| {
            let rows = &self.all[*t];
            !rows.sites.is_empty() && rows.sites.iter().all(|s| sites.contains(s))
        };
        (0..self.all.len()).filter(is_within).collect()
    }
}
