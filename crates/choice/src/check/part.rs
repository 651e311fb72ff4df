//! The search of a proof, step by step: shifts that change no choice's cost, and bounds under what is open.

use super::tables::Tables;
use crate::solve::{Part, Step};

/// A cluster's rows, what each costs after all shifts, and their least.
struct Cluster {
    sites: Vec<usize>,
    rows: Vec<u16>,
    costs: Vec<i64>,
    /// By place and option.
    shifts: Vec<Vec<i64>>,
    /// The least of the open rows, `None` where there is none; not known while it is due.
    least: Option<i64>,
    is_due: bool,
}

/// What is taken back when an assumption is closed.
enum Undo {
    Shift(usize, usize, u16, i64),
    Open(usize, u16),
}

struct State {
    clusters: Vec<Cluster>,
    /// By site: the clusters that mention it and the place there.
    at: Vec<Vec<(usize, usize)>>,
    /// By site and option: the cost with all shifts.
    costs: Vec<Vec<i64>>,
    is_open: Vec<Vec<bool>>,
    sites: Vec<usize>,
    undo: Vec<Undo>,
    /// Where each open assumption began, and what it assumes.
    assumed: Vec<(usize, usize, u16)>,
}

/// Whether a part shows that no choice for its sites costs less than `claimed`.
pub(super) fn holds(tables: &mut Tables, part: &Part, claimed: i64) -> bool {
    // A bound above this, in parts of a cost, is no better than what is claimed.
    let Some(limit) = (claimed - 1).checked_mul(part.scale) else {
        return false;
    };
    let Some(mut state) = State::new(tables, part) else {
        return false;
    };
    let is_sound = part
        .steps
        .iter()
        .all(|step| state.follow(step, limit).is_some());
    is_sound && state.assumed.is_empty() && state.bound().is_none_or(|b| b > limit)
}

impl State {
    fn new(tables: &mut Tables, part: &Part) -> Option<Self> {
        if part.scale < 1 {
            return None;
        }
        let count = tables.site_count();
        let mut costs = vec![Vec::new(); count];
        for site in &part.sites {
            let t = tables.cost_table(*site);
            tables.take(t)?;
            let mine = tables.all[t]
                .rows
                .iter()
                .map(|(_, c)| c.checked_mul(part.scale));
            costs[*site] = mine.collect::<Option<Vec<i64>>>()?;
        }
        let mut at = vec![Vec::new(); count];
        let mut clusters = Vec::new();
        for c in &part.clusters {
            let mut sites = c.sites.clone();
            sites.sort_unstable();
            sites.dedup();
            let known = |s: &usize| part.sites.contains(s);
            if sites != c.sites || !sites.iter().all(known) {
                return None;
            }
            for t in &c.tables {
                tables.take(*t)?;
                let inside = |s: &usize| sites.contains(s);
                tables.all[*t].sites.iter().all(inside).then_some(())?;
            }
            // What any table within the cluster rules out, no choice has.
            let within = tables.within(&sites);
            let mut cluster = Cluster {
                rows: Vec::new(),
                costs: Vec::new(),
                shifts: sites
                    .iter()
                    .map(|s| vec![0; tables.is_open[*s].len()])
                    .collect(),
                least: None,
                is_due: true,
                sites,
            };
            let mut fits = true;
            tables.joined(&cluster.sites, &within, &c.tables, &mut |row, cost| {
                cluster.rows.extend_from_slice(row);
                match cost.checked_mul(part.scale) {
                    Some(cost) => cluster.costs.push(cost),
                    None => fits = false,
                }
            });
            fits.then_some(())?;
            for (place, site) in cluster.sites.iter().enumerate() {
                at[*site].push((clusters.len(), place));
            }
            clusters.push(cluster);
        }
        Some(Self {
            clusters,
            at,
            costs,
            is_open: tables.is_open.clone(),
            sites: part.sites.clone(),
            undo: Vec::new(),
            assumed: Vec::new(),
        })
    }

