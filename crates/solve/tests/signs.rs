//! Signs against named graphs of graph theory and against every sign vector.

#![allow(clippy::unwrap_used, reason = "a test may stop on a broken setup")]

mod graphs;

use core::cmp::Reverse;
use graphs::named;
use lodewright_solve::parity::{ParityError, SignProblem, Sum, Term, most_low_sums};
use proptest::prelude::*;

fn edge(a: usize, b: usize) -> Sum {
    Sum {
        constant: 0,
        terms: vec![Term {
            a,
            b,
            coefficient: 1,
        }],
    }
}

/// One product for each edge: low sums are cut edges. Edge count minus maximum cut was found by exhaustive search elsewhere.
#[test]
fn a_graph_is_cut_as_far_as_it_can_be() {
    for graph in named() {
        let sums: Vec<Sum> = graph.edges.iter().map(|&(a, b)| edge(a, b)).collect();
        let choice = most_low_sums(&SignProblem {
            fixed: &vec![None; graph.nodes],
            votes: &vec![0; graph.nodes],
            sums: &sums,
            threshold: 0,
        })
        .unwrap();
        let cut = graph.edge_count - graph.edges_to_drop as usize;
        assert_eq!((choice.low, choice.proven), (cut, true), "{}", graph.name);
        assert_eq!(choice.high_total, graph.edges_to_drop as i64);
    }
}

#[test]
fn votes_decide_where_nothing_else_does() {
    let choose = |votes: &[i64], fixed: &[Option<bool>]| {
        let problem = SignProblem {
            fixed,
            votes,
            sums: &[edge(0, 1)],
            threshold: 0,
        };
        most_low_sums(&problem).unwrap().signs
    };
    assert_eq!(choose(&[3, 2, -1], &[None; 3]), [true, false, false]);
    assert_eq!(choose(&[2, 3, 0], &[None; 3]), [false, true, true]);
    let fixed = [Some(true), None, None];
    assert_eq!(choose(&[2, 3, 0], &fixed), [true, false, true]);
}

#[test]
fn what_is_not_there_is_refused() {
    let problem = |votes| SignProblem {
        fixed: &[None],
        votes,
        sums: &[],
        threshold: 0,
    };
    assert_eq!(
        most_low_sums(&problem(&[])),
        Err(ParityError::WeightCount {
            given: 0,
            needed: 1
        })
    );
    let bad = [edge(0, 5)];
    let asked = SignProblem {
        sums: &bad,
        ..problem(&[0])
    };
    let error = ParityError::NoSuchNode { node: 5, nodes: 1 };
    assert_eq!(most_low_sums(&asked), Err(error));
}

/// Clusters are searched apart: a hundred five-cycles.
#[test]
fn clusters_are_searched_apart() {
    let sums: Vec<Sum> = (0..100)
        .flat_map(|k| (0..5).map(move |i| edge(5 * k + i, 5 * k + (i + 1) % 5)))
        .collect();
    let problem = SignProblem {
        fixed: &[None; 500],
        votes: &[1; 500],
        sums: &sums,
        threshold: 1,
    };
    let choice = most_low_sums(&problem).unwrap();
    assert_eq!(
        (choice.low, choice.high_total, choice.proven),
        (400, 100, true)
    );
    assert_eq!(choice.votes, 100, "three of each five as voted");
}

/// Maximum cut of K_n is floor(n^2/4); as all signs are alike, few are looked at.
#[test]
fn signs_that_are_alike_are_searched_once() {
    let n = 60;
    let sums: Vec<Sum> = (0..n)
        .flat_map(|a| (a + 1..n).map(move |b| edge(a, b)))
        .collect();
    let problem = SignProblem {
        fixed: &vec![None; n],
        votes: &vec![1; n],
        sums: &sums,
        threshold: 0,
    };
    let choice = most_low_sums(&problem).unwrap();
    assert_eq!((choice.low, choice.proven), (n * n / 4, true));
    assert!(choice.searched < 5000, "{}", choice.searched);
}

/// A cluster too large to search to the end still gets an answer, which is not called proven.
#[test]
fn a_search_cut_short_says_so() {
    let n = 40;
    let sums: Vec<Sum> = (0..n)
        .flat_map(|a| (a + 1..n).map(move |b| edge(a, b)))
        .collect();
    // Votes that differ keep the signs apart.
    let votes: Vec<i64> = (0..n as i64).collect();
    let problem = SignProblem {
        fixed: &vec![None; n],
        votes: &votes,
        sums: &sums,
        threshold: 0,
    };
    let choice = most_low_sums(&problem).unwrap();
    assert!(!choice.proven && choice.low <= n * n / 4 && choice.low * 10 >= n * n / 4 * 9);
}

