//! The cheapest repairs against named graphs of graph theory and against exhaustive search.

#![allow(clippy::unwrap_used, reason = "a test may stop on a broken setup")]

mod graphs;

use graphs::named;
use lodewright_solve::parity::{
    Constraint, MOST_ALTERNATIVES, ParityError, Pin, Repair, RepairProblem, Repaired,
    cheapest_repairs, fewest_edges_to_drop, solve_parity,
};
use proptest::prelude::*;

fn differ(edges: &[(usize, usize)]) -> Vec<Constraint> {
    edges
        .iter()
        .map(|&(a, b)| Constraint { a, b, differ: true })
        .collect()
}

/// One repair for each constraint.
fn by_edge(constraints: &[Constraint], weights: &[u64]) -> Vec<Repair> {
    (0..constraints.len())
        .map(|i| Repair {
            removes: vec![i],
            weight: weights[i],
            ..Repair::default()
        })
        .collect()
}

/// One repair for each node: all constraints at it.
fn by_node(nodes: usize, constraints: &[Constraint]) -> Vec<Repair> {
    let at = |n: usize| {
        (0..constraints.len())
            .filter(|&i| constraints[i].a == n || constraints[i].b == n)
            .collect()
    };
    (0..nodes)
        .map(|n| Repair {
            removes: at(n),
            weight: 1,
            ..Repair::default()
        })
        .collect()
}

fn plain<'a>(
    nodes: usize,
    constraints: &'a [Constraint],
    repairs: &'a [Repair],
) -> RepairProblem<'a> {
    RepairProblem {
        nodes,
        constraints,
        pins: &[],
        repairs,
        conflicts: &[],
    }
}

/// Edge count minus maximum cut, and the least number of nodes whose removal leaves no odd cycle: both found by exhaustive
/// search elsewhere.
#[test]
fn named_graphs_by_edges_and_by_nodes() {
    for graph in named() {
        let constraints = differ(&graph.edges);
        let edges = by_edge(&constraints, &vec![1; constraints.len()]);
        let nodes = by_node(graph.nodes, &constraints);
        for (repairs, least) in [(&edges, graph.edges_to_drop), (&nodes, graph.nodes_to_drop)] {
            let found = cheapest_repairs(&plain(graph.nodes, &constraints, repairs), 1).unwrap();
            assert_eq!(
                (found.sets[0].weight, found.lower_bound, found.proven),
                (least, least, 1),
                "{} {found:?}",
                graph.name
            );
        }
    }
}

/// Odd cycle transversal of a complete graph: all nodes but two.
#[test]
fn complete_graphs_by_nodes() {
    for n in 3..=9 {
        let edges: Vec<_> = (0..n)
            .flat_map(|a| (a + 1..n).map(move |b| (a, b)))
            .collect();
        let constraints = differ(&edges);
        let repairs = by_node(n, &constraints);
        let found = cheapest_repairs(&plain(n, &constraints, &repairs), MOST_ALTERNATIVES).unwrap();
        assert_eq!(found.sets[0].weight, n as u64 - 2);
        let choices = n * (n - 1) / 2;
        assert_eq!(found.sets.len(), choices, "any two nodes may stay");
    }
}

#[test]
fn nothing_to_repair_and_beyond_repair() {
    let constraints = differ(&[(0, 1), (1, 2), (2, 0), (3, 4)]);
    let none = cheapest_repairs(&plain(5, &constraints[3..], &[]), 5).unwrap();
    assert_eq!(
        (none.sets.len(), none.sets[0].weight, none.proven),
        (1, 0, 1)
    );
    let beyond = cheapest_repairs(&plain(5, &constraints, &[]), 5).unwrap();
    assert!(beyond.impossible && beyond.sets.is_empty());
    let bad = [Repair {
        removes: vec![9],
        ..Repair::default()
    }];
    assert_eq!(
        cheapest_repairs(&plain(5, &constraints, &bad), 5),
        Err(ParityError::NoSuchEntry { index: 9, len: 4 })
    );
}

