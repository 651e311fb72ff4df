//! Parity systems against named graphs of graph theory and against exhaustive search.

#![allow(clippy::unwrap_used, reason = "a test may stop on a broken setup")]

mod graphs;

use graphs::{complete, cycle, named};
use lodewright_solve::parity::{
    Constraint, Link, ParityError, Pin, choose_signs, fewest_edges_to_drop, solve_parity,
};
use proptest::prelude::*;
use std::collections::BTreeSet;

fn differ(edges: &[(usize, usize)]) -> Vec<Constraint> {
    edges
        .iter()
        .map(|&(a, b)| Constraint { a, b, differ: true })
        .collect()
}

#[test]
fn named_graphs() {
    for graph in named() {
        let name = graph.name;
        let constraints = differ(&graph.edges);
        assert_eq!(constraints.len(), graph.edge_count, "{name}");
        let solution = solve_parity(graph.nodes, &constraints, &[]).unwrap();
        let length = solution.contradictions.first().map_or(0, |c| c.cycle.len());
        assert_eq!(length, graph.odd_girth, "{name}");
        let weights = vec![1; graph.edge_count];
        let found = fewest_edges_to_drop(graph.nodes, &constraints, &weights, &[]).unwrap();
        assert_eq!(
            (found.weight, found.dropped.len() as u64, found.proven),
            (graph.edges_to_drop, graph.edges_to_drop, true),
            "{name}"
        );
    }
}

#[test]
fn complete_graphs_drop_the_known_number() {
    // Maximum cut of K_n is floor(n^2/4).
    for n in 2..=14 {
        let constraints = differ(&complete(n));
        let found =
            fewest_edges_to_drop(n, &constraints, &vec![1; constraints.len()], &[]).unwrap();
        assert_eq!(
            (found.dropped.len(), found.proven),
            (constraints.len() - n * n / 4, true),
            "K{n}"
        );
    }
}

#[test]
fn a_component_at_the_limit_is_proven_and_a_far_larger_one_may_not_be() {
    let constraints = differ(&complete(20));
    assert!(
        fewest_edges_to_drop(20, &constraints, &vec![1; constraints.len()], &[])
            .unwrap()
            .proven
    );
    let constraints = differ(&complete(40));
    let found = fewest_edges_to_drop(40, &constraints, &vec![1; constraints.len()], &[]).unwrap();
    assert!(!found.proven && found.weight >= 780 - 400);
}

#[test]
fn weights_decide_what_is_dropped() {
    let found = fewest_edges_to_drop(3, &differ(&cycle(3)), &[5, 2, 9], &[]).unwrap();
    assert_eq!((found.dropped, found.weight), (vec![1], 2));
    let huge = fewest_edges_to_drop(3, &differ(&cycle(3)), &[u64::MAX; 3], &[]).unwrap();
    assert_eq!(huge.weight, u64::from(u32::MAX));
}

#[test]
fn pins_make_contradictions_through_the_ground() {
    let chain = differ(&[(0, 1), (1, 2)]);
    let pins = [
        Pin {
            node: 0,
            value: true,
        },
        Pin {
            node: 2,
            value: false,
        },
    ];
    let solution = solve_parity(4, &chain, &pins).unwrap();
    let found = &solution.contradictions[0];
    let links: BTreeSet<_> = found.cycle.iter().map(|l| format!("{l:?}")).collect();
    assert_eq!(links.len(), 4);
    assert!(found.cycle.contains(&Link::Pin(0)) && found.cycle.contains(&Link::Constraint(1)));
    assert_eq!(found.nodes.iter().filter(|n| n.is_none()).count(), 1);
    assert_eq!(solution.values, [None, None, None, Some(true)]);
    assert_eq!(
        fewest_edges_to_drop(4, &chain, &[1, 1], &pins)
            .unwrap()
            .dropped
            .len(),
        1
    );
    let clash = [
        Pin {
            node: 3,
            value: true,
        },
        Pin {
            node: 3,
            value: false,
        },
    ];
    assert_eq!(
        fewest_edges_to_drop(4, &chain, &[1, 1], &clash).unwrap_err(),
        ParityError::PinsClash { node: 3 }
    );
    assert_eq!(
        solve_parity(4, &chain, &clash).unwrap().contradictions[0].cycle,
        [Link::Pin(0), Link::Pin(1)]
    );
}

