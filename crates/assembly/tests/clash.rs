//! Parts against parts: every pair of every legal model, by the definition alone, against the answer by seats; and the order of
//! handlings where one part stands in the way of another.

#![allow(clippy::unwrap_used, reason = "helpers of tests")]

use std::collections::BTreeSet;

use lodewright_assembly::{
    Bars, Board, Clashes, JointIx, Model, SwapStep, changes, clashes, first_model, models,
    placement,
};
use lodewright_body::Standing;
use lodewright_kit::{
    Cell, CheckedPlan, Facing, Inside, Ix, Part, PartId, PartIx, Plan, Seat, Socket, SocketId,
    Variant, VariantId, VariantIx,
};
use proptest::prelude::*;

/// Blocks on a base of 60 by 40 by 10 mm.
#[derive(Clone, Debug)]
struct Kit {
    /// Sizes of the parts, mm.
    parts: Vec<[u8; 3]>,
    /// Host, side and place of each socket.
    sockets: Vec<(usize, bool, [i8; 2])>,
    /// By variant and socket: the parts to choose from; 0 is nothing.
    cells: Vec<Vec<Vec<usize>>>,
}

fn kit() -> impl Strategy<Value = Kit> {
    (2usize..5, 2usize..5, 1usize..3).prop_flat_map(|(parts, sockets, variants)| {
        let cell = prop::collection::vec(0..=parts, 1..3);
        (
            prop::collection::vec([3u8..16, 3..16, 3..16], parts),
            prop::collection::vec(
                (
                    prop_oneof![3 => Just(0), 1 => 1..=parts],
                    any::<bool>(),
                    [-20i8..20, -12..12],
                ),
                sockets,
            ),
            prop::collection::vec(prop::collection::vec(cell, sockets), variants),
        )
            .prop_map(|(parts, sockets, cells)| Kit {
                parts,
                sockets,
                cells,
            })
    })
}

fn id(part: usize) -> PartId {
    PartId::new(format!("p{part}"))
}

fn plan(kit: &Kit) -> Plan {
    let mut plan = Plan::empty("random");
    plan.base = id(0);
    plan.parts = (0..=kit.parts.len())
        .map(|p| {
            let mut part = Part::plain(id(p), format!("P{p}"));
            part.size_mm = match p {
                0 => [60.0, 40.0, 10.0],
                _ => kit.parts[p - 1].map(f64::from),
            };
            part.inside = Inside::Solid;
            part
        })
        .collect();
    let host_size = |host: usize| plan.parts[PartIx::new(host)].size_mm;
    plan.sockets = kit
        .sockets
        .iter()
        .enumerate()
        .map(|(s, (host, side, at))| {
            let mut socket =
                Socket::plain(SocketId::new(format!("s{s}")), format!("S{s}"), id(*host));
            let [x, y] = at.map(f64::from);
            let [_, wide, high] = host_size(*host);
            let up = !side;
            socket.facing = if up { Facing::Up } else { Facing::Left };
            socket.at_mm = Some(if up {
                [x, y, high / 2.0]
            } else {
                [x, wide / 2.0, y / 4.0]
            });
            socket
        })
        .collect();
    plan.variants = kit
        .cells
        .iter()
        .enumerate()
        .map(|(v, row)| {
            let cells = row.iter().enumerate().map(|(s, parts)| Cell {
                socket: SocketId::new(format!("s{s}")),
                seats: parts
                    .iter()
                    .filter(|p| **p != 0 && **p != kit.sockets[s].0)
                    .map(|p| Seat::straight(id(*p)))
                    .collect(),
                may_be_empty: parts.contains(&0),
            });
            Variant {
                id: VariantId::new(format!("v{v}")),
                name: format!("V{v}"),
                cells: cells.collect(),
            }
        })
        .collect();
    plan
}

fn board(plan: &Plan) -> Board {
    Board::of(CheckedPlan::of(plan.clone()).unwrap())
}

