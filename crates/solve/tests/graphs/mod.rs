//! Named graphs of graph theory with figures found by exhaustive search elsewhere.

#![allow(dead_code, reason = "each test binary uses some of these")]

/// A graph and what is known of it. The shortest odd cycles are facts of graph theory from memory; edge count minus
/// maximum cut, and the least number of nodes whose removal leaves a bipartite graph, were found by exhaustive search.
pub struct Named {
    pub name: &'static str,
    pub nodes: usize,
    pub edges: Vec<(usize, usize)>,
    pub edge_count: usize,
    /// Length of a shortest odd cycle; 0 for a bipartite graph.
    pub odd_girth: usize,
    pub edges_to_drop: u64,
    pub nodes_to_drop: u64,
}

pub fn cycle(n: usize) -> Vec<(usize, usize)> {
    (0..n).map(|i| (i, (i + 1) % n)).collect()
}

pub fn complete(n: usize) -> Vec<(usize, usize)> {
    (0..n)
        .flat_map(|a| (a + 1..n).map(move |b| (a, b)))
        .collect()
}

pub fn petersen() -> Vec<(usize, usize)> {
    (0..5)
        .flat_map(|i| [(i, (i + 1) % 5), (i, i + 5), (5 + i, 5 + (i + 2) % 5)])
        .collect()
}

pub fn octahedron() -> Vec<(usize, usize)> {
    complete(6)
        .into_iter()
        .filter(|&(a, b)| a + 3 != b)
        .collect()
}

/// Two poles, two rings of five, a zigzag between the rings.
pub fn icosahedron() -> Vec<(usize, usize)> {
    let ring = |i: usize| {
        let next = (i + 1) % 5;
        [
            (0, 1 + i),
            (11, 6 + i),
            (1 + i, 1 + next),
            (6 + i, 6 + next),
            (1 + i, 6 + i),
            (1 + next, 6 + i),
        ]
    };
    (0..5).flat_map(ring).collect()
}

/// Mycielski's construction on the five-cycle.
pub fn groetzsch() -> Vec<(usize, usize)> {
    let spoke = |i: usize| {
        [
            (i, (i + 1) % 5),
            (5 + i, (i + 1) % 5),
            (5 + i, (i + 4) % 5),
            (10, 5 + i),
        ]
    };
    (0..5).flat_map(spoke).collect()
}

pub fn cube() -> Vec<(usize, usize)> {
    complete(8)
        .into_iter()
        .filter(|(a, b)| (a ^ b).is_power_of_two())
        .collect()
}

pub fn wheel() -> Vec<(usize, usize)> {
    cycle(5).into_iter().chain((0..5).map(|i| (i, 5))).collect()
}

pub fn named() -> Vec<Named> {
    let of =
        |name, nodes, edges, [edge_count, odd_girth, drop_edges, drop_nodes]: [u64; 4]| Named {
            name,
            nodes,
            edges,
            edge_count: edge_count as usize,
            odd_girth: odd_girth as usize,
            edges_to_drop: drop_edges,
            nodes_to_drop: drop_nodes,
        };
    vec![
        of("Petersen", 10, petersen(), [15, 5, 3, 3]),
        of("K5", 5, complete(5), [10, 3, 4, 3]),
        of("K6", 6, complete(6), [15, 3, 6, 4]),
        of("C5", 5, cycle(5), [5, 5, 1, 1]),
        of("C7", 7, cycle(7), [7, 7, 1, 1]),
        of("octahedron", 6, octahedron(), [12, 3, 4, 2]),
        of("icosahedron", 12, icosahedron(), [30, 3, 10, 6]),
        of("Groetzsch", 11, groetzsch(), [20, 5, 4, 3]),
        of("cube", 8, cube(), [12, 0, 0, 0]),
        of("W5", 6, wheel(), [10, 3, 3, 2]),
    ]
}
