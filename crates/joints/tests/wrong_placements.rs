//! Wrong placements on small plans whose answers can be worked out by hand, and against every choice of poles.

use core::cmp::Reverse;

use lodewright_field::{Magnet, force};
use lodewright_joints::{
    Context, End, FELT_N, FaceIx, Feel, Filling, Fillings, HoleIx, Mate, PoleProposal, Stays,
    WrongPlacement, disc, gap_at, gap_stack, poles, possible_placements, propose_poles,
};
use lodewright_kit::{
    Fit, Ix, Part, PartIx, Patch, PegKind, Plan, PlugIx, Pole, Pose, SocketIx, Table,
};
use proptest::prelude::*;

use crate::support::{self, Settled, context, site};

/// A plan of parts of 3 g.
fn plan(grid: &str, change: impl FnOnce(&mut Plan)) -> Plan {
    support::plan(grid, 3.0, change)
}

fn with<T>(
    plan: &Plan,
    look: impl FnOnce(&Context, &Fillings, &Table<HoleIx, Option<Pole>>) -> T,
) -> T {
    let all = Settled::of(plan);
    look(&all.context, &all.sizes.fillings, &all.poles.poles)
}

fn proof(plan: &Plan) -> PoleProposal {
    with(plan, propose_poles)
}

/// Makes the edits, and checks that they give just the poles promised.
fn taken(plan: &Plan, found: &PoleProposal) -> PoleProposal {
    let after = found
        .edits
        .iter()
        .fold(plan.clone(), |plan, edit| plan.edited(edit).unwrap());
    with(&after, |context, fillings, poles| {
        assert_eq!(*poles, found.poles);
        propose_poles(context, fillings, poles)
    })
}

/// The wrong placements of a part in a socket, by their names.
fn of<'m>(
    plan: &'m Plan,
    found: &'m PoleProposal,
    part: &'m str,
    socket: &'m str,
) -> impl Iterator<Item = &'m WrongPlacement> {
    found.mistakes.iter().filter(move |m| {
        plan.parts[m.joint.part].name == part && plan.sockets[m.joint.socket].name == socket
    })
}

/// Two sockets alike, each with a tool of its own: N out on both lets the tools change places, N and S do not.
#[test]
fn a_tool_in_the_other_socket_is_made_to_push_off() {
    let plan = plan("\tA\tB\nNose\tPlough\tHook\nTail\tLamp\tReel\n", |_| {});
    let found = proof(&plan);
    let other = |m: &&WrongPlacement| !m.own_socket;
    assert_eq!(found.mistakes.iter().filter(other).count(), 4);
    assert!(
        found
            .mistakes
            .iter()
            .filter(other)
            .all(|m| m.now() == Feel::Attracts)
    );
    assert!(
        found
            .mistakes
            .iter()
            .filter(other)
            .all(|m| m.after() == Feel::Repels)
    );
    // One magnet in the middle, turned round, meets the same pole.
    let turned: Vec<_> = found.mistakes.iter().filter(|m| m.own_socket).collect();
    assert_eq!(turned.len(), 4);
    for m in turned {
        assert!(!m.can_repel && m.after() == Feel::Attracts && m.poses.len() == 3);
        assert_eq!(m.why, Some(Stays::OneMagnet));
    }
    assert_eq!(
        (
            found.free_families,
            found.changed_families,
            found.edits.len()
        ),
        (2, 1, 1)
    );
    assert!(found.proven);
    let again = taken(&plan, &found);
    assert_eq!(again.count(Feel::Repels), [4, 4]);
    assert_eq!((again.changed_families, again.edits.len()), (0, 0));
}

/// Two pairs of one joint are free of one another where nothing ties them: N and S beside one another keep a part from
/// going on the wrong way round.
#[test]
fn two_pairs_of_one_joint_make_a_pattern() {
    let two = |plan: &mut Plan| {
        let socket = &mut plan.sockets[0];
        socket.patch = Patch::Rectangle {
            width_mm: 30.0,
            height_mm: 10.0,
        };
        socket.sites = vec![site("a", [10.0, 0.0]), site("b", [-10.0, 0.0])];
        for part in &mut plan.parts[1..] {
            part.size_mm = [30.0, 10.0, 20.0];
        }
    };
    let found = proof(&plan("\tA\tB\nRoof\tFrame\tHatch\n", two));
    assert_eq!(
        found.mistakes.len(),
        2,
        "each turned by 180 degrees: {:?}",
        found.mistakes
    );
    assert_eq!(found.count(Feel::Attracts), [2, 0]);
    assert_eq!(found.count(Feel::Repels), [0, 2]);
    // Used both ways round, the part ties the two together, and turned it is no mistake any more.
    let both = plan("\tA\tB\nRoof\tFrame\tFrame 180°\n", two);
    assert!(proof(&both).mistakes.is_empty());
}