/// Many rings that share nothing: their lists are merged, not searched together.
#[test]
fn contradictions_apart_are_searched_apart() {
    let edges: Vec<_> = (0..40)
        .flat_map(|k| (0..5).map(move |i| (5 * k + i, 5 * k + (i + 1) % 5)))
        .collect();
    let constraints = differ(&edges);
    let repairs = by_edge(&constraints, &vec![3; constraints.len()]);
    let found = cheapest_repairs(&plain(200, &constraints, &repairs), 10).unwrap();
    assert_eq!((found.sets[0].weight, found.proven), (120, 10));
    assert!(found.searched < 5000, "{}", found.searched);
}

/// A search that is cut short gives a set that does repair, and does not call it proven.
#[test]
fn a_search_cut_short_says_so() {
    let n = 26;
    let edges: Vec<_> = (0..n)
        .flat_map(|a| (a + 1..n).map(move |b| (a, b)))
        .collect();
    let constraints = differ(&edges);
    let repairs = by_edge(&constraints, &vec![1; edges.len()]);
    let found = cheapest_repairs(&plain(n, &constraints, &repairs), 1).unwrap();
    // Maximum cut of K_n is floor(n^2/4).
    let least = (edges.len() - n * n / 4) as u64;
    assert_eq!(found.proven, 0);
    assert!(
        found.lower_bound <= least && found.sets[0].weight >= least,
        "{found:?}"
    );
    let kept: Vec<_> = (0..edges.len())
        .filter(|i| !found.sets[0].repairs.contains(i))
        .map(|i| constraints[i])
        .collect();
    assert!(
        solve_parity(n, &kept, &[])
            .unwrap()
            .contradictions
            .is_empty()
    );
}

#[derive(Debug, Clone)]
struct Random {
    nodes: usize,
    constraints: Vec<Constraint>,
    pins: Vec<Pin>,
    repairs: Vec<Repair>,
    conflicts: Vec<[usize; 2]>,
}

fn random() -> impl Strategy<Value = Random> {
    (2_usize..7, 1_usize..12, 0_usize..4, 1_usize..9).prop_flat_map(|(nodes, m, p, r)| {
        let constraint = (0..nodes, 0..nodes, any::<bool>())
            .prop_map(|(a, b, differ)| Constraint { a, b, differ });
        let pin = (0..nodes, any::<bool>()).prop_map(|(node, value)| Pin { node, value });
        let few = prop_oneof![3 => Just(0_usize), 1 => Just(1)];
        let repair = (
            prop::collection::vec(0..m, 1..4),
            prop::collection::vec(0..p.max(1), 0..=p.min(2)),
            few.prop_flat_map(move |n| prop::collection::vec(0..m, n)),
            0_u64..6,
        )
            .prop_map(|(removes, unpins, adds, weight)| Repair {
                removes,
                unpins,
                adds,
                weight,
            });
        (
            prop::collection::vec(constraint, m),
            prop::collection::vec(pin, p),
            prop::collection::vec(repair, r),
            prop::collection::vec((0..r, 0..r).prop_map(|(a, b)| [a, b]), 0..3),
        )
            .prop_map(move |(constraints, pins, repairs, conflicts)| Random {
                nodes,
                constraints,
                pins,
                repairs,
                conflicts,
            })
    })
}