fn random() -> impl Strategy<Value = (Vec<Option<bool>>, Vec<i64>, Vec<Sum>, i64)> {
    (1_usize..=12).prop_flat_map(|n| {
        let term =
            (0..n, 0..n, -9_i64..10).prop_map(|(a, b, coefficient)| Term { a, b, coefficient });
        let sum = (-5_i64..6, prop::collection::vec(term, 0..5))
            .prop_map(|(constant, terms)| Sum { constant, terms });
        (
            prop::collection::vec(
                prop_oneof![4 => Just(None), 1 => any::<bool>().prop_map(Some)],
                n,
            ),
            prop_oneof![Just(vec![1; n]), prop::collection::vec(-2_i64..3, n)],
            prop::collection::vec(sum, 0..25),
            0_i64..4,
        )
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_sign_vector_is_better((fixed, votes, sums, threshold) in random()) {
        let problem = SignProblem { fixed: &fixed, votes: &votes, sums: &sums, threshold };
        let choice = most_low_sums(&problem).unwrap();
        prop_assert!(choice.proven);
        prop_assert!(fixed.iter().zip(&choice.signs).all(|(f, s)| f.is_none_or(|f| f == *s)));
        let score = |signs: &[bool]| {
            let values: Vec<i64> = sums.iter().map(|s| s.value(signs)).collect();
            let low = values.iter().filter(|v| **v < 0 && **v <= -threshold).count();
            let high: i64 = values.iter().filter(|v| **v > 0 && **v >= threshold).sum();
            let for_them: i64 = votes.iter().zip(signs).map(|(v, s)| if *s { *v } else { -v }).sum();
            (low, Reverse(high), for_them)
        };
        let found = (choice.low, Reverse(choice.high_total), choice.votes);
        prop_assert_eq!(found, score(&choice.signs));
        for bits in 0..1_u32 << fixed.len() {
            let signs: Vec<bool> = (0..fixed.len())
                .map(|i| fixed[i].unwrap_or(bits >> i & 1 == 1))
                .collect();
            prop_assert!(score(&signs) <= found, "{:?}", signs);
        }
    }
}

/// Ladders of two hundred signs whose rungs and rails ask for unlike signs, or for signs as some hidden ones have them: all are
/// met. With each rung replaced by a triangle one of three is not (a triangle has an odd number of cut edges too many).
#[test]
fn two_hundred_loose_signs_are_settled_exactly() {
    let mut sums = Vec::new();
    for i in 0..99 {
        sums.extend([edge(2 * i, 2 * i + 2), edge(2 * i + 1, 2 * i + 3)]);
    }
    sums.extend((0..100).map(|i| edge(2 * i, 2 * i + 1)));
    // Hidden signs: the product of each edge's two turns its coefficient round.
    let hidden = |i: usize| i.is_multiple_of(3) || i.is_multiple_of(7);
    for t in sums.iter_mut().map(|s| &mut s.terms[0]) {
        if hidden(t.a) != hidden(t.b) {
            t.coefficient = -1;
        }
    }
    let votes = [0; 200];
    let problem = SignProblem {
        fixed: &[None; 200],
        votes: &votes,
        sums: &sums,
        threshold: 1,
    };
    let choice = most_low_sums(&problem).unwrap();
    assert_eq!(
        (choice.low, choice.low_at_most, choice.proven),
        (298, 298, true)
    );
    assert_eq!(choice.high_total, 0);

    let triangles: Vec<Sum> = (0..100)
        .flat_map(|i| {
            [
                edge(2 * i, 2 * i + 1),
                edge(2 * i + 1, 2 * i + 2),
                edge(2 * i, 2 * i + 2),
            ]
        })
        .collect();
    let votes = [1; 201];
    let problem = SignProblem {
        fixed: &[None; 201],
        votes: &votes,
        sums: &triangles,
        threshold: 1,
    };
    let choice = most_low_sums(&problem).unwrap();
    assert_eq!(
        (choice.low, choice.low_at_most, choice.proven),
        (200, 200, true)
    );
    assert_eq!(choice.high_total, 100);
}