/// Part, the joint it sits by, the other part, the joint it sits by, the variant.
type Pair = (PartIx, Option<JointIx>, PartIx, Option<JointIx>, VariantIx);

/// Every pair of every model that shares space, and every pair of which one is in the other's way.
fn by_models(board: &Board) -> (BTreeSet<Pair>, BTreeSet<Pair>) {
    let (mut overlaps, mut bars) = (BTreeSet::new(), BTreeSet::new());
    let tolerance_mm = board.plan.settings.overlap_tolerance_mm;
    for variant in VariantIx::all(&board.plan.variants) {
        for model in models(board, variant, 5_000).0 {
            let stands = placement(board, &model);
            let there: Vec<_> = PartIx::all(&board.plan.parts)
                .filter_map(|p| {
                    let frame = stands.parts[p]?;
                    Some((
                        p,
                        model.joint_of_part(board, p),
                        Standing::new(board.body(p), frame),
                    ))
                })
                .collect();
            for (a, ja, sa) in &there {
                for (b, jb, sb) in &there {
                    let clash = sa.overlap_mm(sb) > tolerance_mm;
                    if a < b && clash {
                        overlaps.insert((*a, *ja, *b, *jb, variant));
                    }
                    let Some(joint) = ja else { continue };
                    let socket = board.joints[*joint].socket;
                    let is_host = board.host(socket) == *b;
                    let with_it = model.outboard(board, *a).contains(b);
                    let under = model.outboard(board, *b).contains(a);
                    if is_host || with_it || under || *b == board.base() || clash {
                        continue;
                    }
                    let out = stands.socket(board, socket).unwrap().axes[2];
                    if sa.swept(out, 1_000.0).overlap_mm(sb) > tolerance_mm {
                        bars.insert((*a, *ja, *b, *jb, variant));
                    }
                }
            }
        }
    }
    (overlaps, bars)
}

fn told(found: &Clashes) -> BTreeSet<Pair> {
    let pairs = found.overlaps.iter().flat_map(|c| {
        let [a, b] = [0, 1].map(|n| (c.parts[n], c.by[n].last().copied()));
        let (a, b) = if a.0 < b.0 { (a, b) } else { (b, a) };
        c.variants.iter().map(move |v| (a.0, a.1, b.0, b.1, *v))
    });
    pairs.collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn the_answer_by_seats_is_that_of_all_models(kit in kit()) {
        let board = board(&plan(&kit));
        let found = clashes(&board);
        prop_assert!(found.is_whole);
        let (overlaps, bars) = by_models(&board);
        prop_assert_eq!(told(&found), overlaps);
        for variant in VariantIx::all(&board.plan.variants) {
            for model in models(&board, variant, 5_000).0 {
                let mut expected: Vec<[JointIx; 2]> = bars
                    .iter()
                    .filter_map(|(_, a, _, b, _)| Some([(*a)?, (*b)?]))
                    .filter(|pair| pair.iter().all(|j| model.made().any(|m| m == *j)))
                    .collect();
                expected.sort_unstable();
                expected.dedup();
                let mut in_model = found.bars.in_model(&board, &model);
                in_model.sort_unstable();
                in_model.dedup();
                prop_assert_eq!(in_model, expected);
            }
        }
    }

    #[test]
    fn handlings_go_round_what_is_in_the_way(kit in kit()) {
        let board = board(&plan(&kit));
        let found = clashes(&board);
        let all: Vec<_> = VariantIx::all(&board.plan.variants)
            .filter_map(|v| first_model(&board, v))
            .collect();
        for (from, to) in all.iter().flat_map(|a| all.iter().map(move |b| (a, b))) {
            let change = changes(&board, &found.bars, from, to);
            let plain = changes(&board, &Bars::default(), from, to);
            prop_assert!(plain.stuck.is_empty() && change.steps.len() >= plain.steps.len());
            if from == to {
                prop_assert!(change.steps.is_empty());
            }
            let end = carried_out(&board, &found.bars, from, &change.steps, change.stuck.is_empty())?;
            prop_assert_eq!(&end, to);
        }
    }
}