impl Random {
    fn problem(&self) -> RepairProblem<'_> {
        RepairProblem {
            nodes: self.nodes,
            constraints: &self.constraints,
            pins: &self.pins,
            repairs: &self.repairs,
            conflicts: &self.conflicts,
        }
    }

    /// Whether what is left after these repairs has some values under which it holds.
    fn holds(&self, set: u32) -> bool {
        let chosen = || (0..self.repairs.len()).filter(|r| set >> r & 1 == 1);
        let there = |i: usize| {
            let conditional = self.repairs.iter().any(|r| r.adds.contains(&i));
            (!conditional || chosen().any(|r| self.repairs[r].adds.contains(&i)))
                && !chosen().any(|r| self.repairs[r].removes.contains(&i))
        };
        let pinned = |i: usize| !chosen().any(|r| self.repairs[r].unpins.contains(&i));
        (0..1_u32 << self.nodes).any(|values| {
            let value = |n: usize| values >> n & 1 == 1;
            let fits =
                |(i, c): (usize, &Constraint)| !there(i) || (value(c.a) != value(c.b)) == c.differ;
            let pins = |(i, p): (usize, &Pin)| !pinned(i) || value(p.node) == p.value;
            self.constraints.iter().enumerate().all(fits) && self.pins.iter().enumerate().all(pins)
        })
    }

    fn allowed(&self, set: u32) -> bool {
        let has = |r: usize| set >> r & 1 == 1;
        self.conflicts.iter().all(|&[a, b]| !has(a) || !has(b))
    }

    fn minimal_sets(&self) -> Vec<(u64, u32)> {
        let all = 0..1_u32 << self.repairs.len();
        let good: Vec<u32> = all.filter(|&s| self.allowed(s) && self.holds(s)).collect();
        let weight = |s: u32| {
            (0..self.repairs.len())
                .filter(|r| s >> r & 1 == 1)
                .map(|r| self.repairs[r].weight)
                .sum()
        };
        let mut out: Vec<(u64, u32)> = good
            .iter()
            .filter(|&&s| good.iter().all(|&t| t == s || t & s != t))
            .map(|&s| (weight(s), s))
            .collect();
        out.sort_unstable();
        out
    }
}

fn bits(found: &Repaired) -> Vec<(u64, u32)> {
    let set = |repairs: &[usize]| repairs.iter().fold(0, |s, r| s | 1 << r);
    let mut out: Vec<_> = found
        .sets
        .iter()
        .map(|s| (s.weight, set(&s.repairs)))
        .collect();
    out.sort_unstable();
    out
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    /// All minimal repairs, and no others, in the order of their weights.
    #[test]
    fn all_minimal_repairs_are_listed(case in random()) {
        let found = cheapest_repairs(&case.problem(), MOST_ALTERNATIVES).unwrap();
        let expected = case.minimal_sets();
        prop_assert_eq!(bits(&found), expected.clone());
        prop_assert_eq!(found.proven, found.sets.len());
        prop_assert_eq!(found.impossible, expected.is_empty());
        prop_assert!(found.sets.windows(2).all(|w| w[0].weight <= w[1].weight));
    }

    /// A short list holds the cheapest.
    #[test]
    fn a_short_list_has_the_cheapest(case in random(), most in 1_usize..4) {
        let found = cheapest_repairs(&case.problem(), most).unwrap();
        let expected = case.minimal_sets();
        let weights: Vec<u64> = found.sets.iter().map(|s| s.weight).collect();
        let least: Vec<u64> = expected.iter().take(most).map(|e| e.0).collect();
        prop_assert_eq!(weights, least);
        prop_assert_eq!(found.proven, found.sets.len());
    }

    /// Edges alone: the same least weight as the other exact method of this crate, which works by values and not by cycles.
    #[test]
    fn edges_alone_agree_with_the_cut(
        (nodes, constraints, weights) in (3_usize..9).prop_flat_map(|n| {
            let c = (0..n, 0..n, any::<bool>()).prop_map(|(a, b, differ)| Constraint { a, b, differ });
            (Just(n), prop::collection::vec(c, 1..20), prop::collection::vec(1_u64..9, 20))
        })
    ) {
        let weights = &weights[..constraints.len()];
        let repairs = by_edge(&constraints, weights);
        let found = cheapest_repairs(&plain(nodes, &constraints, &repairs), 1).unwrap();
        let cut = fewest_edges_to_drop(nodes, &constraints, weights, &[]).unwrap();
        prop_assert_eq!(found.sets[0].weight, cut.weight);
    }
}
