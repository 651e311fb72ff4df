//! Elimination of one family: site after site is minimised out of the tables that mention it. Where a table would grow too
//! large, it is split and each part minimised by itself, which gives a lower bound instead of the minimum.

use crate::problem::{Cost, Problem};
use crate::solve::Removal;
use crate::table::{Entry, Table, entries_of};
use tiny_sort::stable::sort_by_key;

/// What elimination leaves behind.
pub(crate) struct Eliminated {
    /// In the order of removal.
    pub removals: Vec<Removal>,
    /// Least cost (or a bound under it); `None` where nothing is allowed.
    pub least: Entry,
    /// Tables by number: demands first, then site costs, then messages, as [`Removal`] numbers them.
    pub tables: Vec<Table>,
}

/// Eliminates all sites of a family; `None` where a single demand is already too large for a table, or `watch` says stop.
pub(crate) fn eliminate(
    problem: &Problem,
    sites: &[usize],
    demands: &[usize],
    most_entries: usize,
    watch: &mut dyn FnMut() -> bool,
) -> Option<Eliminated> {
    let mut tables = first_tables(problem, sites, demands, most_entries)?;
    let mut alive: Vec<bool> = vec![true; tables.len()];
    let mut left: Vec<usize> = sites.to_vec();
    let mut removals = Vec::new();
    let mut constant: Entry = Some(Cost::default());
    let size_of = |site: usize| problem.sites[site].costs.len();
    while let Some(site) = next_site(&left, &tables, &alive, &size_of) {
        if !watch() {
            return None;
        }
        left.retain(|s| *s != site);
        let mut mentions: Vec<usize> = (0..tables.len())
            .filter(|t| alive[*t] && tables[*t].sites.contains(&site))
            .collect();
        // Large tables first: small ones then fill up what they have room for.
        sort_by_key(&mut mentions, |t| {
            (std::cmp::Reverse(tables[*t].entries.len()), *t)
        });
        for part in parts(&mentions, &tables, site, &size_of, most_entries) {
            let message = minimised(&part, &tables, site, &size_of);
            for t in &part {
                alive[*t] = false;
            }
            if message.sites.is_empty() {
                constant = match (constant, message.entries.first().copied().flatten()) {
                    (Some(a), Some(b)) => Some(a.plus(b)),
                    _ => None,
                };
            }
            let is_constant = message.sites.is_empty();
            removals.push(Removal {
                site,
                tables: part,
                message: tables.len(),
            });
            tables.push(message);
            alive.push(!is_constant);
        }
    }
    // Demands without sites, which are met or not whatever is chosen.
    for table in tables
        .iter()
        .zip(&alive)
        .filter(|(t, a)| **a && t.sites.is_empty())
    {
        if table.0.entries.first().copied().flatten().is_none() {
            constant = None;
        }
    }
    Some(Eliminated {
        removals,
        least: constant,
        tables,
    })
}

/// One table for each demand, then one for each site's costs.
fn first_tables(
    problem: &Problem,
    sites: &[usize],
    demands: &[usize],
    most_entries: usize,
) -> Option<Vec<Table>> {
    let mut tables = Vec::new();
    for demand in demands {
        let demand = &problem.demands[*demand];
        let mut order: Vec<usize> = (0..demand.sites.len()).collect();
        sort_by_key(&mut order, |i| demand.sites[*i]);
        let scope: Vec<usize> = order.iter().map(|i| demand.sites[*i]).collect();
        let sizes: Vec<usize> = scope
            .iter()
            .map(|s| problem.sites[*s].costs.len())
            .collect();
        entries_of(sizes.iter().copied(), most_entries)?;
        let mut table = Table::filled(scope, sizes, None);
        for row in &demand.rows {
            let mut index = 0;
            for (i, size) in order.iter().zip(&table.sizes) {
                index = index * size + usize::from(row[*i]);
            }
            table.entries[index] = Some(Cost::default());
        }
        tables.push(table);
    }
    for site in sites {
        let costs = &problem.sites[*site].costs;
        let mut table = Table::filled(vec![*site], vec![costs.len()], None);
        for (entry, cost) in table.entries.iter_mut().zip(costs) {
            *entry = Some(*cost);
        }
        tables.push(table);
    }
    Some(tables)
}

