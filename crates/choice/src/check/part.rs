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
    /// The least of the open rows, and by place and option of those that have it; `None` where there is none.
    least: Option<i128>,
    least_with: Vec<Vec<Option<i128>>>,
    /// Not known any more.
    is_due: bool,
    /// Options were left out since: what is known is still a bound, but a lower one.
    is_stale: bool,
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
    let limit = (i128::from(claimed) - 1) * i128::from(part.scale);
    let Some(mut state) = State::new(tables, part) else {
        return false;
    };
    let is_sound = part
        .steps
        .iter()
        .all(|step| state.follow(step, limit).is_some());
    state.renew();
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
                least_with: Vec::new(),
                is_due: true,
                is_stale: false,
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

    fn follow(&mut self, step: &Step, limit: i128) -> Option<()> {
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
                let is_shown = |b: Option<i128>| b.is_none_or(|b| b > limit);
                // What is known from before often is enough.
                let is_shown = is_shown(self.bound_with(site, option)) || {
                    self.renew();
                    is_shown(self.bound_with(site, option))
                };
                is_shown.then_some(())?;
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
                self.renew();
                self.bound().is_none_or(|b| b > limit).then_some(())?;
                let (mark, site, option) = self.assumed.pop()?;
                while self.undo.len() > mark {
                    match self.undo.pop()? {
                        Undo::Shift(c, place, o, was) => self.shift(c, place, o, was)?,
                        Undo::Open(s, o) => {
                            self.is_open[s][usize::from(o)] = true;
                            for (c, _) in &self.at[s] {
                                self.clusters[*c].is_due = true;
                            }
                        }
                    }
                }
                self.close(site, option);
            }
        }
        Some(())
    }

    /// Finds anew what is only a lower bound.
    fn renew(&mut self) {
        for cluster in &mut self.clusters {
            cluster.is_due |= cluster.is_stale;
        }
    }

    fn close(&mut self, site: usize, option: u16) {
        self.is_open[site][usize::from(option)] = false;
        self.undo.push(Undo::Open(site, option));
        for (c, _) in &self.at[site] {
            self.clusters[*c].is_stale = true;
        }
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
    fn bound(&mut self) -> Option<i128> {
        // Sums are wider than what is summed, so that none overflows.
        let mut sum = 0_i128;
        for c in 0..self.clusters.len() {
            sum += self.least_of(c)?;
        }
        for site in &self.sites {
            sum += self.cheapest(*site)?;
        }
        Some(sum)
    }

    /// The same with one option of a site.
    fn bound_with(&mut self, site: usize, option: u16) -> Option<i128> {
        let mut sum = self.bound()? - self.cheapest(site)?
            + i128::from(self.costs[site][usize::from(option)]);
        for (c, place) in self.at[site].clone() {
            let cluster = &self.clusters[c];
            sum += cluster.least_with[place][usize::from(option)]? - cluster.least?;
        }
        Some(sum)
    }

    fn cheapest(&self, site: usize) -> Option<i128> {
        let open = self.costs[site].iter().zip(&self.is_open[site]);
        open.filter(|(_, open)| **open)
            .map(|(c, _)| i128::from(*c))
            .min()
    }

    fn least_of(&mut self, c: usize) -> Option<i128> {
        if self.clusters[c].is_due {
            let of = &self.clusters[c];
            let mut least = None;
            let mut with: Vec<Vec<Option<i128>>> =
                of.shifts.iter().map(|s| vec![None; s.len()]).collect();
            let lower = |a: Option<i128>, b: i128| Some(a.map_or(b, |a| a.min(b)));
            for (row, cost) in self.rows_of(c) {
                least = lower(least, cost);
                for (with, o) in with.iter_mut().zip(row) {
                    let with = &mut with[usize::from(*o)];
                    *with = lower(*with, cost);
                }
            }
            let of = &mut self.clusters[c];
            (of.least, of.least_with) = (least, with);
            (of.is_due, of.is_stale) = (false, false);
        }
        self.clusters[c].least
    }

    /// Open rows and what they cost after all shifts.
    fn rows_of(&self, c: usize) -> impl Iterator<Item = (&[u16], i128)> {
        let cluster = &self.clusters[c];
        let rows = cluster.rows.chunks_exact(cluster.sites.len().max(1));
        rows.zip(&cluster.costs).filter_map(|(row, cost)| {
            let mut rest = i128::from(*cost);
            for ((site, o), shifts) in cluster.sites.iter().zip(row).zip(&cluster.shifts) {
                let o = usize::from(*o);
                if !self.is_open[*site][o] {
                    return None;
                }
                rest -= i128::from(shifts[o]);
            }
            Some((row, rest))
        })
    }
}