/// Carries handlings out; where `checked`, nothing moves through what is in its way.
fn carried_out(
    board: &Board,
    bars: &Bars,
    from: &Model,
    steps: &[SwapStep],
    checked: bool,
) -> Result<Model, TestCaseError> {
    let mut now = from.clone();
    let mut taken: Vec<JointIx> = Vec::new();
    for step in steps {
        let (joint, is_off) = match step {
            SwapStep::Off { joint, .. } => (*joint, true),
            SwapStep::On { joint } => (*joint, false),
        };
        let j = board.joints[joint];
        let mut there = now.clone();
        there.joints[j.socket] = Some(joint);
        // What hangs on a part in the hand is in nobody's way.
        for off in &taken {
            for part in from.outboard(board, board.joints[*off].part) {
                if let Some(on) = from.joint_of_part(board, part)
                    && now.joints[board.joints[on].socket] == Some(on)
                    && is_off
                {
                    there.joints[board.joints[on].socket] = None;
                }
            }
        }
        if checked {
            let barred = bars.in_model(board, &there);
            let moves = there.outboard(board, j.part);
            let behind = barred
                .iter()
                .filter(|[a, b]| *a == joint && !moves.contains(&board.joints[*b].part));
            prop_assert_eq!(behind.count(), 0, "{:?} {:?}", step, steps);
        }
        if is_off {
            taken.push(joint);
            now.joints[j.socket] = None;
        } else {
            prop_assert!(now.joints[j.socket].is_none());
            prop_assert!(now.has(board, board.host(j.socket)));
            now.joints[j.socket] = Some(joint);
        }
    }
    Ok(now)
}

/// A cab with a roof over the seat of a driver that sits in front of it: the driver goes in first.
fn tug(change: impl FnOnce(&mut Plan)) -> Board {
    let mut plan = Plan::empty("Tug");
    plan.parts[0].size_mm = [60.0, 40.0, 10.0];
    for (name, size_mm) in [
        ("driver", [6.0, 6.0, 12.0]),
        ("shield", [10.0, 10.0, 2.0]),
        ("bell", [4.0, 4.0, 4.0]),
    ] {
        let mut part = Part::plain(PartId::new(name), name.to_uppercase());
        part.size_mm = size_mm;
        part.inside = Inside::Solid;
        plan.parts.push(part);
    }
    let mut socket = |name: &str, facing, at_mm| {
        let mut socket = Socket::plain(SocketId::new(name), name.to_uppercase(), plan.base.clone());
        (socket.facing, socket.at_mm) = (facing, Some(at_mm));
        plan.sockets.push(socket);
    };
    socket("seat", Facing::Up, [0.0, 0.0, 5.0]);
    // A shield that sits on the front, reaching over the seat.
    socket("front", Facing::Up, [0.0, 0.0, 25.0]);
    let cell = |socket: &str, part: Option<&str>| Cell {
        socket: SocketId::new(socket),
        seats: part
            .map(|p| Seat::straight(PartId::new(p)))
            .into_iter()
            .collect(),
        may_be_empty: false,
    };
    for (name, seat) in [("manned", "driver"), ("museum", "bell")] {
        plan.variants.push(Variant {
            id: VariantId::new(name),
            name: name.to_uppercase(),
            cells: vec![cell("seat", Some(seat)), cell("front", Some("shield"))],
        });
    }
    change(&mut plan);
    board(&plan)
}