#[test]
fn single_nodes_and_doubled_constraints() {
    let itself = [
        Constraint {
            a: 1,
            b: 1,
            differ: true,
        },
        Constraint {
            a: 0,
            b: 0,
            differ: false,
        },
    ];
    let solution = solve_parity(2, &itself, &[]).unwrap();
    assert_eq!(solution.contradictions[0].cycle, [Link::Constraint(0)]);
    assert_eq!(solution.values, [Some(true), None]);
    assert_eq!(
        fewest_edges_to_drop(2, &itself, &[1, 1], &[])
            .unwrap()
            .dropped,
        [0]
    );
    let doubled = [
        Constraint {
            a: 0,
            b: 1,
            differ: true,
        },
        Constraint {
            a: 1,
            b: 0,
            differ: false,
        },
    ];
    assert_eq!(
        solve_parity(2, &doubled, &[]).unwrap().contradictions[0]
            .cycle
            .len(),
        2
    );
    assert!(solve_parity(0, &[], &[]).unwrap().components.is_empty());
    assert!(
        solve_parity(1, &doubled, &[])
            .unwrap_err()
            .to_string()
            .contains("node 1")
    );
    assert!(
        fewest_edges_to_drop(2, &doubled, &[1], &[])
            .unwrap_err()
            .to_string()
            .contains("1 weights")
    );
}

#[test]
fn long_chains_are_no_trouble() {
    let n = 200_000;
    let chain: Vec<_> = (1..n)
        .map(|i| Constraint {
            a: i - 1,
            b: i,
            differ: i % 3 == 0,
        })
        .collect();
    assert!(
        solve_parity(n, &chain, &[])
            .unwrap()
            .contradictions
            .is_empty()
    );
    assert!(
        fewest_edges_to_drop(n, &chain, &vec![1; n - 1], &[])
            .unwrap()
            .proven
    );
}

#[test]
fn majority_chooses_signs_and_ties_leave_the_lowest_true() {
    let constraints = differ(&[(0, 1), (2, 3), (3, 4)]);
    let solution = solve_parity(
        6,
        &constraints,
        &[Pin {
            node: 5,
            value: false,
        }],
    )
    .unwrap();
    let wish = |node, value| Pin { node, value };
    let tie = choose_signs(&solution, &[wish(0, false), wish(1, false), wish(5, true)]).unwrap();
    assert_eq!(tie, [true, false, true, false, true, false].map(Some));
    let majority =
        choose_signs(&solution, &[wish(2, false), wish(3, true), wish(4, true)]).unwrap();
    assert_eq!(majority[2..5], [false, true, false].map(Some));
    assert!(choose_signs(&solution, &[wish(6, true)]).is_err());
}

fn system() -> impl Strategy<Value = (usize, Vec<Constraint>, Vec<u64>, Vec<Pin>)> {
    (1..=9_usize).prop_flat_map(|n| {
        let constraint =
            (0..n, 0..n, any::<bool>()).prop_map(|(a, b, differ)| Constraint { a, b, differ });
        let pin = (0..n, any::<bool>()).prop_map(|(node, value)| Pin { node, value });
        let weighted = prop::collection::vec((constraint, 0..6_u64), 0..16);
        (Just(n), weighted, prop::collection::vec(pin, 0..3)).prop_map(|(n, list, pins)| {
            (
                n,
                list.iter().map(|x| x.0).collect(),
                list.iter().map(|x| x.1).collect(),
                pins,
            )
        })
    })
}

fn holds(c: &Constraint, bits: usize) -> bool {
    ((bits >> c.a & 1) != (bits >> c.b & 1)) == c.differ
}

/// Shortest odd closed walk through all nodes and the ground, by powers of the signed adjacency relation.
fn shortest_odd_by_powers(n: usize, constraints: &[Constraint], pins: &[Pin]) -> Option<usize> {
    let size = 2 * (n + 1);
    let pinned = pins.iter().map(|p| (p.node, n, !p.value));
    let links: Vec<_> = constraints
        .iter()
        .map(|c| (c.a, c.b, c.differ))
        .chain(pinned)
        .collect();
    let step = |reach: &BTreeSet<(usize, usize)>| -> BTreeSet<(usize, usize)> {
        let go = |&(from, at): &(usize, usize)| {
            let (node, side) = (at / 2, at % 2);
            let next = links
                .iter()
                .flat_map(move |&(a, b, odd)| [(a, b, odd), (b, a, odd)]);
            next.filter(move |l| l.0 == node)
                .map(move |l| (from, 2 * l.1 + (side ^ usize::from(l.2))))
                .collect::<Vec<_>>()
        };
        reach.iter().flat_map(go).collect()
    };
    let mut reach: BTreeSet<_> = (0..=n).map(|v| (v, 2 * v)).collect();
    (1..=size).find(|_| {
        reach = step(&reach);
        (0..=n).any(|v| reach.contains(&(v, 2 * v + 1)))
    })
}

