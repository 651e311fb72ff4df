//! Counts and glue answers against brute force: every way to fill every socket is written down and judged by the
//! definition alone.

#![allow(clippy::unwrap_used, reason = "helpers of tests")]

use std::collections::BTreeSet;

use lodewright_assembly::{
    Apart, Bars, BigUint, Board, JointIx, changes, first_model, glue_answer, models,
};
use lodewright_kit::{
    Cell, CheckedPlan, Ix, KeptApart, Part, PartId, PartIx, Plan, Seat, Section, Socket, SocketId,
    ThinSection, Variant, VariantId, VariantIx,
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

/// Kits with few parts for their sockets, so that most parts fit several; with more `nesting` more sockets are on parts
/// that come and go.
fn small() -> impl Strategy<Value = Small> {
    (2usize..7, 1usize..6, 1usize..4, 1u32..9).prop_flat_map(
        |(parts, sockets, variants, nesting)| {
            let filled = prop_oneof![
                1 => Just(None),
                3 => (1..parts, prop_oneof![Just(0u16), Just(180)]).prop_map(Some)
            ];
            let cell = prop::collection::vec(filled, 1..4);
            let hosts =
                prop::collection::vec(prop_oneof![3 => Just(0), nesting => 0..parts], sockets);
            let cells = prop::collection::vec(prop::collection::vec(cell, sockets), variants);
            (hosts, cells).prop_map(move |(hosts, mut cells)| {
                // No part sits on itself: the plan would be refused.
                for (s, cell) in cells
                    .iter_mut()
                    .flat_map(|row: &mut Vec<Vec<Filled>>| row.iter_mut().enumerate())
                {
                    for filled in cell
                        .iter_mut()
                        .filter(|f| f.is_some_and(|(p, _)| p == hosts[s]))
                    {
                        *filled = None;
                    }
                }
                Small {
                    parts,
                    hosts,
                    cells,
                }
            })
        },
    )
}

fn part_id(p: usize) -> PartId {
    PartId::new(format!("p{p}"))
}

fn board(small: &Small) -> Board {
    Board::of(CheckedPlan::of(plan(small)).unwrap())
}

fn plan(small: &Small) -> Plan {
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
    plan
}

/// The plan with some sockets marked, and some parts that must let go.
fn marked(small: &Small, kept: &[Option<KeptApart>], thin: &[bool]) -> Board {
    let mut plan = plan(small);
    for (socket, kept) in plan.sockets.iter_mut().zip(kept) {
        socket.kept_apart = *kept;
    }
    for (part, _) in plan.parts.iter_mut().zip(thin).filter(|(_, is)| **is) {
        part.thin = Some(ThinSection {
            length_mm: 20.0,
            section: Section::Round { diameter_mm: 1.0 },
            reach_mm: 22.0,
            notch_factor: 1.5,
        });
    }
    Board::of(CheckedPlan::of(plan).unwrap())
}

fn kept_apart() -> impl Strategy<Value = Option<KeptApart>> {
    prop_oneof![
        3 => Just(None),
        1 => Just(Some(KeptApart::Painted)),
        1 => Just(Some(KeptApart::Packed)),
        1 => Just(Some(KeptApart::Wanted)),
    ]
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
        let board = board(&small);
        let counts = board.model_counts();
        let mut union = BTreeSet::new();
        for v in 0..small.cells.len() {
            let all = brute(&small, v);
            prop_assert_eq!(&counts.of[VariantIx::new(v)], &Some(BigUint::from(all.len())));
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
        prop_assert_eq!(counts.all, Some(BigUint::from(union.len())));
    }

    #[test]
    fn glue_is_the_definition(
        small in small(),
        kept in prop::collection::vec(kept_apart(), 6),
        thin in prop::collection::vec(prop::bool::weighted(0.2), 7),
    ) {
        let board = marked(&small, &kept, &thin);
        for (j, joint) in JointIx::each(&board.joints) {
            prop_assert_eq!(board.find(joint), Some(j));
            let mut other = *joint;
            other.pose.turn_deg = 90.0;
            prop_assert_eq!(board.find(&other), None);
        }
        let answer = glue_answer(&board);
        let all: Vec<_> = (0..small.cells.len()).flat_map(|v| brute(&small, v)).collect();
        for (j, joint) in JointIx::each(&board.joints) {
            let (part, socket) = (joint.part.get(), joint.socket);
            let here = Some((part, joint.pose.turn_deg as u16));
            let has = |m: &Vec<Filled>, part: usize| part == 0 || m.iter().flatten().any(|(p, _)| *p == part);
            let may_glue = all.iter().all(|m| {
                m[socket.get()] == here || !(has(m, part) || has(m, small.hosts[socket.get()]))
            });
            let on_purpose = if thin[part] { Some(KeptApart::LetsGo) } else { kept[socket.get()] };
            let is_glued = may_glue && on_purpose.is_none();
            let together = answer.groups.iter().any(|g| g.contains(&joint.part) && g.contains(&board.host(joint.socket)));
            prop_assert!(together || !is_glued);
            match answer.separable[j] {
                None => prop_assert!(is_glued, "{:?}", joint),
                Some(Apart::OnPurpose(why)) => {
                    prop_assert!(may_glue, "{:?}", joint);
                    prop_assert_eq!(Some(why), on_purpose);
                }
                // The variant that is told shows what is told of it.
                Some(Apart::Lone(lone)) => {
                    prop_assert!(!may_glue, "{:?}", joint);
                    let models = brute(&small, lone.variant.get());
                    prop_assert!(models.iter().any(|m| m[socket.get()] != here && has(m, lone.part.get())));
                }
                Some(Apart::Unsure) => prop_assert!(false, "{:?}", joint),
            }
        }
        let glued = answer.separable.values().iter().filter(|why| why.is_none()).count();
        prop_assert!(answer.groups.len() <= glued);
        let idle = PartIx::all(&board.plan.parts).filter(|p| p.get() != 0 && board.joints.iter().all(|j| j.part != *p));
        prop_assert_eq!(answer.idle, idle.collect::<Vec<_>>());
    }

    #[test]
    fn changes_lead_from_one_model_to_the_other(small in small()) {
        use lodewright_assembly::SwapStep;
        let board = board(&small);
        let all: Vec<_> = (0..small.cells.len()).filter_map(|v| first_model(&board, VariantIx::new(v))).collect();
        for (from, to) in all.iter().flat_map(|a| all.iter().map(move |b| (a, b))) {
            let mut now = from.clone();
            let mut off = Vec::new();
            for step in changes(&board, &Bars::default(), from, to).steps {
                match step {
                    SwapStep::Off { joint, .. } => {
                        let j = board.joints[joint];
                        prop_assert!(off.iter().all(|p| !from.outboard(&board, *p).contains(&j.part)), "outermost first");
                        off.push(j.part);
                        now.joints[j.socket] = None;
                    }
                    SwapStep::On { joint } => {
                        let j = board.joints[joint];
                        prop_assert!(now.joints[j.socket].is_none(), "the socket is free by then");
                        prop_assert!(now.has(&board, board.host(j.socket)), "its host is there by then");
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
    let board = board(&small);
    assert_eq!(board.model_counts().all, Some(BigUint::from(4u8).pow(30)));
    assert!(
        glue_answer(&board)
            .separable
            .values()
            .iter()
            .all(Option::is_some)
    );
}

#[test]
fn a_walk_sees_dead_ends_from_afar() {
    // The last two of twelve sockets take nothing but the two parts that come first everywhere else.
    let all: Vec<Filled> = (1..13).map(|p| Some((p, 0))).collect();
    let mut row = vec![all.clone(); 10];
    row.extend([all[..2].to_vec(), all[..2].to_vec()]);
    let board = board(&Small {
        parts: 13,
        hosts: vec![0; 12],
        cells: vec![row],
    });
    let first = first_model(&board, VariantIx::new(0)).unwrap();
    let parts: Vec<_> = first.made().map(|j| board.joints[j].part.get()).collect();
    assert_eq!(parts, [3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 1, 2]);
    // 2 x 10! models: a walk through all of them is given up.
    let (listed, all) = models(&board, VariantIx::new(0), 500_000);
    assert!(!all && listed.len() < 200_000);
}
