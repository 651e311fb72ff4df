//! Best-first search for the cheapest repairs of one cluster of a parity system.

use super::repair::{REPAIR_LIMIT, RepairProblem, RepairSet, order};
use std::cmp::Reverse;
use std::collections::{BinaryHeap, VecDeque};

/// Sets of at most so many repairs are checked against all their parts.
const ALL_PARTS: usize = 12;

/// Bounds that are made into sets of repairs by the way.
const MOST_NOTES: usize = 50;

/// What a search found.
pub(super) struct Found {
    /// Minimal sets, cheapest first.
    pub sets: Vec<RepairSet>,
    /// What is not in the list, or out of order in it, costs at least this; `None` where the list is all there is.
    pub rest: Option<u64>,
    /// No set costs less.
    pub floor: u64,
    /// Search nodes opened.
    pub searched: usize,
}

/// A constraint or pin as an edge; pins lead to a common ground, the node after the last.
struct Edge {
    ends: [usize; 2],
    odd: bool,
    removed_by: Vec<usize>,
    /// Not empty: the edge is there only with one of these repairs.
    added_by: Vec<usize>,
}

/// A system as edges and what removes them.
pub(super) struct Graph {
    edges: Vec<Edge>,
    /// By node: its edges.
    at: Vec<Vec<usize>>,
    ground: usize,
    weights: Vec<u64>,
    conflicts: Vec<Vec<usize>>,
}

impl Graph {
    pub(super) fn of(problem: &RepairProblem<'_>) -> Self {
        let ground = problem.nodes;
        let edge = |ends, odd| Edge {
            ends,
            odd,
            removed_by: Vec::new(),
            added_by: Vec::new(),
        };
        let constraints = problem.constraints.iter();
        let mut edges: Vec<Edge> = constraints.map(|c| edge([c.a, c.b], c.differ)).collect();
        edges.extend(
            problem
                .pins
                .iter()
                .map(|p| edge([p.node, ground], !p.value)),
        );
        for (r, repair) in problem.repairs.iter().enumerate() {
            let pins = repair.unpins.iter().map(|i| problem.constraints.len() + i);
            for i in repair.removes.iter().copied().chain(pins) {
                if edges[i].removed_by.last() != Some(&r) {
                    edges[i].removed_by.push(r);
                }
            }
            for &i in &repair.adds {
                edges[i].added_by.push(r);
            }
        }
        let mut at = vec![Vec::new(); ground + 1];
        for (i, e) in edges.iter().enumerate() {
            at[e.ends[0]].push(i);
            if e.ends[0] != e.ends[1] {
                at[e.ends[1]].push(i);
            }
        }
        let mut conflicts = vec![Vec::new(); problem.repairs.len()];
        for &[a, b] in problem.conflicts {
            conflicts[a].push(b);
            conflicts[b].push(a);
        }
        let capped = |r: &super::repair::Repair| r.weight.min(u64::from(u32::MAX));
        Self {
            edges,
            at,
            ground,
            weights: problem.repairs.iter().map(capped).collect(),
            conflicts,
        }
    }

    fn weight(&self, set: &[usize]) -> u64 {
        set.iter().map(|&r| self.weights[r]).sum()
    }
}

/// What a repair is in a state of the search.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    Open,
    Chosen,
    Banned,
    /// Paid for in full by the bound: counts as removing its edges there, not as bringing any in.
    Paid,
}

/// Buffers for looking for odd cycles.
#[derive(Default)]
struct Scratch {
    /// By node: parity against the root of its tree, depth, and the edge to its parent.
    seen: Vec<Option<(bool, usize, Option<usize>)>>,
    touched: Vec<usize>,
    queue: VecDeque<usize>,
}

pub(super) struct Search<'a> {
    graph: &'a Graph,
    /// The cluster's nodes, and the ground.
    nodes: Vec<usize>,
    most: usize,
    mark: Vec<Mark>,
    residual: Vec<u64>,
    scratch: Scratch,
    /// Sets that the bound came upon, for when the search is cut short.
    by_the_way: Vec<RepairSet>,
    notes: usize,
}

/// A state to be opened: bound, how new it is, repairs chosen and banned, and the cycle to branch on (none: solved).
type State = Reverse<(u64, usize, Vec<usize>, Vec<usize>, Option<Vec<usize>>)>;

impl<'a> Search<'a> {
    pub(super) fn new(graph: &'a Graph, nodes: &[usize], most: usize) -> Self {
        let mut nodes = nodes.to_vec();
        nodes.push(graph.ground);
        Self {
            graph,
            nodes,
            most,
            mark: vec![Mark::Open; graph.weights.len()],
            residual: graph.weights.clone(),
            scratch: Scratch {
                seen: vec![None; graph.ground + 1],
                ..Scratch::default()
            },
            by_the_way: Vec::new(),
            notes: 0,
        }
    }

