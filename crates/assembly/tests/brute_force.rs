//! Counts and glue answers against brute force: every way to fill every socket is written down and judged by the
//! definition alone.

use std::collections::BTreeSet;

use lodewright_assembly::{Board, JointIx, changes, first_model, glue_answer, models};
use lodewright_kit::{
    Cell, CheckedPlan, Ix, Part, PartId, Plan, Seat, Socket, SocketId, Variant, VariantId,
    VariantIx,
};
use proptest::prelude::*;

/// A filled socket: part and turn.
type Filled = Option<(usize, u16)>;

/// A kit in numbers: hosts of the sockets, and for each variant and socket the choices.
#[derive(Clone, Debug)]
struct Small {
    parts: usize,
    hosts: Vec<usize>,
    cells: Vec<Vec<Vec<Filled>>>,
}

fn small() -> impl Strategy<Value = Small> {
    (2usize..6, 1usize..5, 1usize..4).prop_flat_map(|(parts, sockets, variants)| {
        let filled = prop_oneof![
            1 => Just(None),
            3 => (1..parts, prop_oneof![Just(0u16), Just(180)]).prop_map(Some)
        ];
        let cell = prop::collection::vec(filled, 1..3);
        let hosts = prop::collection::vec(prop_oneof![3 => Just(0), 2 => 0..parts], sockets);
        let cells = prop::collection::vec(prop::collection::vec(cell, sockets), variants);
        (hosts, cells).prop_map(move |(hosts, cells)| Small {
            parts,
            hosts,
            cells,
        })
    })
}

fn part_id(p: usize) -> PartId {
    PartId::new(format!("p{p}"))
}

fn plan(small: &Small) -> Option<Plan> {
    let mut plan = Plan::empty("random");
    plan.base = part_id(0);
    plan.parts = (0..small.parts)
        .map(|p| Part::plain(part_id(p), format!("P{p}")))
        .collect();
    plan.sockets = (0..small.hosts.len())
        .map(|s| {
            Socket::plain(
                SocketId::new(format!("s{s}")),
                format!("S{s}"),
                part_id(small.hosts[s]),
            )
        })
        .collect();
    for (v, row) in small.cells.iter().enumerate() {
        let cells = row.iter().enumerate().map(|(s, choices)| Cell {
            socket: SocketId::new(format!("s{s}")),
            seats: choices
                .iter()
                .flatten()
                .map(|(p, turn)| {
                    let mut seat = Seat::straight(part_id(*p));
                    seat.pose.turn_deg = f64::from(*turn);
                    seat
                })
                .collect(),
            may_be_empty: choices.contains(&None),
        });
        plan.variants.push(Variant {
            id: VariantId::new(format!("v{v}")),
            name: format!("V{v}"),
            cells: cells.collect(),
        });
    }
    CheckedPlan::of(plan.clone()).is_ok().then_some(plan)
}

/// Every legal model of a variant, by the definition: each part at most once, a socket filled only if its host hangs on
/// the base through filled sockets, and a socket whose host is there filled as the cell allows.
fn brute(small: &Small, variant: usize) -> BTreeSet<Vec<Filled>> {
    let mut all: Vec<Vec<Filled>> = vec![Vec::new()];
    for s in 0..small.hosts.len() {
        let mut choices = small.cells[variant][s].clone();
        choices.push(None);
        all = all
            .iter()
            .flat_map(|m| {
                choices
                    .iter()
                    .map(|c| [m.as_slice(), &[*c]].concat())
                    .collect::<Vec<_>>()
            })
            .collect();
    }
    all.into_iter()
        .filter(|m| legal(small, variant, m))
        .collect()
}