/// The net force of one placement is the exact force between the two discs, read off the field crate directly.
#[test]
fn the_net_force_is_that_of_the_discs() {
    let plan = plan("\tA\tB\nNose\tPlough\tHook\nTail\tLamp\tReel\n", |plan| {
        plan.sockets[1].sites[0].at_mm = [0.8, 1.5];
    });
    with(&plan, |context, fillings, poles| {
        let found = propose_poles(context, fillings, poles);
        let m = of(&plan, &found, "Plough", "Tail").next().unwrap();
        let [a, b] = m.pairs[0];
        let face = |h: HoleIx| FaceIx::find(&context.holes.faces, |f| f.hole == h).unwrap();
        let mate = Mate {
            socket_face: face(a),
            plug_face: face(b),
            from_behind: false,
            at_mm: [0.0; 2],
            offset_mm: 1.7,
        };
        let gap_mm = gap_at(
            &plan,
            gap_stack(&plan, &context.holes, &mate, fillings).gap_mm,
            End::Strong,
        );
        let discs = [a, b].map(|h| match fillings[h] {
            Filling::Magnet(i) => disc(&plan, &plan.stock.magnets[i], End::Strong).unwrap(),
            _ => unreachable!("both are magnets"),
        });
        // The discs lie under their plating.
        let plating_mm = 2.0 * plan.settings.magnet_make.thinnest_plating_um / 1000.0;
        let apart_mm = gap_mm + plating_mm + (discs[0].height_mm + discs[1].height_mm) / 2.0;
        let pose = lodewright_field::Pose::shifted([1.7, 0.0, apart_mm]).unwrap();
        let exact = force(&Magnet::from(discs[0]), &Magnet::from(discs[1]), &pose).unwrap();
        assert!(
            (m.now_n + exact.force_n[2]).abs() < 2e-6,
            "{} {:?}",
            m.now_n,
            exact
        );
    });
}

#[test]
fn pegs_outlines_and_thickness_say_what_a_hand_could_try() {
    let asked = |change: &dyn Fn(&mut Plan)| {
        let plan = plan("\tA\tB\nNose\tPlough\tHook\nTail\tLamp\tReel\n", |p| {
            change(p)
        });
        let (board, part, plug) = (context(&plan).board, PartIx::new(1), PlugIx::new(0));
        [0, 1].map(|socket| possible_placements(&board, part, plug, SocketIx::new(socket)).len())
    };
    assert_eq!(asked(&|_| {}), [4, 4]);
    let peg = |kind: PegKind, sockets: usize| {
        move |plan: &mut Plan| {
            for s in plan.sockets.iter_mut().take(sockets) {
                s.peg.kind = kind;
            }
        }
    };
    assert_eq!(asked(&peg(PegKind::Keyed, 2)), [1, 1]);
    assert_eq!(asked(&peg(PegKind::Two, 2)), [2, 2]);
    assert_eq!(asked(&peg(PegKind::Round, 2)), [4, 4]);
    // Its peg stands proud of a socket without a hole; cut off, it does not.
    assert_eq!(asked(&peg(PegKind::Round, 1)), [4, 0]);
    let cut = |plan: &mut Plan| {
        peg(PegKind::Round, 1)(plan);
        plan.parts[1].plugs[0].keeps_peg = false;
    };
    assert_eq!(asked(&cut), [4, 4]);
    // 30 by 12 turned across itself touches with 144 of 360 mm2; on a patch of 12 by 12 with all of the smaller one.
    let long = |plan: &mut Plan| {
        plan.sockets[0].patch = Patch::Rectangle {
            width_mm: 30.0,
            height_mm: 12.0,
        };
    };
    assert_eq!(asked(&long), [2, 4]);
    let thick = |plan: &mut Plan| plan.parts[1].plugs[0].thickness_mm = Some(2.0);
    assert_eq!(asked(&thick), [8, 8]);
    // A part is not put on itself.
    let own = |plan: &mut Plan| plan.sockets[1].host = "plough".into();
    assert_eq!(asked(&own)[1], 0);
}

#[test]
fn glued_magnets_and_fixed_poles_stay() {
    let grid = "\tA\tB\nNose\tPlough\tHook\nTail\tLamp\tReel\n";
    let fixed = plan(grid, |plan| {
        plan.progress.done = vec!["glue:base:nose/a".into()];
        plan.sockets[1].sites[0].pole = Some(Pole::N);
    });
    let found = proof(&fixed);
    assert_eq!((found.free_families, found.edits.len()), (0, 0));
    let one = plan(grid, |plan| {
        plan.progress.done = vec!["glue:base:nose/a".into()]
    });
    let found = proof(&one);
    assert_eq!((found.free_families, found.changed_families), (1, 1));
    taken(&one, &found);
}