    pub(super) fn run(mut self) -> Found {
        let mut heap: BinaryHeap<State> = BinaryHeap::new();
        let (mut made, mut searched) = (usize::MAX, 0);
        let mut sets: Vec<RepairSet> = Vec::new();
        self.push(&mut heap, &mut made, 0, Vec::new(), Vec::new());
        let mut rest = None;
        while let Some(Reverse((bound, _, chosen, banned, cycle))) = heap.pop() {
            if sets.len() >= self.most || searched >= REPAIR_LIMIT {
                rest = Some(bound);
                break;
            }
            searched += 1;
            let Some(open) = cycle else {
                if self.is_minimal(&chosen) {
                    sets.push(self.set(chosen));
                }
                continue;
            };
            let mut banned = banned;
            for r in open {
                let mut more = chosen.clone();
                more.push(r);
                let mut no = banned.clone();
                no.extend(&self.graph.conflicts[r]);
                self.push(&mut heap, &mut made, bound, more, no);
                banned.push(r);
            }
        }
        order(&mut sets);
        if sets.len() < self.most && rest.is_some() {
            let spare = std::mem::take(&mut self.by_the_way);
            sets.extend(
                spare
                    .into_iter()
                    .filter(|s| !sets.contains(s))
                    .collect::<Vec<_>>(),
            );
            order(&mut sets);
        }
        sets.truncate(self.most);
        Found {
            floor: match (rest, sets.first()) {
                (Some(rest), Some(first)) => rest.min(first.weight),
                (None, Some(first)) => first.weight,
                (rest, None) => rest.unwrap_or(0),
            },
            rest,
            searched,
            sets,
        }
    }

    fn set(&self, mut repairs: Vec<usize>) -> RepairSet {
        repairs.sort_unstable();
        RepairSet {
            weight: self.graph.weight(&repairs),
            repairs,
        }
    }

    /// Bounds a state and keeps it, unless nothing can come of it.
    fn push(
        &mut self,
        heap: &mut BinaryHeap<State>,
        made: &mut usize,
        at_least: u64,
        chosen: Vec<usize>,
        banned: Vec<usize>,
    ) {
        // A repair in conflict with itself can never be chosen.
        if chosen.iter().any(|r| banned.contains(r)) {
            return;
        }
        self.marks(&chosen, &banned);
        let state = self.bound(&chosen);
        self.unmark(&chosen, &banned);
        if let Some((bound, cycle)) = state {
            // Of equal bounds the newest goes first, which leads to a solution soonest.
            *made -= 1;
            heap.push(Reverse((bound.max(at_least), *made, chosen, banned, cycle)));
        }
    }

    fn marks(&mut self, chosen: &[usize], banned: &[usize]) {
        banned.iter().for_each(|&r| self.mark[r] = Mark::Banned);
        chosen.iter().for_each(|&r| self.mark[r] = Mark::Chosen);
    }

    fn unmark(&mut self, chosen: &[usize], banned: &[usize]) {
        let all = chosen.iter().chain(banned);
        all.for_each(|&r| self.mark[r] = Mark::Open);
    }

    /// Least that a completion of the marked state can cost, and the open repairs of the odd cycle that has fewest of
    /// them; no cycle where the state is solved; `None` where a cycle is beyond repair.
    ///
    /// Dual ascent: each odd cycle takes as much of the prices of its repairs as the cheapest has left.
    fn bound(&mut self, chosen: &[usize]) -> Option<(u64, Option<Vec<usize>>)> {
        let mut total = self.graph.weight(chosen);
        let mut fewest: Option<Vec<usize>> = None;
        let mut paid: Vec<usize> = Vec::new();
        let mut touched: Vec<usize> = Vec::new();
        let mut stuck = false;
        while let Some(cycle) = self.odd_cycle() {
            let mut open: Vec<usize> = cycle
                .iter()
                .flat_map(|&e| &self.graph.edges[e].removed_by)
                .copied()
                .filter(|&r| self.mark[r] == Mark::Open)
                .collect();
            open.sort_unstable();
            open.dedup();
            let Some(least) = open.iter().map(|&r| self.residual[r]).min() else {
                stuck = true;
                break;
            };
            total += least;
            for &r in &open {
                self.residual[r] -= least;
                touched.push(r);
                if self.residual[r] == 0 {
                    self.mark[r] = Mark::Paid;
                    paid.push(r);
                }
            }
            if fewest.as_ref().is_none_or(|f| open.len() < f.len()) {
                fewest = Some(open);
            }
        }
        touched
            .iter()
            .for_each(|&r| self.residual[r] = self.graph.weights[r]);
        if !stuck && fewest.is_some() {
            self.note(chosen, &paid);
        }
        paid.iter().for_each(|&r| self.mark[r] = Mark::Open);
        (!stuck).then_some((total, fewest))
    }

