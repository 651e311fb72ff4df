//! Heavy but legal plans: the work grows with what they hold and not with how many models they have. Steps are counted,
//! not time; the ignored test prints times.

#![allow(clippy::unwrap_used, reason = "helpers of tests")]

use std::collections::BTreeSet;
use std::time::Duration;

use lodewright_assembly::{Board, first_model, glue_answer, models, nearest_model};
use lodewright_kit::{
    Cell, CheckedPlan, Ix, Part, PartId, Plan, Seat, Socket, SocketId, Variant, VariantId,
    VariantIx,
};

/// What a plan of so many sockets, choices and variants is like.
#[derive(Clone, Copy, Debug)]
enum Kind {
    /// Every variant allows everything.
    Alike,
    /// A variant allows a run of the choices, that begins one further in the next.
    Runs,
    /// A variant allows half of the choices, by lot.
    Lot,
    /// A variant goes without one choice, each in a socket of its own.
    Apart,
    /// A variant allows one choice in each socket.
    Fixed,
    /// A variant has the same parts as the one before, one socket or two further on, and every socket has to be filled.
    Wandering,
    /// Each part fits its socket and the next.
    Neighbours,
    /// Each part fits every socket.
    Anywhere,
    /// Each part fits some sockets, by lot, and every socket has to be filled: too much to count.
    Tangle,
    /// Each socket is on the first part of the socket before.
    Nested,
}

const KINDS: [Kind; 10] = [
    Kind::Alike,
    Kind::Runs,
    Kind::Lot,
    Kind::Apart,
    Kind::Fixed,
    Kind::Wandering,
    Kind::Neighbours,
    Kind::Anywhere,
    Kind::Tangle,
    Kind::Nested,
];

/// A plan holds at most 1,000 parts.
const PARTS: usize = 999;

fn board(kind: Kind, sockets: usize, choices: usize, variants: usize) -> Board {
    let mut plan = Plan::empty("heavy");
    // With too few parts for all, a socket's parts come in several turns.
    let kinds = choices.min(PARTS / sockets);
    let mut seed = 1u64;
    let mut lot = move |n: usize| {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % n
    };
    let part = |s: usize, c: usize| PartId::new(format!("p{}", s * kinds + c % kinds));
    for s in 0..sockets {
        let host = match kind {
            Kind::Nested if s > 0 => part(s - 1, 0),
            _ => plan.base.clone(),
        };
        plan.sockets.push(Socket::plain(
            SocketId::new(format!("s{s}")),
            format!("S{s}"),
            host,
        ));
        for c in 0..kinds {
            plan.parts
                .push(Part::plain(part(s, c), format!("P{s}-{c}")));
        }
    }
    for v in 0..variants {
        let cells = (0..sockets).map(|s| {
            let mut seats: Vec<(usize, usize)> = match kind {
                Kind::Alike | Kind::Nested => (0..choices).map(|c| (s, c)).collect(),
                Kind::Runs => (v % choices..choices)
                    .take(choices.div_ceil(2))
                    .map(|c| (s, c))
                    .collect(),
                Kind::Lot => (0..choices)
                    .filter(|_| lot(2) == 0)
                    .map(|c| (s, c))
                    .collect(),
                Kind::Apart => (usize::from(s == v)..choices).map(|c| (s, c)).collect(),
                Kind::Fixed => vec![(s, v % choices)],
                Kind::Wandering => (0..choices.min(2))
                    .map(|c| ((s + v + c) % sockets, 0))
                    .collect(),
                Kind::Neighbours => (0..choices)
                    .map(|c| ((s + c % 2) % sockets, c / 2))
                    .collect(),
                Kind::Anywhere => (0..choices).map(|c| (c % sockets, c / sockets)).collect(),
                Kind::Tangle => (0..choices).map(|_| (lot(sockets), 0)).collect(),
            };
            seats.dedup();
            let seat = |(s, c): &(usize, usize)| {
                let mut seat = Seat::straight(part(*s, *c));
                seat.pose.turn_deg = (c / kinds) as f64;
                seat
            };
            Cell {
                socket: SocketId::new(format!("s{s}")),
                seats: seats.iter().map(seat).collect(),
                may_be_empty: !matches!(
                    kind,
                    Kind::Fixed | Kind::Lot | Kind::Wandering | Kind::Tangle
                ),
            }
        });
        plan.variants.push(Variant {
            id: VariantId::new(format!("v{v}")),
            name: format!("V{v}"),
            cells: cells.collect(),
        });
    }
    Board::of(CheckedPlan::of(plan).unwrap())
}

/// Time that this thread was on a processor, where Linux tells.
#[allow(clippy::disallowed_methods, reason = "times that a test prints")]
fn cpu() -> Duration {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap();
    Duration::from_nanos(text.split(' ').next().unwrap().parse().unwrap())
}

