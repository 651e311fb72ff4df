//! The tables of a search with what their sites pay each other: a bound under every choice, raised by shifting costs between
//! tables and sites (block coordinate ascent on the dual of the local linear relaxation: Kolmogorov 2006, TRW-S; Cooper and
//! others 2010, soft arc consistency).

use super::cluster::Joined;
use crate::solve::Step;
use crate::table::NEVER;

/// What a search changes and takes back: numbers with a trail.
#[derive(Default)]
struct Trail {
    now: Vec<i64>,
    /// The branch in which a number was last noted.
    noted: Vec<u32>,
    old: Vec<(u32, i64)>,
    branch: u32,
}

impl Trail {
    fn set(&mut self, at: usize, value: i64) {
        if self.noted[at] != self.branch {
            self.noted[at] = self.branch;
            self.old.push((at as u32, self.now[at]));
        }
        self.now[at] = value;
    }
}

/// Where to take back to.
pub(super) struct Mark {
    old: usize,
    steps: usize,
}

/// Sites, tables, what is shifted, and what is still open.
pub(super) struct Net {
    tables: Vec<Scope>,
    /// By site: its tables and the place in them.
    at: Vec<Vec<(usize, usize)>>,
    /// By site: where its options begin in lists of all options.
    first: Vec<usize>,
    /// By option: its cost, scaled.
    trail: Trail,
    /// Layout of `trail.now`: by option whether open; its cost with all shifts; by site its least cost and how many are open; by
    /// table how many rows live; by shift its sum.
    cost: usize,
    least: usize,
    count: usize,
    live: usize,
    shift: usize,
    /// The sum of the least costs; behind it by shift what the steps so far come to.
    bound: usize,
    /// Sites whose tables changed.
    is_due: Vec<bool>,
    /// All that was done, for others to repeat: sites, options and shifts by their numbers here.
    pub steps: Vec<Step>,
    /// Shifts that changed since they were last written down.
    changed: Vec<u32>,
    is_changed: Vec<bool>,
    scratch: Vec<i64>,
    /// Nothing is allowed any more.
    pub is_none: bool,
    /// Rows looked at.
    pub work: u64,
}

struct Scope {
    sites: Vec<usize>,
    rows: Vec<u16>,
    costs: Vec<i64>,
    /// By place: where its shifts begin.
    shifts: Vec<usize>,
    /// Rows, the live ones first.
    order: Vec<u32>,
}

impl Net {
    /// `costs` and those of the tables are already scaled.
    pub(super) fn new(costs: &[Vec<i64>], tables: &[Joined]) -> Self {
        let mut first = Vec::with_capacity(costs.len() + 1);
        let mut options = 0;
        for c in costs {
            first.push(options);
            options += c.len();
        }
        first.push(options);
        let mut at = vec![Vec::new(); costs.len()];
        let mut shifts = 0;
        let mut scopes = Vec::with_capacity(tables.len());
        for (t, table) in tables.iter().enumerate() {
            let mut mine = Vec::with_capacity(table.sites.len());
            for (place, site) in table.sites.iter().enumerate() {
                at[*site].push((t, place));
                mine.push(shifts);
                shifts += costs[*site].len();
            }
            scopes.push(Scope {
                sites: table.sites.clone(),
                rows: table.rows.clone(),
                costs: table.costs.clone(),
                shifts: mine,
                order: (0..table.costs.len() as u32).collect(),
            });
        }
        let n = costs.len();
        let (cost, least) = (options, 2 * options);
        let (count, live) = (least + n, least + 2 * n);
        let shift = live + tables.len();
        let bound = shift + shifts;
        let mut now = vec![1; options];
        now.extend(costs.iter().flatten());
        let least_of = |c: &Vec<i64>| c.iter().copied().min().unwrap_or(0);
        now.extend(costs.iter().map(least_of));
        now.extend(costs.iter().map(|c| c.len() as i64));
        now.extend(tables.iter().map(|t| t.costs.len() as i64));
        now.resize(bound, 0);
        now.push(now[least..count].iter().sum());
        now.resize(bound + 1 + shifts, 0);
        Self {
            at,
            first,
            cost,
            least,
            count,
            live,
            shift,
            bound,
            is_due: vec![true; n],
            steps: Vec::new(),
            changed: Vec::new(),
            is_changed: vec![false; shifts],
            scratch: Vec::new(),
            work: 0,
            is_none: scopes.iter().any(|s| s.order.is_empty()),
            tables: scopes,
            trail: Trail {
                noted: vec![0; now.len()],
                now,
                old: Vec::new(),
                branch: 0,
            },
        }
    }

    pub(super) fn sites(&self) -> usize {
        self.at.len()
    }

    pub(super) fn bound(&self) -> i64 {
        self.trail.now[self.bound]
    }

    pub(super) fn open_count(&self, site: usize) -> i64 {
        self.trail.now[self.count + site]
    }

    pub(super) fn open(&self, site: usize) -> impl Iterator<Item = u16> {
        (0_u16..)
            .zip(&self.trail.now[self.first[site]..self.first[site + 1]])
            .filter(|(_, open)| **open != 0)
            .map(|(o, _)| o)
    }