    /// Keeps the paid repairs, without the idle ones, as a set found by the way.
    fn note(&mut self, chosen: &[usize], paid: &[usize]) {
        let mut all = [chosen, paid].concat();
        let clash = |all: &[usize]| {
            all.iter()
                .any(|&r| self.graph.conflicts[r].iter().any(|c| all.contains(c)))
        };
        if self.notes >= MOST_NOTES || clash(&all) {
            return;
        }
        self.notes += 1;
        let saved = self.mark.clone();
        for i in (0..all.len()).rev() {
            let r = all.remove(i);
            if !self.holds(&all) {
                all.insert(i, r);
            }
        }
        if self.holds(&all) {
            let set = self.set(all);
            if !self.by_the_way.contains(&set) {
                self.by_the_way.push(set);
            }
        }
        self.mark = saved;
    }

    /// Whether these repairs alone leave no odd cycle; spoils the marks.
    fn holds(&mut self, set: &[usize]) -> bool {
        self.mark.fill(Mark::Open);
        set.iter().for_each(|&r| self.mark[r] = Mark::Chosen);
        self.odd_cycle().is_none()
    }

    /// Whether no part of a set would do. Where no repair brings constraints in, it is enough to leave out one at a time.
    fn is_minimal(&mut self, set: &[usize]) -> bool {
        let n = set.len();
        let adds = self.graph.edges.iter().any(|e| !e.added_by.is_empty());
        let mut minimal = true;
        if adds && n <= ALL_PARTS {
            for bits in 0..(1_usize << n) - 1 {
                let part = (0..n).filter(|i| bits >> i & 1 == 1).map(|i| set[i]);
                let part: Vec<usize> = part.collect();
                minimal &= !self.holds(&part);
            }
        } else {
            for i in 0..n {
                let part = [&set[..i], &set[i + 1..]].concat();
                minimal &= !self.holds(&part);
            }
        }
        self.mark.fill(Mark::Open);
        minimal
    }

    fn is_there(&self, edge: &Edge) -> bool {
        let chosen = |r: &usize| self.mark[*r] == Mark::Chosen;
        let gone = |r: &usize| matches!(self.mark[*r], Mark::Chosen | Mark::Paid);
        (edge.added_by.is_empty() || edge.added_by.iter().any(chosen))
            && !edge.removed_by.iter().any(gone)
    }

    /// The edges of some odd cycle of the marked state: breadth-first trees, the first edge that closes one.
    fn odd_cycle(&mut self) -> Option<Vec<usize>> {
        let mut scratch = std::mem::take(&mut self.scratch);
        let found = self.look(&mut scratch);
        scratch
            .touched
            .drain(..)
            .for_each(|node| scratch.seen[node] = None);
        scratch.queue.clear();
        self.scratch = scratch;
        found
    }

    fn look(&self, s: &mut Scratch) -> Option<Vec<usize>> {
        for &root in &self.nodes {
            if s.seen[root].is_some() {
                continue;
            }
            s.seen[root] = Some((false, 0, None));
            s.touched.push(root);
            s.queue.push_back(root);
            while let Some(node) = s.queue.pop_front() {
                let (odd, depth, up) = s.seen[node]?;
                for &e in &self.graph.at[node] {
                    let edge = &self.graph.edges[e];
                    if up == Some(e) || !self.is_there(edge) {
                        continue;
                    }
                    let to = edge.ends[usize::from(edge.ends[0] == node)];
                    match s.seen[to] {
                        // A cluster's ground leads into other clusters.
                        None if node == self.graph.ground
                            && self.nodes.binary_search(&to).is_err() => {}
                        None => {
                            s.seen[to] = Some((odd ^ edge.odd, depth + 1, Some(e)));
                            s.touched.push(to);
                            s.queue.push_back(to);
                        }
                        Some((other, ..)) if other == odd ^ edge.odd => {}
                        Some(_) => return self.close(&s.seen, e),
                    }
                }
            }
        }
        None
    }

    /// The cycle that an edge closes in the trees.
    fn close(
        &self,
        seen: &[Option<(bool, usize, Option<usize>)>],
        last: usize,
    ) -> Option<Vec<usize>> {
        let [mut a, mut b] = self.graph.edges[last].ends;
        let mut cycle = vec![last];
        while a != b {
            let ((_, da, ua), (_, db, ub)) = (seen[a]?, seen[b]?);
            let (node, up) = if da >= db {
                (&mut a, ua?)
            } else {
                (&mut b, ub?)
            };
            let ends = self.graph.edges[up].ends;
            *node = ends[usize::from(ends[0] == *node)];
            cycle.push(up);
        }
        Some(cycle)
    }
}