    fn follow(&mut self, step: &Step, limit: i64) -> Option<()> {
        match *step {
            Step::Shift {
                cluster,
                site,
                option,
                to,
            } => {
                let c = self.clusters.get(cluster)?;
                let place = c.sites.iter().position(|s| *s == site)?;
                let was = *c.shifts[place].get(usize::from(option))?;
                self.undo.push(Undo::Shift(cluster, place, option, was));
                self.shift(cluster, place, option, to)?;
            }
            Step::Drop { site, option } => {
                let is_open = self.is_open.get(site)?.get(usize::from(option))?;
                (*is_open && self.sites.contains(&site)).then_some(())?;
                self.bound_with(site, option)
                    .is_none_or(|b| b > limit)
                    .then_some(())?;
                self.close(site, option);
            }
            Step::Assume { site, option } => {
                let is_open = self.is_open.get(site)?.get(usize::from(option))?;
                (*is_open && self.sites.contains(&site)).then_some(())?;
                self.assumed.push((self.undo.len(), site, option));
                for other in (0_u16..).take(self.is_open[site].len()) {
                    if other != option && self.is_open[site][usize::from(other)] {
                        self.close(site, other);
                    }
                }
            }
            Step::Close => {
                self.bound().is_none_or(|b| b > limit).then_some(())?;
                let (mark, site, option) = self.assumed.pop()?;
                while self.undo.len() > mark {
                    match self.undo.pop()? {
                        Undo::Shift(c, place, o, was) => self.shift(c, place, o, was)?,
                        Undo::Open(s, o) => {
                            self.is_open[s][usize::from(o)] = true;
                            self.touch(s);
                        }
                    }
                }
                self.close(site, option);
            }
        }
        Some(())
    }

    fn touch(&mut self, site: usize) {
        for (c, _) in &self.at[site] {
            self.clusters[*c].is_due = true;
        }
    }

    fn close(&mut self, site: usize, option: u16) {
        self.is_open[site][usize::from(option)] = false;
        self.undo.push(Undo::Open(site, option));
        self.touch(site);
    }

    /// What a shift adds to the site it takes from the cluster's rows.
    fn shift(&mut self, c: usize, place: usize, option: u16, to: i64) -> Option<()> {
        let cluster = &mut self.clusters[c];
        let shift = &mut cluster.shifts[place][usize::from(option)];
        let cost = &mut self.costs[cluster.sites[place]][usize::from(option)];
        *cost = cost.checked_add(to.checked_sub(*shift)?)?;
        *shift = to;
        cluster.is_due = true;
        Some(())
    }

    /// A bound under every choice of what is open; `None` where there is none.
    fn bound(&mut self) -> Option<i64> {
        let mut sum = 0_i64;
        for c in 0..self.clusters.len() {
            sum = sum.checked_add(self.least_of(c)?)?;
        }
        for site in &self.sites {
            sum = sum.checked_add(self.cheapest(*site)?)?;
        }
        Some(sum)
    }

    /// The same with one option of a site.
    fn bound_with(&mut self, site: usize, option: u16) -> Option<i64> {
        let mut sum = self.bound()? - self.cheapest(site)? + self.costs[site][usize::from(option)];
        for (c, place) in self.at[site].clone() {
            let least = self.clusters[c].least?;
            let with = self.rows_of(c).filter(|(row, _)| row[place] == option);
            sum += with.map(|(_, cost)| cost).min()? - least;
        }
        Some(sum)
    }

    fn cheapest(&self, site: usize) -> Option<i64> {
        let open = self.costs[site].iter().zip(&self.is_open[site]);
        open.filter(|(_, open)| **open).map(|(c, _)| *c).min()
    }

    fn least_of(&mut self, c: usize) -> Option<i64> {
        if self.clusters[c].is_due {
            let least = self.rows_of(c).map(|(_, cost)| cost).min();
            self.clusters[c].least = least;
            self.clusters[c].is_due = false;
        }
        self.clusters[c].least
    }

    /// Open rows and what they cost after all shifts.
    fn rows_of(&self, c: usize) -> impl Iterator<Item = (&[u16], i64)> {
        let cluster = &self.clusters[c];
        let rows = cluster.rows.chunks_exact(cluster.sites.len().max(1));
        rows.zip(&cluster.costs).filter_map(|(row, cost)| {
            let mut rest = *cost;
            for ((site, o), shifts) in cluster.sites.iter().zip(row).zip(&cluster.shifts) {
                let o = usize::from(*o);
                if !self.is_open[*site][o] {
                    return None;
                }
                rest -= shifts[o];
            }
            Some((row, rest))
        })
    }
}