    /// By option of a site: what it costs with the least that its tables then demand.
    pub(super) fn marginals(&mut self, site: usize) -> Vec<i64> {
        let (from, to) = (self.first[site], self.first[site + 1]);
        let mut sums = self.trail.now[self.cost + from..self.cost + to].to_vec();
        for i in 0..self.at[site].len() {
            let (t, place) = self.at[site][i];
            self.demanded(t, place, to - from);
            for (sum, more) in sums.iter_mut().zip(&self.scratch) {
                *sum = (*sum + more).min(NEVER);
            }
        }
        sums
    }

    pub(super) fn tables_at(&self, site: usize) -> usize {
        self.at[site].len()
    }

    /// What the choice costs once every site is decided: the bound and what the rows that are left have not yet shifted.
    pub(super) fn total(&self) -> i64 {
        let shifts = &self.trail.now[self.shift..self.bound];
        let rest = self.tables.iter().map(|table| {
            let r = table.order.first().map_or(0, |r| *r as usize);
            let row = &table.rows[r * table.sites.len()..];
            let shifted: i64 = table
                .shifts
                .iter()
                .zip(row)
                .map(|(first, o)| shifts[first + usize::from(*o)])
                .sum();
            table.costs[r] - shifted
        });
        self.bound() + rest.sum::<i64>()
    }

    /// Writes down the shifts that changed.
    pub(super) fn say(&mut self) {
        let mut changed = std::mem::take(&mut self.changed);
        for at in changed.drain(..) {
            let at = at as usize;
            self.is_changed[at] = false;
            let (now, said) = (self.trail.now[self.shift + at], self.bound + 1 + at);
            if self.trail.now[said] == now {
                continue;
            }
            self.trail.set(said, now);
            let t = self
                .tables
                .partition_point(|t| t.shifts.first().is_some_and(|f| *f <= at))
                .saturating_sub(1);
            let table = &self.tables[t];
            let place = table.shifts.partition_point(|f| *f <= at).saturating_sub(1);
            self.steps.push(Step::Shift {
                cluster: t,
                site: table.sites[place],
                option: (at - table.shifts[place]) as u16,
                to: now,
            });
        }
        self.changed = changed;
    }

    /// Takes one option of a site for given until it is taken back.
    pub(super) fn assume(&mut self, site: usize, option: u16) -> Mark {
        self.say();
        let mark = Mark {
            old: self.trail.old.len(),
            steps: self.steps.len(),
        };
        self.trail.branch += 1;
        self.steps.push(Step::Assume { site, option });
        let others: Vec<u16> = self.open(site).filter(|o| *o != option).collect();
        for other in others {
            self.drop(site, other);
        }
        mark
    }

    /// Takes back all since a mark; `is_whole` where it was shown that nothing better is there, so that the steps stay.
    pub(super) fn back(&mut self, mark: &Mark, is_whole: bool) {
        if is_whole {
            self.say();
            self.steps.push(Step::Close);
        } else {
            self.steps.truncate(mark.steps);
        }
        while self.trail.old.len() > mark.old {
            if let Some((at, value)) = self.trail.old.pop() {
                self.trail.now[at as usize] = value;
            }
        }
        self.trail.branch += 1;
        self.is_due.fill(false);
        self.is_none = false;
        for at in self.changed.drain(..) {
            self.is_changed[at as usize] = false;
        }
    }

    /// Takes an option away, and the rows that have it.
    pub(super) fn drop(&mut self, site: usize, option: u16) {
        let at = self.first[site] + usize::from(option);
        self.trail.set(at, 0);
        let left = self.trail.now[self.count + site] - 1;
        self.trail.set(self.count + site, left);
        if left == 0 {
            self.is_none = true;
            return;
        }
        self.renew_least(site);
        for i in 0..self.at[site].len() {
            let (t, place) = self.at[site][i];
            let table = &mut self.tables[t];
            let width = table.sites.len();
            let before = self.trail.now[self.live + t] as usize;
            let mut live = before;
            let mut i = 0;
            while i < live {
                if table.rows[table.order[i] as usize * width + place] == option {
                    live -= 1;
                    table.order.swap(i, live);
                } else {
                    i += 1;
                }
            }
            if live < before {
                for other in &table.sites {
                    self.is_due[*other] = true;
                }
                self.trail.set(self.live + t, live as i64);
                self.is_none |= live == 0;
            }
        }
    }

    fn renew_least(&mut self, site: usize) {
        let (from, to) = (self.first[site], self.first[site + 1]);
        let open = &self.trail.now[from..to];
        let costs = &self.trail.now[self.cost + from..self.cost + to];
        let least = open
            .iter()
            .zip(costs)
            .filter(|(o, _)| **o != 0)
            .map(|(_, c)| *c)
            .min();
        let Some(least) = least else { return };
        let before = self.trail.now[self.least + site];
        if least != before {
            let bound = self.trail.now[self.bound] + least - before;
            self.trail.set(self.least + site, least);
            self.trail.set(self.bound, bound);
        }
    }

