//! Clusters: sites whose options are looked at together. Each table belongs to one.

use crate::table::NEVER;

/// Tables with more combinations than this are looked at by themselves.
const MOST_COMBINATIONS: usize = 25_600;
/// A table as its rows.
#[derive(Clone, Debug, Default)]
pub(crate) struct RowTable {
    /// Its number in the proof.
    pub number: usize,
    /// The sites, rising.
    pub sites: Vec<usize>,
    /// One row after the other.
    pub rows: Vec<u16>,
    pub costs: Vec<i64>,
}

/// Sites looked at together, and the tables that it has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Cluster {
    /// The sites, rising.
    pub sites: Vec<usize>,
    /// Places in the list of tables.
    pub owns: Vec<usize>,
}

/// The rows of a cluster.
pub(super) struct Joined {
    pub sites: Vec<usize>,
    pub rows: Vec<u16>,
    pub costs: Vec<i64>,
}

/// All tables, small ones also by combination.
pub(super) struct Tables<'a> {
    all: &'a [RowTable],
    /// By site: how many options it has.
    sizes: Vec<usize>,
    /// By table; empty for a large one.
    dense: Vec<Vec<i64>>,
    /// By site: its tables.
    at: Vec<Vec<usize>>,
}

impl<'a> Tables<'a> {
    pub(super) fn new(all: &'a [RowTable], sizes: Vec<usize>) -> Self {
        let mut at = vec![Vec::new(); sizes.len()];
        for (t, table) in all.iter().enumerate() {
            table.sites.iter().for_each(|s| at[*s].push(t));
        }
        let dense = all
            .iter()
            .map(|t| dense(&t.sites, &sizes, &t.rows, t.costs.iter().copied()))
            .collect();
        Self {
            all,
            sizes,
            dense,
            at,
        }
    }

    /// Each table by itself, those that lie within another in that one.
    pub(super) fn clusters(&self) -> Vec<Cluster> {
        let mut order: Vec<usize> = (0..self.all.len()).collect();
        order.sort_unstable_by_key(|t| (std::cmp::Reverse(self.all[*t].sites.len()), *t));
        let mut clusters: Vec<Cluster> = Vec::new();
        let mut at: Vec<Vec<usize>> = vec![Vec::new(); self.sizes.len()];
        for t in order {
            let sites = &self.all[t].sites;
            let Some(first) = sites.first() else { continue };
            let home = at[*first]
                .iter()
                .find(|c| is_within(sites, &clusters[**c].sites) && !self.dense[t].is_empty());
            if let Some(c) = home {
                clusters[*c].owns.push(t);
                continue;
            }
            sites.iter().for_each(|s| at[*s].push(clusters.len()));
            clusters.push(Cluster {
                sites: sites.clone(),
                owns: vec![t],
            });
        }
        clusters
    }

    /// The rows of a cluster: what all tables within it allow, at the cost of those that it has.
    pub(super) fn joined(&self, cluster: &Cluster) -> Joined {
        let sites = &cluster.sites;
        let mut within: Vec<usize> = sites
            .iter()
            .flat_map(|s| self.at[*s].iter().copied())
            .collect();
        within.sort_unstable();
        within.dedup();
        within.retain(|t| is_within(&self.all[*t].sites, sites) && !self.dense[*t].is_empty());
        // A large table gives its own rows; the rest is tried in every way.
        let large = cluster
            .owns
            .iter()
            .find(|t| self.dense[**t].is_empty() && self.all[**t].sites == *sites);
        let mut out = Joined {
            sites: sites.clone(),
            rows: Vec::new(),
            costs: Vec::new(),
        };
        let mut take = |row: &[u16], start: i64| {
            let mut sum = start;
            for t in &within {
                let cost = self.cost(*t, sites, row);
                if cost >= NEVER {
                    return;
                }
                if cluster.owns.contains(t) {
                    sum += cost;
                }
            }
            out.rows.extend_from_slice(row);
            out.costs.push(sum);
        };
        if let Some(large) = large {
            let table = &self.all[*large];
            for (row, cost) in table.rows.chunks_exact(sites.len()).zip(&table.costs) {
                take(row, *cost);
            }
        } else {
            let sizes: Vec<usize> = sites.iter().map(|s| self.sizes[*s]).collect();
            every_row(&sizes, &mut |row| take(row, 0));
        }
        out
    }

    /// What a small table says of a row over more sites.
    fn cost(&self, t: usize, sites: &[usize], row: &[u16]) -> i64 {
        let mut index = 0;
        for site in &self.all[t].sites {
            let place = sites.binary_search(site).unwrap_or(0);
            index = index * self.sizes[*site] + usize::from(row[place]);
        }
        self.dense[t][index]
    }
}

/// Costs by combination; empty where there are too many.
fn dense(
    sites: &[usize],
    sizes: &[usize],
    rows: &[u16],
    costs: impl Iterator<Item = i64>,
) -> Vec<i64> {
    let all = sites
        .iter()
        .map(|s| sizes[*s])
        .fold(1_usize, usize::saturating_mul);
    if all > MOST_COMBINATIONS {
        return Vec::new();
    }
    let mut dense = vec![NEVER; all];
    for (row, cost) in rows.chunks_exact(sites.len().max(1)).zip(costs) {
        let index = row
            .iter()
            .zip(sites)
            .fold(0, |index, (o, s)| index * sizes[*s] + usize::from(*o));
        dense[index] = cost;
    }
    dense
}

fn is_within(inner: &[usize], outer: &[usize]) -> bool {
    inner.iter().all(|s| outer.binary_search(s).is_ok())
}

/// Every row in turn.
fn every_row(sizes: &[usize], take: &mut dyn FnMut(&[u16])) {
    if sizes.contains(&0) {
        return;
    }
    let mut row = vec![0_u16; sizes.len()];
    loop {
        take(&row);
        let next = (0..sizes.len())
            .rev()
            .find(|i| usize::from(row[*i]) + 1 < sizes[*i]);
        let Some(i) = next else { return };
        row[i] += 1;
        row[i + 1..].fill(0);
    }
}
