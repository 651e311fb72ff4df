//! Shortest odd cycles: breadth-first search on the double cover, where each node stands twice, once for each parity.

use super::{Component, Constraint, Contradiction, Link, Pin};
use std::collections::VecDeque;

/// One end of a link, seen from the other.
#[derive(Clone, Copy)]
struct Arc {
    to: usize,
    odd: bool,
    link: Link,
}

/// A component's links, over local node numbers; the last number is the common ground of the pins.
struct Graph {
    arcs: Vec<Vec<Arc>>,
}

/// How the search reached a place of the double cover: from which place, by which link.
type Came = Option<(usize, Link)>;

pub(super) fn contradictions(
    component_of: &[usize],
    components: &[Component],
    constraints: &[Constraint],
    pins: &[Pin],
) -> Vec<Contradiction> {
    let mut local = vec![0; component_of.len()];
    for component in components {
        component
            .nodes
            .iter()
            .enumerate()
            .for_each(|(i, &node)| local[node] = i);
    }
    let mut graphs: Vec<Option<Graph>> = components
        .iter()
        .map(|c| {
            (!c.consistent).then(|| Graph {
                arcs: vec![Vec::new(); c.nodes.len() + 1],
            })
        })
        .collect();
    for (i, c) in constraints.iter().enumerate() {
        if let Some(graph) = &mut graphs[component_of[c.a]] {
            graph.add(local[c.a], local[c.b], c.differ, Link::Constraint(i));
        }
    }
    for (i, pin) in pins.iter().enumerate() {
        let at = component_of[pin.node];
        if let Some(graph) = &mut graphs[at] {
            graph.add(
                local[pin.node],
                components[at].nodes.len(),
                !pin.value,
                Link::Pin(i),
            );
        }
    }
    let found = graphs.iter().enumerate().filter_map(|(at, graph)| {
        let (places, cycle) = graph.as_ref()?.shortest_odd_cycle()?;
        let nodes = places
            .iter()
            .map(|&i| components[at].nodes.get(i).copied())
            .collect();
        Some(Contradiction {
            component: at,
            cycle,
            nodes,
        })
    });
    found.collect()
}

impl Graph {
    fn add(&mut self, a: usize, b: usize, odd: bool, link: Link) {
        self.arcs[a].push(Arc { to: b, odd, link });
        if a != b {
            self.arcs[b].push(Arc { to: a, odd, link });
        }
    }

    /// A shortest odd closed walk over all starts, which is a cycle: a repeated node would split off a shorter odd one.
    fn shortest_odd_cycle(&self) -> Option<(Vec<usize>, Vec<Link>)> {
        let mut came: Vec<Came> = vec![None; 2 * self.arcs.len()];
        let mut best: Option<(Vec<usize>, Vec<Link>)> = None;
        let mut limit = usize::MAX;
        for start in 0..self.arcs.len() {
            if let Some(walk) = self.odd_walk(start, limit, &mut came) {
                limit = walk.1.len();
                best = Some(walk);
            }
        }
        best
    }

    /// A shortest walk of odd parity from a node back to itself, if it has fewer than `limit` links.
    fn odd_walk(
        &self,
        start: usize,
        limit: usize,
        came: &mut [Came],
    ) -> Option<(Vec<usize>, Vec<Link>)> {
        let mut touched = Vec::new();
        let mut queue = VecDeque::from([(2 * start, 0)]);
        let mut reached = false;
        'search: while let Some((place, depth)) = queue.pop_front() {
            // A walk of `depth + 1` links would be no shorter than the best one known.
            if depth + 1 >= limit {
                break;
            }
            for arc in &self.arcs[place / 2] {
                let next = 2 * arc.to + ((place % 2) ^ usize::from(arc.odd));
                if next == 2 * start || came[next].is_some() {
                    continue;
                }
                came[next] = Some((place, arc.link));
                touched.push(next);
                if next == 2 * start + 1 {
                    reached = true;
                    break 'search;
                }
                queue.push_back((next, depth + 1));
            }
        }
        let walk = reached.then(|| walk_back(start, came));
        touched.into_iter().for_each(|place| came[place] = None);
        walk
    }
}

fn walk_back(start: usize, came: &[Came]) -> (Vec<usize>, Vec<Link>) {
    let (mut nodes, mut links) = (Vec::new(), Vec::new());
    let mut place = 2 * start + 1;
    while let Some((from, link)) = came[place] {
        nodes.push(from / 2);
        links.push(link);
        place = from;
    }
    nodes.reverse();
    links.reverse();
    (nodes, links)
}