    /// Moves all that the tables of a site demand of its options to the site. Options without a row, and those with which the
    /// bound reaches `most`, are dropped and named.
    fn collect(&mut self, site: usize, most: i64) {
        let (from, to) = (self.first[site], self.first[site + 1]);
        for i in 0..self.at[site].len() {
            let (t, place) = self.at[site][i];
            self.demanded(t, place, to - from);
            let shifts = self.shift + self.tables[t].shifts[place];
            for o in 0..to - from {
                let more = self.scratch[o];
                if self.trail.now[from + o] == 0 || more == 0 {
                    continue;
                }
                if more == NEVER {
                    self.steps.push(Step::Drop {
                        site,
                        option: o as u16,
                    });
                    self.drop(site, o as u16);
                    if self.is_none {
                        return;
                    }
                    continue;
                }
                self.move_up(shifts + o, self.cost + from + o, more);
            }
        }
        self.renew_least(site);
        let room = most - self.bound();
        let least = self.trail.now[self.least + site];
        for o in 0..to - from {
            if self.trail.now[from + o] != 0 && self.trail.now[self.cost + from + o] - least >= room
            {
                self.say();
                self.steps.push(Step::Drop {
                    site,
                    option: o as u16,
                });
                self.drop(site, o as u16);
                if self.is_none {
                    return;
                }
            }
        }
    }

    fn move_up(&mut self, shift: usize, cost: usize, by: i64) {
        let (s, c) = (self.trail.now[shift] + by, self.trail.now[cost] + by);
        self.trail.set(shift, s);
        self.trail.set(cost, c);
        let at = shift - self.shift;
        if !self.is_changed[at] {
            self.is_changed[at] = true;
            self.changed.push(at as u32);
        }
    }

    /// By option of a place: the least of the live rows that have it, less what is already shifted.
    fn demanded(&mut self, t: usize, place: usize, options: usize) {
        self.scratch.clear();
        self.scratch.resize(options, NEVER);
        let table = &self.tables[t];
        let live = self.trail.now[self.live + t] as usize;
        self.work += live as u64;
        let shifts = &self.trail.now[self.shift..self.bound];
        if let &[a, b] = table.shifts.as_slice() {
            for r in &table.order[..live] {
                let r = *r as usize;
                let row = [
                    usize::from(table.rows[2 * r]),
                    usize::from(table.rows[2 * r + 1]),
                ];
                let value = table.costs[r] - shifts[a + row[0]] - shifts[b + row[1]];
                let least = &mut self.scratch[row[place]];
                *least = (*least).min(value);
            }
            return;
        }
        let width = table.sites.len();
        for r in &table.order[..live] {
            let r = *r as usize;
            let row = &table.rows[r * width..(r + 1) * width];
            let mut value = table.costs[r];
            for (first, o) in table.shifts.iter().zip(row) {
                value -= shifts[first + usize::from(*o)];
            }
            let least = &mut self.scratch[usize::from(row[place])];
            *least = (*least).min(value);
        }
    }

    /// Hands what a site's options cost more than the least to the tables that lead on to sites yet to come.
    fn hand_on(&mut self, site: usize, is_forward: bool) {
        let leads_on = |t: &Scope| {
            let others = || t.sites.iter().filter(|s| **s != site);
            let (before, after) = (others().any(|s| *s < site), others().any(|s| *s > site));
            if is_forward {
                (after, before)
            } else {
                (before, after)
            }
        };
        let (mut on, mut from) = (0, 0);
        for (t, _) in &self.at[site] {
            let (a, b) = leads_on(&self.tables[*t]);
            on += i64::from(a);
            from += i64::from(b);
        }
        let parts = on.max(from);
        if on == 0 {
            return;
        }
        let (begin, end) = (self.first[site], self.first[site + 1]);
        let least = self.trail.now[self.least + site];
        for o in 0..end - begin {
            if self.trail.now[begin + o] == 0 {
                continue;
            }
            let share = (self.trail.now[self.cost + begin + o] - least) / parts;
            if share == 0 {
                continue;
            }
            for i in 0..self.at[site].len() {
                let (t, place) = self.at[site][i];
                if leads_on(&self.tables[t]).0 {
                    let shift = self.shift + self.tables[t].shifts[place] + o;
                    self.move_up(shift, self.cost + begin + o, -share);
                    for other in &self.tables[t].sites {
                        if *other != site {
                            self.is_due[*other] = true;
                        }
                    }
                }
            }
        }
    }

    /// Once over all sites that are due, forwards or backwards.
    pub(super) fn sweep(&mut self, is_forward: bool, most: i64) {
        let n = self.sites();
        for i in 0..n {
            let site = if is_forward { i } else { n - 1 - i };
            if !self.is_due[site] {
                continue;
            }
            self.is_due[site] = false;
            self.collect(site, most);
            if self.is_none || self.bound() >= most {
                return;
            }
            self.hand_on(site, is_forward);
        }
    }

    pub(super) fn is_due(&self) -> bool {
        self.is_due.contains(&true)
    }
}