/// The site whose removal makes the smallest table; the lowest of equals.
fn next_site(
    left: &[usize],
    tables: &[Table],
    alive: &[bool],
    size_of: &dyn Fn(usize) -> usize,
) -> Option<usize> {
    let weight = |site: usize| {
        let mut around: Vec<usize> = tables
            .iter()
            .zip(alive)
            .filter(|(t, a)| **a && t.sites.contains(&site))
            .flat_map(|(t, _)| t.sites.iter().copied())
            .collect();
        around.sort_unstable();
        around.dedup();
        // Sums of logarithms compare as products do, without overflow.
        around.iter().map(|s| log2(size_of(*s))).sum::<u64>()
    };
    left.iter().copied().min_by_key(|s| (weight(*s), *s))
}

/// A thousand times the logarithm to base two, rounded down.
fn log2(size: usize) -> u64 {
    let whole = size.max(1).ilog2();
    let rest = (size << 10 >> whole) as u64 - 1024;
    u64::from(whole) * 1024 + rest
}

/// Groups of tables that together stay within the limit: one group where all do.
fn parts(
    mentions: &[usize],
    tables: &[Table],
    site: usize,
    size_of: &dyn Fn(usize) -> usize,
    most: usize,
) -> Vec<Vec<usize>> {
    let mut all: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    for t in mentions {
        let joined = |scope: &Vec<usize>| {
            let mut both = [scope.as_slice(), tables[*t].sites.as_slice()].concat();
            both.sort_unstable();
            both.dedup();
            both
        };
        let room = all.iter_mut().find_map(|(scope, list)| {
            let both = joined(scope);
            entries_of(both.iter().map(|s| size_of(*s)), most)?;
            Some((scope, list, both))
        });
        match room {
            Some((scope, list, both)) => {
                *scope = both;
                list.push(*t);
            }
            None => all.push((tables[*t].sites.clone(), vec![*t])),
        }
    }
    debug_assert!(all.iter().all(|(scope, _)| scope.contains(&site)));
    all.into_iter().map(|(_, list)| list).collect()
}

/// The sum of tables with a site minimised out.
fn minimised(
    part: &[usize],
    tables: &[Table],
    site: usize,
    size_of: &dyn Fn(usize) -> usize,
) -> Table {
    let mut scope: Vec<usize> = part
        .iter()
        .flat_map(|t| tables[*t].sites.iter().copied())
        .collect();
    scope.sort_unstable();
    scope.dedup();
    scope.retain(|s| *s != site);
    let sizes: Vec<usize> = scope.iter().map(|s| size_of(*s)).collect();
    let mut out = Table::filled(scope.clone(), sizes.clone(), None);
    let order: Vec<usize> = scope.iter().copied().chain([site]).collect();
    let strides: Vec<Vec<usize>> = part.iter().map(|t| tables[*t].strides(&order)).collect();
    let options = size_of(site);
    let mut digits = vec![0_usize; scope.len()];
    let mut bases = vec![0_usize; part.len()];
    for entry in &mut out.entries {
        let mut least: Entry = None;
        for option in 0..options {
            let mut sum = Some(Cost::default());
            for ((t, base), stride) in part.iter().zip(&bases).zip(&strides) {
                let here = tables[*t].entries[base + option * stride[scope.len()]];
                sum = match (sum, here) {
                    (Some(a), Some(b)) => Some(a.plus(b)),
                    _ => None,
                };
                if sum.is_none() {
                    break;
                }
            }
            if let Some(sum) = sum {
                least = Some(least.map_or(sum, |l| l.min(sum)));
            }
        }
        *entry = least;
        // The next combination, the last site running fastest.
        for i in (0..digits.len()).rev() {
            digits[i] += 1;
            for (base, stride) in bases.iter_mut().zip(&strides) {
                *base += stride[i];
            }
            if digits[i] < sizes[i] {
                break;
            }
            for (base, stride) in bases.iter_mut().zip(&strides) {
                *base -= stride[i] * sizes[i];
            }
            digits[i] = 0;
        }
    }
    out
}