fn legal(small: &Small, variant: usize, model: &[Filled]) -> bool {
    let mut there = BTreeSet::from([0]);
    loop {
        let more: Vec<usize> = model
            .iter()
            .enumerate()
            .filter(|(s, _)| there.contains(&small.hosts[*s]))
            .filter_map(|(_, f)| f.map(|(p, _)| p))
            .filter(|p| !there.contains(p))
            .collect();
        if more.is_empty() {
            break;
        }
        there.extend(more);
    }
    let parts: Vec<usize> = model.iter().flatten().map(|(p, _)| *p).collect();
    let once = parts.iter().collect::<BTreeSet<_>>().len() == parts.len();
    let tree = model.iter().enumerate().all(|(s, f)| {
        if there.contains(&small.hosts[s]) {
            small.cells[variant][s].contains(f)
        } else {
            f.is_none()
        }
    });
    once && tree
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn counts_and_lists_are_the_definition(small in small()) {
        let Some(plan) = plan(&small) else { return Ok(()) };
        let board = Board::of(CheckedPlan::of(plan.clone()).unwrap());
        let mut union = BTreeSet::new();
        for v in 0..small.cells.len() {
            let all = brute(&small, v);
            prop_assert_eq!(board.model_count_of(VariantIx::new(v)), Some(all.len() as u128));
            let (listed, complete) = models(&board, VariantIx::new(v), 100_000);
            prop_assert!(complete);
            let listed: BTreeSet<Vec<Filled>> = listed
                .iter()
                .map(|m| {
                    let filled = |j: JointIx| (board.joints[j].part.get(), board.joints[j].pose.turn_deg as u16);
                    m.joints.values().iter().map(|j| j.map(filled)).collect()
                })
                .collect();
            prop_assert_eq!(&listed, &all);
            union.extend(all);
        }
        prop_assert_eq!(board.model_count(), Some(union.len() as u128));
    }

    #[test]
    fn glue_is_the_definition(small in small()) {
        let Some(plan) = plan(&small) else { return Ok(()) };
        let board = Board::of(CheckedPlan::of(plan.clone()).unwrap());
        let answer = glue_answer(&board);
        let all: Vec<_> = (0..small.cells.len()).flat_map(|v| brute(&small, v)).collect();
        for (j, joint) in JointIx::each(&board.joints) {
            let (part, socket) = (joint.part.get(), joint.socket.get());
            let here = Some((part, joint.pose.turn_deg as u16));
            let has = |m: &Vec<Filled>, part: usize| part == 0 || m.iter().flatten().any(|(p, _)| *p == part);
            let may_glue = all.iter().all(|m| {
                m[socket] == here || !(has(m, part) || has(m, small.hosts[socket]))
            });
            prop_assert_eq!(answer.separable[j].is_none(), may_glue, "{:?}", joint);
        }
    }

    #[test]
    fn changes_lead_from_one_model_to_the_other(small in small()) {
        use lodewright_assembly::SwapStep;
        let Some(plan) = plan(&small) else { return Ok(()) };
        let board = Board::of(CheckedPlan::of(plan.clone()).unwrap());
        let all: Vec<_> = (0..small.cells.len()).filter_map(|v| first_model(&board, VariantIx::new(v))).collect();
        for (from, to) in all.iter().flat_map(|a| all.iter().map(move |b| (a, b))) {
            let mut now = from.clone();
            for step in changes(&board, from, to) {
                match step {
                    SwapStep::Off { joint, .. } => now.joints[board.joints[joint].socket] = None,
                    SwapStep::On { joint } => {
                        let j = board.joints[joint];
                        prop_assert!(now.joints[j.socket].is_none(), "the socket is free by then");
                        now.joints[j.socket] = Some(joint);
                    }
                }
            }
            prop_assert_eq!(&now, to);
        }
    }
}

#[test]
fn independent_options_multiply_without_being_listed() {
    // 30 sockets with three choices and nothing: 4^30 models, far too many to list.
    let mut small = Small {
        parts: 1,
        hosts: vec![0; 30],
        cells: vec![Vec::new()],
    };
    for _ in 0..30 {
        let first = small.parts;
        small.parts += 3;
        small.cells[0].push(vec![
            Some((first, 0)),
            Some((first + 1, 0)),
            Some((first + 2, 0)),
            None,
        ]);
    }
    let plan = plan(&small).unwrap();
    let board = Board::of(CheckedPlan::of(plan.clone()).unwrap());
    assert_eq!(board.model_count(), Some(4u128.pow(30)));
    assert!(
        glue_answer(&board)
            .separable
            .values()
            .iter()
            .all(Option::is_some)
    );
}
