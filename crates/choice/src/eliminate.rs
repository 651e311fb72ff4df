//! Elimination: site after site is minimised out of the tables that mention it, as long as the table that results is small.

use std::collections::BTreeSet;

use crate::reduce::{Reduced, Rows};
use crate::solve::{Cut, Drop, Removal};
use crate::table::{NEVER, Table, minimised};

/// Demands with more combinations than this stay lists of rows.
const MOST_DENSE: usize = 20_000;

/// What elimination leaves behind.
pub(crate) struct Eliminated {
    /// Options dropped and sites removed, in turn, sites and options by their number in what was reduced.
    pub steps: Vec<Cut>,
    /// Tables by number: demands first, then site costs, then messages, as [`Removal`] numbers them. Those of demands that no
    /// removal uses and that are not small are not made.
    pub tables: Vec<Option<Table>>,
    /// Tables that no removal uses.
    pub is_left: Vec<bool>,
    /// By site: whether it is removed.
    pub is_removed: Vec<bool>,
    /// By site and option: whether it is left.
    pub is_open: Vec<Vec<bool>>,
    /// The sum of the messages without sites.
    pub constant: i64,
}

/// An order of removal, with how many entries it makes in all and at once.
pub(crate) struct Order {
    pub sites: Vec<usize>,
    pub all: usize,
    pub most: usize,
}

/// Elimination while it goes on.
pub(crate) struct Elimination<'a> {
    reduced: &'a Reduced,
    pub done: Eliminated,
    /// By site: the tables that mention it, used ones among them.
    at: Vec<Vec<usize>>,
}

impl<'a> Elimination<'a> {
    pub(crate) fn new(reduced: &'a Reduced) -> Self {
        let n = reduced.options.len();
        let mut tables: Vec<Option<Table>> = vec![None; reduced.demands.len()];
        let mut is_left = vec![true; tables.len()];
        let mut at: Vec<Vec<usize>> = vec![Vec::new(); n];
        for (t, demand) in reduced.demands.iter().enumerate() {
            is_left[t] = !demand.is_idle;
            if !demand.is_idle {
                demand.sites.iter().for_each(|s| at[*s].push(t));
            }
        }
        for (site, costs) in reduced.costs.iter().enumerate() {
            at[site].push(tables.len());
            is_left.push(true);
            tables.push(Some(Table {
                sites: vec![site],
                sizes: vec![costs.len()],
                entries: costs.clone(),
            }));
        }
        Self {
            done: Eliminated {
                steps: Vec::new(),
                tables,
                is_left,
                is_removed: vec![false; n],
                is_open: reduced
                    .options
                    .iter()
                    .map(|o| vec![true; o.len()])
                    .collect(),
                constant: 0,
            },
            reduced,
            at,
        }
    }

    fn mine(&self, site: usize) -> Vec<usize> {
        let all = self.at[site].iter().copied();
        all.filter(|t| self.done.is_left[*t]).collect()
    }

    fn make_dense(&mut self, t: usize) {
        if self.done.tables[t].is_none() {
            let options = &self.reduced.options;
            let mut table = dense(&self.reduced.demands[t], &|s| options[s].len());
            for site in table.sites.clone() {
                for option in (0..options[site].len()).filter(|o| !self.done.is_open[site][*o]) {
                    table.close(site, option);
                }
            }
            self.done.tables[t] = Some(table);
        }
    }

    fn remove(&mut self, site: usize) {
        let part = self.mine(site);
        for t in &part {
            self.make_dense(*t);
            self.done.is_left[*t] = false;
        }
        let tables = &self.done.tables;
        let summed: Vec<&Table> = part.iter().filter_map(|t| tables[*t].as_ref()).collect();
        let options = &self.reduced.options;
        let message = minimised(&summed, site, &|s| options[s].len());
        let number = self.done.tables.len();
        if message.sites.is_empty() {
            self.done.constant = (self.done.constant + message.entries[0]).min(NEVER);
        }
        // One that says nothing binds nobody.
        let is_idle = message.is_idle(&self.done.is_open);
        if !is_idle {
            message.sites.iter().for_each(|s| self.at[*s].push(number));
        }
        self.done.is_removed[site] = true;
        self.done.steps.push(Cut::Remove(Removal {
            site,
            tables: part,
            message: number,
        }));
        self.done
            .is_left
            .push(!is_idle && !message.sites.is_empty());
        self.done.tables.push(Some(message));
    }

