//! Clusters: sites whose options are looked at together. Each table belongs to one; where a few sites in a ring cost more
//! together than their tables do one by one, a cluster of them raises the bound (Sontag and others 2008).

use crate::table::NEVER;

/// A cluster has no more combinations than this, unless a single table has.
const MOST_COMBINATIONS: usize = 400;
/// So many rings are looked at.
const MOST_RINGS: usize = 20_000;

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

/// The rows of a cluster, and what is shifted from it at the start, by place and option.
pub(super) struct Joined {
    pub sites: Vec<usize>,
    pub rows: Vec<u16>,
    pub costs: Vec<i64>,
    pub shifts: Vec<Vec<i64>>,
}

/// All tables, small ones also by combination.
pub(super) struct Tables<'a> {
    pub all: &'a [RowTable],
    /// By site: how many options it has.
    pub sizes: Vec<usize>,
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
    pub(super) fn joined(&self, cluster: &Cluster, shifts: Vec<Vec<i64>>) -> Joined {
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
            shifts,
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
    if all > 64 * MOST_COMBINATIONS {
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

/// What is left of the costs of a cluster, by combination.
struct Rest {
    dense: Vec<i64>,
    is_taken: bool,
}

/// Clusters with rings of sites put together where that raises the bound, and what is shifted from each; `None` where none
/// does. `least` is what a ring must gain.
pub(super) fn tightened(
    tables: &Tables<'_>,
    clusters: &[Cluster],
    joined: &[Joined],
    shifts: &dyn Fn(usize) -> Vec<Vec<i64>>,
    least: i64,
) -> Option<Vec<(Cluster, Vec<Vec<i64>>)>> {
    let mut at: Vec<Vec<usize>> = vec![Vec::new(); tables.sizes.len()];
    let mut rest = Vec::with_capacity(joined.len());
    for (c, j) in joined.iter().enumerate() {
        j.sites.iter().for_each(|s| at[*s].push(c));
        let shifts = shifts(c);
        let width = j.sites.len().max(1);
        let left = j.rows.chunks_exact(width).zip(&j.costs).map(|(row, cost)| {
            let shifted: i64 = shifts
                .iter()
                .zip(row)
                .map(|(s, o)| s[usize::from(*o)])
                .sum();
            cost - shifted
        });
        rest.push(Rest {
            dense: dense(&j.sites, &tables.sizes, &j.rows, left),
            is_taken: false,
        });
    }
    let mut found: Vec<(i64, Vec<usize>)> = Vec::new();
    for ring in rings(tables, clusters, &at) {
        let gain = gain(tables, clusters, &at, &rest, &ring);
        if gain >= least {
            found.push((gain, ring));
        }
    }
    found.sort_unstable_by(|a, b| b.cmp(a));
    let mut out = Vec::new();
    for (_, ring) in found {
        if gain(tables, clusters, &at, &rest, &ring) < least {
            continue;
        }
        let mut cluster = Cluster {
            owns: Vec::new(),
            sites: ring,
        };
        let mut sum: Vec<Vec<i64>> = cluster
            .sites
            .iter()
            .map(|s| vec![0; tables.sizes[*s]])
            .collect();
        for c in within(clusters, &at, &cluster.sites) {
            if rest[c].is_taken || rest[c].dense.is_empty() {
                continue;
            }
            rest[c].is_taken = true;
            cluster.owns.extend(&clusters[c].owns);
            for (site, mine) in clusters[c].sites.iter().zip(shifts(c)) {
                let place = cluster.sites.binary_search(site).unwrap_or(0);
                sum[place].iter_mut().zip(mine).for_each(|(a, b)| *a += b);
            }
        }
        out.push((cluster, sum));
    }
    if out.is_empty() {
        return None;
    }
    for (c, cluster) in clusters.iter().enumerate() {
        if !rest[c].is_taken {
            out.push((cluster.clone(), shifts(c)));
        }
    }
    Some(out)
}

/// Clusters that lie within some sites.
fn within(clusters: &[Cluster], at: &[Vec<usize>], sites: &[usize]) -> Vec<usize> {
    let mut all: Vec<usize> = sites.iter().flat_map(|s| at[*s].iter().copied()).collect();
    all.sort_unstable();
    all.dedup();
    all.retain(|c| is_within(&clusters[*c].sites, sites));
    all
}

/// What looking at sites together gains: the least that what is left of their costs comes to. Taken clusters only allow or not.
fn gain(
    tables: &Tables<'_>,
    clusters: &[Cluster],
    at: &[Vec<usize>],
    rest: &[Rest],
    sites: &[usize],
) -> i64 {
    let inside: Vec<(usize, Vec<usize>)> = within(clusters, at, sites)
        .into_iter()
        .filter(|c| !rest[*c].dense.is_empty())
        .map(|c| {
            let places = clusters[c].sites.iter();
            (
                c,
                places
                    .map(|s| sites.binary_search(s).unwrap_or(0))
                    .collect(),
            )
        })
        .collect();
    let sizes: Vec<usize> = sites.iter().map(|s| tables.sizes[*s]).collect();
    let mut least = NEVER;
    every_row(&sizes, &mut |row| {
        let mut sum = 0;
        for (c, places) in &inside {
            let index = places
                .iter()
                .fold(0, |index, p| index * sizes[*p] + usize::from(row[*p]));
            let cost = rest[*c].dense[index];
            if cost >= NEVER {
                return;
            }
            if !rest[*c].is_taken {
                sum += cost;
            }
            if sum >= least {
                return;
            }
        }
        least = least.min(sum);
    });
    least
}

/// Rings of three and of four sites that are not yet looked at together, rising.
fn rings(tables: &Tables<'_>, clusters: &[Cluster], at: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let n = tables.sizes.len();
    let mut beside: Vec<Vec<usize>> = (0..n)
        .map(|s| {
            at[s]
                .iter()
                .flat_map(|c| clusters[*c].sites.iter().copied())
                .filter(|t| *t != s)
                .collect()
        })
        .collect();
    for list in &mut beside {
        list.sort_unstable();
        list.dedup();
    }
    let is_beside = |a: usize, b: usize| beside[a].binary_search(&b).is_ok();
    let mut all: Vec<Vec<usize>> = Vec::new();
    let mut take = |mut ring: Vec<usize>| {
        let combinations = ring.iter().map(|s| tables.sizes[*s]);
        if combinations.fold(1_usize, usize::saturating_mul) <= MOST_COMBINATIONS {
            ring.sort_unstable();
            all.push(ring);
        }
        all.len() < MOST_RINGS
    };
    'all: for a in 0..n {
        for (i, b) in beside[a].iter().enumerate() {
            for c in &beside[a][i + 1..] {
                if *b > a && is_beside(*b, *c) && !take(vec![a, *b, *c]) {
                    break 'all;
                }
                // Round by way of a fourth site, the lowest of the four first.
                if *b < a {
                    continue;
                }
                for d in beside[*b].iter().filter(|d| **d > a && **d != *c) {
                    if is_beside(*c, *d) && !take(vec![a, *b, *c, *d]) {
                        break 'all;
                    }
                }
            }
        }
    }
    all.sort_unstable();
    all.dedup();
    all.retain(|ring| {
        !at[ring[0]]
            .iter()
            .any(|c| is_within(ring, &clusters[*c].sites))
    });
    all
}