#[test]
fn what_stays_but_is_in_the_way_comes_off_and_goes_back() {
    let board = tug(|_| {});
    let found = clashes(&board);
    assert!(found.overlaps.is_empty() && found.barred.is_empty());
    let [a, b] = [0, 1].map(|v| first_model(&board, VariantIx::new(v)).unwrap());
    let steps = changes(&board, &found.bars, &a, &b).steps;
    let names: Vec<_> = steps
        .iter()
        .map(|s| match s {
            SwapStep::Off { joint, again } => (*joint, again.is_some(), "off"),
            SwapStep::On { joint } => (*joint, false, "on"),
        })
        .map(|(j, again, what)| {
            format!(
                "{what} {}{}",
                board.part(board.joints[j].part).id,
                if again { " again" } else { "" }
            )
        })
        .collect();
    assert_eq!(
        names,
        ["off shield again", "off driver", "on bell", "on shield"]
    );
}

#[test]
fn what_is_not_placed_is_not_judged() {
    let board = tug(|plan| {
        plan.sockets[1].at_mm = None;
        plan.sockets[0].at_mm = None;
    });
    assert_eq!(
        clashes(&board),
        Clashes {
            is_whole: true,
            ..Clashes::default()
        }
    );
}

#[test]
fn parts_that_share_space_are_told_with_how_deep() {
    // The shield 1.5 mm too low: the driver's head, 12 mm above the deck, is in it.
    let board = tug(|plan| plan.sockets[1].at_mm = Some([0.0, 0.0, 15.5]));
    let found = clashes(&board).overlaps;
    assert_eq!(found.len(), 1);
    assert!((found[0].deep_mm - 1.5).abs() < 1e-9);
    assert_eq!(found[0].variants, [VariantIx::new(0)]);
    // Within the tolerance of rough shapes nothing is told.
    let rough = tug(|plan| {
        plan.sockets[1].at_mm = Some([0.0, 0.0, 15.5]);
        plan.settings.overlap_tolerance_mm = 1.6;
    });
    assert!(clashes(&rough).overlaps.is_empty());
}

#[test]
fn what_sits_in_a_recess_is_meant_to() {
    let sunk = |at_z_mm: f64| {
        let board = tug(|plan| plan.sockets[0].at_mm = Some([0.0, 0.0, at_z_mm]));
        clashes(&board).overlaps.len()
    };
    // The seat 3 mm below the deck: a hole is cut for it.
    assert_eq!(sunk(2.0), 0);
    // Parts whose own foot lies higher than their lower end run into the deck.
    let board = tug(|plan| {
        plan.parts[1].plugs[0].at_mm = Some([0.0, 0.0, -4.0]);
    });
    let found = clashes(&board).overlaps;
    assert!(
        found.len() == 1 && (found[0].deep_mm - 2.0).abs() < 1e-9,
        "{found:?}"
    );
}

/// Four hundred sockets on one spot, each with parts of the most jagged outline that a plan may have.
#[test]
fn a_hostile_heap_is_not_looked_through() {
    let mut plan = Plan::empty("heap");
    plan.parts[0].size_mm = [60.0, 40.0, 10.0];
    let teeth = (0..62).map(|i| [f64::from(i), if i % 2 == 0 { 0.0 } else { 8.0 }]);
    let jagged = lodewright_kit::Drawn::Outline {
        seen_from: Facing::Up,
        points_mm: teeth.chain([[61.0, -5.0], [0.0, -5.0]]).collect(),
    };
    let mut cells = Vec::new();
    for n in 0..400 {
        let mut part = Part::plain(PartId::new(format!("p{n}")), format!("P{n}"));
        part.drawn = jagged.clone();
        let mut socket = Socket::plain(
            SocketId::new(format!("s{n}")),
            format!("S{n}"),
            plan.base.clone(),
        );
        socket.at_mm = Some([0.0, 0.0, 5.0]);
        cells.push(Cell {
            socket: socket.id.clone(),
            seats: vec![Seat::straight(part.id.clone())],
            may_be_empty: false,
        });
        plan.parts.push(part);
        plan.sockets.push(socket);
    }
    plan.variants.push(Variant {
        id: VariantId::new("v"),
        name: "V".to_owned(),
        cells,
    });
    let found = clashes(&board(&plan));
    assert!(!found.is_whole && !found.overlaps.is_empty());
}
