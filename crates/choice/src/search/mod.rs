//! Branch and bound over what elimination leaves, with a script of all that was done.

mod cluster;
mod net;

pub(crate) use cluster::RowTable;
use cluster::{Cluster, Joined, Tables};
use net::Net;

use crate::solve::Step;
use crate::table::{NEVER, Weight};

/// Fractions of a cost that are counted at the most.
const FINEST: i64 = 5040;
/// Sums of scaled costs stay under this.
const LARGEST: i64 = 1 << 58;
/// After so many nodes somebody may say stop.
const NODES_A_LOOK: usize = 32;

/// What a search found.
pub(crate) struct Searched {
    /// Cost and options of the best choice.
    pub best: Option<(i64, Vec<u16>)>,
    /// No choice costs less; [`NEVER`] where there is none.
    pub least: i64,
    /// Sites looked at together, and the places of the tables that each has.
    pub clusters: Vec<(Vec<usize>, Vec<usize>)>,
    /// All that shows it, tables by the number of their cluster.
    pub steps: Vec<Step>,
    /// What a cost is multiplied with in the steps.
    pub scale: i64,
}

/// How far a search goes.
#[derive(Clone, Copy)]
pub(crate) struct Most {
    pub nodes: usize,
    /// Rows looked at.
    pub work: u64,
}

/// Seeks the cheapest choice. `watch` hears what the best so far costs.
pub(crate) fn search(
    costs: &[Vec<i64>],
    tables: &[RowTable],
    weight: Weight,
    limits: Most,
    watch: &mut dyn FnMut(Option<i64>) -> bool,
) -> Searched {
    let scale = scale(weight);
    let all = scaled(tables, scale);
    let mut search = Search::new(costs, &all, weight, limits, watch);
    let least = search.run();
    search.net.say();
    let numbers = |c: Cluster| {
        let owns = c.owns.iter().map(|t| all[*t].number).collect();
        (c.sites, owns)
    };
    Searched {
        least,
        best: search.best,
        clusters: search.clusters.into_iter().map(numbers).collect(),
        steps: search.net.steps,
        scale,
    }
}

/// Choices that cost at most `most`, up to `count` of them, in no order.
pub(crate) fn all_within(
    costs: &[Vec<i64>],
    tables: &[RowTable],
    weight: Weight,
    limits: Most,
    most: i64,
    count: usize,
) -> Vec<(i64, Vec<u16>)> {
    let watch = &mut |_| true;
    let all = scaled(tables, scale(weight));
    let mut search = Search::new(costs, &all, weight, limits, watch);
    search.most = most * search.scale + 1;
    search.collects = Some(count);
    if search.converge() {
        search.descend();
    }
    search.all
}

fn scale(weight: Weight) -> i64 {
    (LARGEST / weight.most.max(1)).clamp(1, FINEST)
}

fn scaled(tables: &[RowTable], scale: i64) -> Vec<RowTable> {
    let more = |t: &RowTable| RowTable {
        costs: t.costs.iter().map(|c| c * scale).collect(),
        ..t.clone()
    };
    tables.iter().map(more).collect()
}

struct Search<'a> {
    net: Net,
    clusters: Vec<Cluster>,
    scale: i64,
    /// What one of the first number weighs, scaled.
    first: i64,
    /// Scaled; a bound of so much leaves nothing better.
    most: i64,
    best: Option<(i64, Vec<u16>)>,
    /// By site: how often a branch on it failed.
    fails: Vec<u64>,
    nodes: usize,
    limits: Most,
    watch: &'a mut dyn FnMut(Option<i64>) -> bool,
    is_stopped: bool,
    /// Where given, all choices are collected that cost no more than was asked, up to so many.
    collects: Option<usize>,
    all: Vec<(i64, Vec<u16>)>,
}

/// How a branch ended.
#[derive(Clone, Copy, PartialEq, Eq)]
enum End {
    Whole,
    Stopped,
}