proptest! {
    #[test]
    fn agrees_with_exhaustive_search((n, constraints, weights, pins) in system()) {
        let fits = |bits: usize| pins.iter().all(|p| (bits >> p.node & 1 == 1) == p.value);
        let solution = solve_parity(n, &constraints, &pins).unwrap();
        let possible = (0..1 << n).any(|bits| fits(bits) && constraints.iter().all(|c| holds(c, bits)));
        prop_assert_eq!(possible, solution.contradictions.is_empty());
        if possible {
            let bits = (0..n).filter(|&i| solution.values[i] == Some(true)).map(|i| 1 << i).sum();
            prop_assert!(fits(bits) && constraints.iter().all(|c| holds(c, bits)));
        }
        let shortest = solution.contradictions.iter().map(|c| c.cycle.len()).min();
        prop_assert_eq!(shortest, shortest_odd_by_powers(n, &constraints, &pins));
        let broken = |bits: usize| constraints.iter().zip(&weights).filter(|(c, _)| !holds(c, bits)).map(|(_, w)| w).sum::<u64>();
        let least = (0..1 << n).filter(|&bits| fits(bits)).map(broken).min();
        match (fewest_edges_to_drop(n, &constraints, &weights, &pins), least) {
            (Ok(found), Some(least)) => {
                prop_assert!(found.proven);
                prop_assert_eq!(found.weight, least);
                let bits: usize = (0..n).filter(|&i| found.values[i]).map(|i| 1 << i).sum();
                prop_assert!(fits(bits));
                prop_assert!((0..constraints.len()).all(|i| holds(&constraints[i], bits) != found.dropped.contains(&i)));
            }
            (result, least) => prop_assert!(result.is_err() && least.is_none()),
        }
    }

    #[test]
    fn contradictions_are_odd_cycles_without_repeats((n, constraints, _w, pins) in system()) {
        for c in solve_parity(n, &constraints, &pins).unwrap().contradictions {
            let mut odd = false;
            for (i, link) in c.cycle.iter().enumerate() {
                let (a, b, differ) = match *link {
                    Link::Constraint(k) => (Some(constraints[k].a), Some(constraints[k].b), constraints[k].differ),
                    Link::Pin(k) => (Some(pins[k].node), None, !pins[k].value),
                };
                odd ^= differ;
                let (from, to) = (c.nodes[i], c.nodes[(i + 1) % c.nodes.len()]);
                prop_assert!((a, b) == (from, to) || (b, a) == (from, to));
            }
            prop_assert!(odd);
            let distinct: BTreeSet<_> = c.nodes.iter().collect();
            prop_assert_eq!(distinct.len(), c.nodes.len());
        }
    }

    #[test]
    fn signs_satisfy_as_many_wishes_as_possible((n, constraints, _w, pins) in system(), wishes in prop::collection::vec((0..9_usize, any::<bool>()), 0..9)) {
        let wishes: Vec<_> = wishes.into_iter().filter(|w| w.0 < n).map(|(node, value)| Pin { node, value }).collect();
        let solution = solve_parity(n, &constraints, &pins).unwrap();
        prop_assume!(solution.contradictions.is_empty());
        let chosen = choose_signs(&solution, &wishes).unwrap();
        let met = wishes.iter().filter(|w| chosen[w.node] == Some(w.value)).count();
        let legal = (0..1_usize << n).filter(|&bits| constraints.iter().all(|c| holds(c, bits)) && pins.iter().all(|p| (bits >> p.node & 1 == 1) == p.value));
        let most = legal.map(|bits| wishes.iter().filter(|w| (bits >> w.node & 1 == 1) == w.value).count()).max();
        prop_assert_eq!(Some(met), most);
    }
}