/// Steel draws in whatever the poles, and the answer says so.
#[test]
fn steel_cannot_push_off() {
    let plan = plan("\tA\tB\nNose\tPlough\tHook\nTail\tLamp\tReel\n", |plan| {
        plan.sockets[1].sites[0].fit = Fit::Steel(plan.stock.steel[0].id.clone());
    });
    let found = proof(&plan);
    let mut on_steel = of(&plan, &found, "Plough", "Tail").peekable();
    assert!(on_steel.peek().is_some());
    for m in on_steel {
        assert!(!m.can_repel && m.why == Some(Stays::Steel));
    }
}

fn random() -> impl Strategy<Value = Plan> {
    let place = (-4..5_i32, -4..5_i32);
    (
        prop::collection::vec(prop::collection::vec(0..7_usize, 2), 2..5),
        prop::collection::vec(prop::collection::vec(place, 1..4), 4),
        prop::collection::vec(any::<bool>(), 6),
        prop::option::of(0..4_usize),
    )
        .prop_map(|(cells, places, thick, wish)| {
            let names = ["Ladder", "Hose", "Reel", "Lamp", "Hook", "Crate", "-"];
            let mut grid = "\tA\tB\n".to_owned();
            for (s, row) in cells.iter().enumerate() {
                let words: Vec<&str> = row.iter().map(|c| names[*c]).collect();
                grid.push_str(&format!("Face {s}\t{}\n", words.join("\t")));
            }
            plan(&grid, |plan| {
                for (s, socket) in plan.sockets.iter_mut().enumerate() {
                    let sites = places[s].iter().enumerate().map(|(i, (x, y))| {
                        site(["a", "b", "c"][i], [f64::from(*x), f64::from(*y)])
                    });
                    socket.sites = sites.collect();
                    if wish == Some(s) {
                        socket.sites[0].pole = Some(Pole::S);
                    }
                }
                for (part, thick) in plan.parts.iter_mut().skip(1).zip(thick) {
                    part.plugs[0].thickness_mm = thick.then_some(3.0);
                }
            })
        })
}

/// Families of magnets by an own union over the matings; those with a wished pole or a contradiction left out.
fn families(context: &Context, fillings: &Fillings) -> Vec<Vec<HoleIx>> {
    let magnet = |h: HoleIx| matches!(fillings[h], Filling::Magnet(_));
    let all = || HoleIx::all(&context.holes.holes);
    let mut of = Table::of(&context.holes.holes, |h: HoleIx, _| h);
    for mate in context.mates.values().iter().flatten() {
        let [a, b] = mate.holes(&context.holes);
        if magnet(a) && magnet(b) {
            let (from, to) = (of[a], of[b]);
            for hole in all().filter(|h| of[*h] == from).collect::<Vec<_>>() {
                of[hole] = to;
            }
        }
    }
    let families = all().map(|f| all().filter(|h| of[*h] == f && magnet(*h)).collect());
    let free = |f: &Vec<HoleIx>| {
        !f.is_empty() && f.iter().all(|h| context.holes.holes[*h].pinned.is_none())
    };
    families.filter(free).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// No choice of poles makes more mistakes push off, or as many with less force in those that draw in; and the edits
    /// give what was promised.
    #[test]
    fn no_choice_of_poles_is_better(plan in random()) {
        with(&plan, |context, fillings, now| {
            let contradicts = !poles(&context.holes, &context.mates, fillings).contradictions.is_empty();
            let found = propose_poles(context, fillings, now);
            let score = |m: &PoleProposal, after: bool| {
                let force = |x: &WrongPlacement| if after { x.after_n } else { x.now_n };
                let repel = m.mistakes.iter().filter(|x| force(x) <= -FELT_N).count();
                let draw: i64 = m.mistakes.iter().map(force).filter(|f| *f >= FELT_N).map(|f| (f * 1e6).round() as i64).sum();
                (repel, Reverse(draw))
            };
            let promised = score(&found, true);
            assert!(found.proven);
            let free = families(context, fillings);
            if contradicts || free.len() > 12 {
                return;
            }
            assert_eq!(found.free_families, free.len());
            for bits in 0..1_u32 << free.len() {
                let mut other = now.clone();
                for (_, family) in free.iter().enumerate().filter(|(i, _)| bits >> i & 1 == 1) {
                    family.iter().for_each(|h| other[*h] = other[*h].map(Pole::other));
                }
                assert!(score(&propose_poles(context, fillings, &other), false) <= promised);
            }
        });
        let found = proof(&plan);
        let again = taken(&plan, &found);
        prop_assert_eq!(again.count(Feel::Repels)[0], found.count(Feel::Repels)[1]);
    }
}

#[test]
fn poses_of_nothing_are_none() {
    let plan = plan("\tA\nNose\tPlough\n", |plan| {
        plan.parts
            .push(Part::plain("idle".into(), "Idle".to_owned()));
    });
    let (idle, plug, socket) = (PartIx::new(2), PlugIx::new(0), SocketIx::new(0));
    assert_eq!(
        possible_placements(&context(&plan).board, idle, plug, socket),
        Vec::<Pose>::new()
    );
}