impl<'a> Search<'a> {
    fn new(
        costs: &[Vec<i64>],
        tables: &'a [RowTable],
        weight: Weight,
        limits: Most,
        watch: &'a mut dyn FnMut(Option<i64>) -> bool,
    ) -> Self {
        let scale = scale(weight);
        let costs: Vec<Vec<i64>> = costs
            .iter()
            .map(|list| list.iter().map(|c| c * scale).collect())
            .collect();
        let tables = Tables::new(tables, costs.iter().map(Vec::len).collect());
        let clusters = tables.clusters();
        let joined: Vec<Joined> = clusters.iter().map(|c| tables.joined(c)).collect();
        Self {
            net: Net::new(&costs, &joined),
            fails: vec![1; costs.len()],
            clusters,
            scale,
            first: weight.first * scale,
            most: weight.most * scale,
            best: None,
            nodes: 0,
            limits,
            watch,
            is_stopped: false,
            collects: None,
            all: Vec::new(),
        }
    }
}

impl Search<'_> {
    /// The bound in the end.
    fn run(&mut self) -> i64 {
        if !self.converge() {
            return self.best_cost();
        }
        match self.descend() {
            End::Whole => self.best_cost(),
            End::Stopped => self.least(),
        }
    }

    /// Raises the bound until it hardly rises any more; false where nothing better is left.
    fn converge(&mut self) -> bool {
        for _ in 0..40 {
            let before = self.net.bound();
            if !self.tighten(2) {
                return false;
            }
            if self.net.work >= self.limits.work || !self.go_on() {
                break;
            }
            if self.net.bound() - before <= self.first / 200 {
                break;
            }
        }
        true
    }

    /// Tells how far it has come; false once somebody says stop.
    fn go_on(&mut self) -> bool {
        let best = self.best.as_ref().map(|(cost, _)| *cost);
        self.is_stopped |= !(self.watch)(best);
        !self.is_stopped
    }

    fn best_cost(&self) -> i64 {
        self.best.as_ref().map_or(NEVER, |b| b.0)
    }

    /// The bound, rounded up to a whole cost.
    fn least(&self) -> i64 {
        let bound = self.net.bound();
        bound.div_euclid(self.scale) + i64::from(bound.rem_euclid(self.scale) != 0)
    }

    /// Raises the bound and drops what can be dropped; false where nothing better is left.
    fn tighten(&mut self, sweeps: usize) -> bool {
        for i in 0..sweeps {
            if !self.net.is_due() {
                break;
            }
            self.net.sweep(i % 2 == 0, self.most);
            if self.net.is_none || self.net.bound() >= self.most {
                return false;
            }
        }
        true
    }

    fn descend(&mut self) -> End {
        loop {
            if !self.tighten(4) {
                return End::Whole;
            }
            let Some((site, option)) = self.next() else {
                self.found();
                return End::Whole;
            };
            if self.nodes >= self.limits.nodes || self.net.work >= self.limits.work {
                return End::Stopped;
            }
            self.nodes += 1;
            if self.nodes.is_multiple_of(NODES_A_LOOK) && !self.go_on() || self.is_stopped {
                return End::Stopped;
            }
            let mark = self.net.assume(site, option);
            let end = if self.net.is_none {
                End::Whole
            } else {
                self.descend()
            };
            self.net.back(&mark, end == End::Whole);
            if end == End::Stopped {
                return end;
            }
            self.fails[site] += 1;
            self.net.drop(site, option);
            if self.net.is_none {
                return End::Whole;
            }
        }
    }

    fn next(&mut self) -> Option<(usize, u16)> {
        let open = (0..self.net.sites()).filter(|s| self.net.open_count(*s) > 1);
        let site = open.max_by_key(|s| {
            let weight = self.fails[*s] * 64 * (1 + self.net.tables_at(*s) as u64);
            (
                weight / self.net.open_count(*s) as u64,
                std::cmp::Reverse(*s),
            )
        })?;
        let marginals = self.net.marginals(site);
        let option = self
            .net
            .open(site)
            .min_by_key(|o| (marginals[usize::from(*o)], *o))?;
        Some((site, option))
    }

    /// All sites are decided: a choice.
    fn found(&mut self) {
        let choice: Vec<u16> = (0..self.net.sites())
            .filter_map(|s| self.net.open(s).next())
            .collect();
        let cost = self.net.total() / self.scale;
        if let Some(most) = self.collects {
            if cost * self.scale < self.most {
                self.all.push((cost, choice));
            }
            self.is_stopped |= self.all.len() >= most;
            return;
        }
        if self.best.as_ref().is_none_or(|(best, _)| cost < *best) {
            self.best = Some((cost, choice));
            self.most = (cost - 1) * self.scale + 1;
        }
    }
}