    /// The order of removal of some sites that makes small tables.
    pub(crate) fn order(&self, sites: &[usize]) -> Order {
        let n = self.at.len();
        let mut beside: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); n];
        for site in sites {
            for t in self.mine(*site) {
                beside[*site].extend(self.scope(t).iter().filter(|s| *s != site));
            }
        }
        let open: Vec<usize> = self.open_counts();
        let entries = |site: usize, beside: &BTreeSet<usize>| {
            let all = beside.iter().chain([&site]);
            all.fold(1_usize, |n, s| n.saturating_mul(open[*s]))
        };
        let mut queue: BTreeSet<(usize, usize)> = sites
            .iter()
            .map(|s| (entries(*s, &beside[*s]), *s))
            .collect();
        let mut order = Order {
            sites: Vec::with_capacity(sites.len()),
            all: 0,
            most: 0,
        };
        while let Some((count, site)) = queue.pop_first() {
            order.sites.push(site);
            order.all = order.all.saturating_add(count);
            order.most = order.most.max(count);
            let around = std::mem::take(&mut beside[site]);
            for a in &around {
                queue.remove(&(entries(*a, &beside[*a]), *a));
                beside[*a].extend(around.iter().filter(|b| *b != a));
                beside[*a].remove(&site);
                queue.insert((entries(*a, &beside[*a]), *a));
            }
        }
        order
    }

    fn open_counts(&self) -> Vec<usize> {
        let count = |open: &Vec<bool>| open.iter().filter(|o| **o).count();
        self.done.is_open.iter().map(count).collect()
    }

    /// Removes sites in turn; where `watch` says stop, all of that is taken back and the answer is false.
    pub(crate) fn remove_all(&mut self, sites: &[usize], watch: &mut dyn FnMut() -> bool) -> bool {
        let done = &self.done;
        let (steps, tables) = (done.steps.len(), done.tables.len());
        let before = (done.is_left.clone(), done.is_removed.clone(), done.constant);
        for site in sites {
            if !watch() {
                let done = &mut self.done;
                done.steps.truncate(steps);
                done.tables.truncate(tables);
                (done.is_left, done.is_removed, done.constant) = before;
                self.at
                    .iter_mut()
                    .for_each(|list| list.retain(|t| *t < tables));
                return false;
            }
            self.remove(*site);
        }
        true
    }

    /// Drops options, and removes sites while no table grows beyond `small` entries or beyond the tables that it is made of,
    /// and none beyond `most`.
    pub(crate) fn shrink(
        &mut self,
        small: usize,
        most: usize,
        watch: &mut dyn FnMut() -> bool,
    ) -> Option<()> {
        let n = self.at.len();
        for (t, demand) in self.reduced.demands.iter().enumerate() {
            let sizes = demand.sites.iter().map(|s| self.reduced.options[*s].len());
            if self.done.is_left[t] && sizes.fold(1_usize, usize::saturating_mul) <= MOST_DENSE {
                self.make_dense(t);
            }
        }
        let mut is_due = vec![true; n];
        let mut entries: Vec<Option<(usize, usize)>> = vec![None; n];
        loop {
            let mut touched = Vec::new();
            if let Some(site) = is_due.iter().position(|due| *due) {
                is_due[site] = false;
                if self.done.is_removed[site] {
                    continue;
                }
                while let Some((option, other)) = self.worse(site) {
                    touched.extend(self.around(site));
                    self.drop(site, option, other);
                }
            } else {
                if !watch() {
                    return None;
                }
                let left = (0..n).filter(|s| !self.done.is_removed[*s]);
                let cheap = left.filter_map(|s| {
                    let (count, largest) = *entries[s].get_or_insert_with(|| self.entries(s));
                    (count <= small.max(largest.min(most))).then_some((count, s))
                });
                let Some((_, site)) = cheap.min() else {
                    return Some(());
                };
                touched = self.around(site);
                self.remove(site);
            }
            for s in touched {
                is_due[s] = true;
                entries[s] = None;
            }
        }
    }

    /// The sites of the tables that mention a site, it among them, as often as they do.
    fn around(&self, site: usize) -> Vec<usize> {
        let mine = self.mine(site);
        mine.iter()
            .flat_map(|t| self.scope(*t).iter().copied())
            .collect()
    }

    pub(crate) fn scope(&self, t: usize) -> &[usize] {
        match &self.done.tables[t] {
            Some(table) => &table.sites,
            None => &self.reduced.demands[t].sites,
        }
    }

    /// How many entries the removal of a site makes, and how many the largest table has that it uses.
    fn entries(&self, site: usize) -> (usize, usize) {
        let open = |s: &usize| self.done.is_open[*s].iter().filter(|o| **o).count();
        let product = |sites: &[usize]| sites.iter().map(open).fold(1, usize::saturating_mul);
        let tables = self.mine(site);
        let largest = tables.iter().map(|t| product(self.scope(*t))).max();
        let mut all = self.around(site);
        all.sort_unstable();
        all.dedup();
        (product(&all), largest.unwrap_or(1))
    }

    /// An option, and another one that does for no more whatever the other sites take; by places in the list of options.
    fn worse(&self, site: usize) -> Option<(usize, usize)> {
        let mine = self.mine(site);
        let tables: Option<Vec<&Table>> =
            mine.iter().map(|t| self.done.tables[*t].as_ref()).collect();
        let tables = tables?;
        let is_open = &self.done.is_open[site];
        let options = 0..is_open.len();
        let no_more = |a: usize, b: usize| {
            let mut sum = 0;
            for table in &tables {
                sum += table.more(site, a, b);
                // Below -NEVER: the first option is allowed nowhere.
                if sum >= NEVER / 2 {
                    return false;
                }
            }
            sum <= 0
        };
        let open = || options.clone().filter(|o| is_open[*o]);
        open().rev().find_map(|a| {
            let b = open().find(|b| *b != a && no_more(a, *b))?;
            Some((a, b))
        })
    }

    fn drop(&mut self, site: usize, option: usize, other: usize) {
        let number = |o: usize| u16::try_from(o).unwrap_or(u16::MAX);
        self.done.steps.push(Cut::Drop(Drop {
            site,
            option: number(option),
            instead: Some(number(other)),
        }));
        self.done.is_open[site][option] = false;
        for t in self.mine(site) {
            if let Some(table) = &mut self.done.tables[t] {
                table.close(site, option);
                // What a site costs stays: it says which options are closed.
                let is_cost = table.sites.len() == 1;
                self.done.is_left[t] = is_cost || !table.is_idle(&self.done.is_open);
            }
        }
    }
}