#[test]
fn work_grows_with_the_plan() {
    use Kind::{Alike, Anywhere, Apart, Fixed, Neighbours, Nested, Runs};
    for kind in [Alike, Apart, Runs, Fixed, Neighbours, Anywhere, Nested] {
        let work = |s, c, v| {
            let board = board(kind, s, c, v);
            let counts = board.model_counts();
            assert!(counts.all.is_some() && counts.of.values().iter().all(Option::is_some));
            let glue = glue_answer(&board);
            assert!(
                glue.separable
                    .values()
                    .iter()
                    .flatten()
                    .all(|why| *why != lodewright_assembly::Apart::Unsure)
            );
            [counts.steps, glue.steps]
        };
        let base = work(20, 10, 10);
        assert!(base.iter().all(|n| *n > 20));
        for (more, counts, glue) in [
            (work(40, 10, 10), 5, 2),
            (work(20, 20, 10), 3, 2),
            (work(20, 10, 20), 2, 2),
        ] {
            assert!(more[0] <= counts * base[0], "{kind:?} {base:?} {more:?}");
            assert!(more[1] <= glue * base[1] + 10, "{kind:?} {base:?} {more:?}");
        }
    }
}

#[test]
fn variants_that_share_models_are_told_from_those_that_do_not() {
    // All parts move on together, by as many sockets as the variant says or by one more: two models each, of which the next
    // variant has one too. What all variants together allow is too much to count.
    let counts = board(Kind::Wandering, 20, 2, 10).model_counts();
    assert!(counts.of.values().iter().all(|n| *n == Some(2u8.into())));
    assert_eq!(counts.all, Some(11u8.into()));
    assert!(counts.steps > 250_000, "what was tried in vain is work too");
    let lot = board(Kind::Lot, 4, 6, 12);
    let listed = VariantIx::all(&lot.plan.variants).flat_map(|v| models(&lot, v, 10_000).0);
    let distinct: BTreeSet<_> = listed.map(|m| m.joints.values().to_vec()).collect();
    assert_eq!(lot.model_counts().all, Some(distinct.len().into()));
}

#[test]
fn what_cannot_be_counted_is_not_guessed() {
    let board = board(Kind::Tangle, 40, 30, 3);
    let counts = board.model_counts();
    assert!(counts.all.is_none() && counts.of.values().iter().all(Option::is_none));
    assert!(counts.steps < 3_100_000);
    // That there is a model, and what may be glued, a matching tells all the same.
    let glue = glue_answer(&board);
    assert!(
        glue.separable
            .values()
            .iter()
            .flatten()
            .all(|why| *why != lodewright_assembly::Apart::Unsure)
    );
    for v in VariantIx::all(&board.plan.variants) {
        assert!(first_model(&board, v).is_some());
    }
}

#[test]
fn four_hundred_nested_hosts_are_no_depth() {
    let board = board(Kind::Nested, 400, 2, 2);
    // A chain that may end anywhere: in each host either the next one, a part that carries nothing, or nothing.
    let models = 2 * 400 + 1u32;
    assert_eq!(board.model_counts().all, Some(models.into()));
    let deepest = first_model(&board, VariantIx::new(0)).unwrap();
    assert_eq!(deepest.made().count(), 400);
}

#[test]
#[ignore = "prints times"]
fn times() {
    for (sockets, choices, variants) in [(20, 10, 5), (60, 40, 60), (400, 2, 100)] {
        for kind in KINDS {
            let board = board(kind, sockets, choices, variants);
            let from = cpu();
            let _ = Board::of(board.plan.clone());
            let of = cpu() - from;
            let from = cpu();
            let counts = board.model_counts();
            let count = cpu() - from;
            let from = cpu();
            let glue = glue_answer(&board);
            let glued = cpu() - from;
            let unknown = glue
                .separable
                .values()
                .iter()
                .flatten()
                .filter(|why| **why == lodewright_assembly::Apart::Unsure)
                .count();
            let from = cpu();
            let mut listed = 0;
            let mut before = None;
            let mut first = Duration::ZERO;
            for v in VariantIx::all(&board.plan.variants) {
                let t = cpu();
                let model = first_model(&board, v);
                first += cpu() - t;
                if let Some(like) = &before {
                    let _ = nearest_model(&board, v, like);
                }
                before = model.or(before);
                listed += models(&board, v, 24).0.len();
            }
            let lists = cpu() - from;
            let known = counts.of.values().iter().filter(|c| c.is_some()).count();
            println!(
                "{kind:?} {sockets}x{choices}x{variants}: of {of:.0?} counts {count:.0?} ({} steps, {known} of {variants}, all {}) glue {glued:.0?} ({} steps, {unknown} unknown) lists {lists:.0?} ({listed}, first {first:.0?}) sum {:.0?}",
                counts.steps,
                counts
                    .all
                    .map_or("unknown".to_owned(), |n| n.bits().to_string() + " bits"),
                glue.steps,
                of + count + glued + lists
            );
        }
    }
}