impl Eliminated {
    /// Sets the removed sites, last removed first, each to its cheapest option beside those already set.
    pub(crate) fn fill(&self, choice: &mut [u16]) {
        let removals = self.steps.iter().rev().filter_map(|step| match step {
            Cut::Remove(removal) => Some(removal),
            Cut::Drop(_) => None,
        });
        for removal in removals {
            let cost = |option: usize, choice: &mut [u16]| {
                choice[removal.site] = u16::try_from(option).unwrap_or(u16::MAX);
                let tables = removal
                    .tables
                    .iter()
                    .filter_map(|t| self.tables[*t].as_ref());
                tables
                    .map(|t| t.at(choice))
                    .fold(0, |a: i64, b| (a + b).min(NEVER))
            };
            let options = 0..self.is_open[removal.site].len();
            let best = options.min_by_key(|o| cost(*o, choice));
            choice[removal.site] = u16::try_from(best.unwrap_or(0)).unwrap_or(u16::MAX);
        }
    }
}

/// A demand as a table: 0 where it allows, [`NEVER`] elsewhere.
fn dense(demand: &Rows, size_of: &dyn Fn(usize) -> usize) -> Table {
    let sizes: Vec<usize> = demand.sites.iter().map(|s| size_of(*s)).collect();
    let mut table = Table::filled(demand.sites.clone(), sizes, NEVER);
    for row in demand.rows.chunks_exact(demand.sites.len().max(1)) {
        let index = row
            .iter()
            .zip(&table.sizes)
            .fold(0, |index, (o, size)| index * size + usize::from(*o));
        table.entries[index] = 0;
    }
    table
}
