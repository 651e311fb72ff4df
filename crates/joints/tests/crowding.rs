//! Holes of one part that come near each other: seen by the judge and ruled out by the exact search.

use lodewright_joints::{
    Context, Fewest, Filling, Fillings, HoleIx, Misfit, Reason, poles, unintended_pairs,
};
use lodewright_kit::{Facing, Fit, Ix, MagnetIx, Plan, SteelIx, Stock};

use crate::support::{
    all, context, count, fewest_of, fit_magnet, joint_of, magnet, mast, one_joint, only, plan,
    plug_hole, plug_site, site, socket_hole, top,
};

/// The only magnet of the stock.
fn first() -> Filling {
    Filling::Magnet(MagnetIx::new(0))
}

/// What is left between a hole and another one, as the judge says it of a joint.
fn near_hole(context: &Context, fillings: &Fillings, hole: HoleIx) -> Option<(HoleIx, f64)> {
    let told = context.crowding(fillings, hole);
    Some(match told? {
        Misfit::NearHole { hole, left_mm } => (hole, left_mm),
        other => panic!("{other:?}"),
    })
}

/// Magnets of 5 by 2 mm that may lie as near as they like by their force.
fn careless(plan: &mut Plan) {
    plan.stock.magnets = vec![magnet(5.0, 2.0, 10)];
    plan.stock.steel.clear();
    let settings = &mut plan.settings;
    (settings.hold_target_g, settings.shake_g) = (0.01, 0.0);
    settings.stranger_limit_n = 1000.0;
}

/// Two sockets on the same face, each with a part of its own, so far apart; placed or not.
fn two_sockets(apart_mm: f64, placed: bool) -> Plan {
    let mut plan = plan("\tA\tB\nNose\tPlough\t-\nTail\tLamp\t-\n", 3.0, |plan| {
        careless(plan);
        plan.sockets[0].at_mm = Some([0.0, 0.0, 15.0]);
        plan.sockets[1].at_mm = Some([apart_mm, 0.0, 15.0]);
    });
    if !placed {
        for socket in &mut plan.sockets {
            socket.at_mm = None;
        }
    }
    plan
}

/// By hand: two holes of 5.1 mm side by side, their middles so far apart.
#[test]
fn holes_of_two_placed_sockets_need_a_wall_between_them() {
    let left = |apart_mm: f64| {
        let context = context(&two_sockets(apart_mm, true));
        let fillings = all(&context, first());
        let [nose, tail] = ["nose", "tail"].map(|s| socket_hole(&context, s, "a"));
        let (other, left_mm) = near_hole(&context, &fillings, nose)?;
        assert_eq!(
            (other, near_hole(&context, &fillings, tail)?.0),
            (tail, nose)
        );
        // The judge says so of both joints, and of nothing else.
        for (part, socket) in [("plough", "nose"), ("lamp", "tail")] {
            let joint = joint_of(&context, part, socket);
            let reasons = context
                .model(joint, &fillings, None)
                .unwrap()
                .judge()
                .reasons;
            assert!(
                matches!(
                    reasons[..],
                    [Reason::NoRoom {
                        misfit: Misfit::NearHole { .. },
                        ..
                    }]
                ),
                "{reasons:?}"
            );
        }
        Some(left_mm)
    };
    assert_eq!(left(0.0), Some(0.0));
    assert!((left(5.5).unwrap() - 0.4).abs() < 1e-6);
    assert_eq!(left(5.61), None);
    assert!(left(5.59).is_some());
}

/// As long as nobody has placed them, the two are somewhere: nothing is said of how they lie to each other.
#[test]
fn unplaced_sockets_are_not_compared() {
    let context = context(&two_sockets(0.0, false));
    let fillings = all(&context, first());
    let found = poles(&context.holes, &context.mates, &fillings).poles;
    assert_eq!(unintended_pairs(&context, &fillings, &found), []);
    for hole in HoleIx::all(&context.holes.holes) {
        assert_eq!(context.crowding(&fillings, hole), None);
    }
    let chosen = fewest_of(&context);
    assert!(chosen.proven && count(&chosen.fillings) == 4);
    // One of the two placed does not help.
    let mut one = two_sockets(0.0, false);
    one.sockets[0].at_mm = Some([0.0, 0.0, 15.0]);
    let context = crate::support::context(&one);
    let nose = socket_hole(&context, "nose", "a");
    assert_eq!(context.crowding(&fillings, nose), None);
    assert_eq!(unintended_pairs(&context, &fillings, &found), []);
    // Placed on one spot, both are said.
    let context = crate::support::context(&two_sockets(0.0, true));
    assert!(context.crowding(&fillings, nose).is_some());
    assert!(!unintended_pairs(&context, &fillings, &found).is_empty());
}

/// Within one socket it is known how its holes lie, wherever it is.
#[test]
fn two_holes_of_an_unplaced_socket_are_compared() {
    let with = |apart_mm: f64| {
        let mut plan = one_joint(|plan| {
            careless(plan);
            top(plan).sites = vec![site("a", [0.0; 2]), site("b", [apart_mm, 0.0])];
        });
        top(&mut plan).at_mm = None;
        let context = context(&plan);
        let fillings = all(&context, first());
        let [a, b] = ["a", "b"].map(|s| socket_hole(&context, "top", s));
        let told = near_hole(&context, &fillings, a);
        assert!(told.is_none_or(|(hole, _)| hole == b));
        told.is_some()
    };
    assert!(with(5.5) && !with(5.7));
}

/// By hand: two holes from opposite faces of a part, one above the other: 2.1 mm of each, their points, and what is left.
#[test]
fn holes_from_two_faces_meet_by_their_points() {
    const POINT_MM: f64 = 0.300_430_309_513_78 * 5.1;
    let left = |thick_mm: f64, flat: bool| {
        let plan = plan("\tA\tB\nTop\tMast\t-\nHead\tLamp\t-\n", 3.0, |plan| {
            careless(plan);
            plan.settings.flat_cutter = flat;
            plan.sockets[1].host = "mast".into();
            plan.parts[1].size_mm = [12.0, 12.0, thick_mm];
        });
        let context = context(&plan);
        let fillings = all(&context, first());
        let hole = plug_hole(&context, "mast", "1");
        near_hole(&context, &fillings, hole).map(|(_, left_mm)| left_mm)
    };
    let deep_mm = 2.0 * 2.1;
    assert!((left(deep_mm + 0.4, true).unwrap() - 0.4).abs() < 1e-6);
    assert_eq!(left(deep_mm + 0.51, true), None);
    let deep_mm = deep_mm + 2.0 * POINT_MM;
    assert!((left(deep_mm + 0.4, false).unwrap() - 0.4).abs() < 1e-6);
    assert_eq!(left(deep_mm + 0.51, false), None);
}

/// A hole with a wall in front begins behind it, and its point looks to the front; an empty one is no hole.
#[test]
fn a_hole_behind_a_wall_lies_deeper() {
    // Drilled into the part's side, 4 mm above the face that the first hole is in.
    let left = |wall_mm: f64, other: Filling| {
        let plan = plan("\tA\tB\nTop\tMast\t-\nSide\tLamp\t-\n", 3.0, |plan| {
            careless(plan);
            plan.settings.flat_cutter = true;
            plan.sockets[1].host = "mast".into();
            plan.sockets[1].facing = Facing::Front;
            plan.sockets[1].at_mm = Some([10.0, 0.0, 0.0]);
            plan.sockets[1].sites[0].wall_mm = wall_mm;
            // The first hole: 5 mm from the side's face to its middle, as deep as the side's is high.
            let mut own = plug_site("a", [5.0, 0.0]);
            own.max_depth_mm = 20.0;
            plan.parts[1].plugs[0].sites = Some(vec![own]);
            plan.parts[1].size_mm = [20.0, 20.0, 6.0];
        });
        let context = context(&plan);
        let mut fillings = all(&context, first());
        fillings[socket_hole(&context, "side", "a")] = other;
        let hole = plug_hole(&context, "mast", "a");
        near_hole(&context, &fillings, hole).map(|(_, left_mm)| left_mm)
    };
    // The side's hole is 2.1 mm deep; the first one's rim lies 5 - 2.55 = 2.45 mm in.
    assert!((left(0.0, first()).unwrap() - 0.35).abs() < 1e-6);
    assert_eq!(left(0.5, first()), Some(0.0));
    assert_eq!(left(0.5, Filling::Empty), None);
}

/// Two joints whose holes in one part meet: the search gives up neither joint, and takes other sites.
#[test]
fn the_search_leaves_a_wall_between_holes() {
    let kit = |steel: bool, other_site: bool| {
        plan("\tA\tB\nNose\tPlough\t-\nTail\tLamp\t-\n", 3.0, |plan| {
            careless(plan);
            if steel {
                plan.stock.steel = Stock::default().steel[..1].to_vec();
            }
            plan.sockets[0].at_mm = Some([0.0, 0.0, 15.0]);
            plan.sockets[1].at_mm = Some([13.0, 0.0, 15.0]);
            // 5.5 mm apart: too near by a tenth.
            plan.sockets[0].sites = vec![site("a", [4.0, 0.0])];
            plan.sockets[1].sites = vec![site("a", [-3.5, 0.0])];
            if other_site {
                plan.sockets[1].sites.push(site("b", [3.0, 0.0]));
            }
        })
    };
    let ask = |plan: &Plan| -> (Context, Fewest) {
        let context = context(plan);
        let found = fewest_of(&context);
        for hole in HoleIx::all(&context.holes.holes) {
            let magnets = found.families.iter().all(|f| f.magnets.is_some());
            assert!(!magnets || context.crowding(&found.fillings, hole).is_none());
        }
        (context, found)
    };
    for steel in [false, true] {
        // With one site each there is no choice for both: both holes would have to be filled. That is proven, and said why.
        let (context, found) = ask(&kit(steel, false));
        let pair = ["nose", "tail"].map(|s| socket_hole(&context, s, "a"));
        let [family] = &found.families[..] else {
            panic!("{:?}", found.families)
        };
        assert_eq!((family.magnets, family.crowded), (None, false));
        assert!(family.proven && found.checked);
        assert_eq!(family.reason_apart, [pair]);
        // With another site that one is taken.
        let (context, found) = ask(&kit(steel, true));
        assert!(found.proven && found.checked);
        let [near, other] = ["a", "b"].map(|s| found.fillings[socket_hole(&context, "tail", s)]);
        assert!(near == Filling::Empty && other != Filling::Empty);
    }
}

/// Magnets side by side that only draw each other are better avoided, and taken where nothing else will do; a wall is needed.
#[test]
fn a_force_is_given_up_and_a_wall_is_not() {
    let kit = |apart_mm: f64| {
        let mut plan = two_sockets(apart_mm, true);
        plan.settings.stranger_limit_n = 0.001;
        for socket in &mut plan.sockets {
            socket.sites[0].fit = Fit::Auto;
        }
        fewest_of(&context(&plan))
    };
    let forced = kit(7.0);
    assert!(
        forced
            .families
            .iter()
            .all(|f| f.crowded && f.magnets.is_some())
    );
    let walled = kit(5.0);
    assert!(walled.families.iter().all(|f| f.magnets.is_none()));
}

/// What the builder has put in both holes is the builder's own affair; beside one of the two nothing else is put.
#[test]
fn what_the_builder_filled_stays() {
    let kit = |both: bool| {
        one_joint(|plan| {
            careless(plan);
            plan.stock.steel = Stock::default().steel[..1].to_vec();
            let fit = fit_magnet(plan, 0);
            top(plan).sites = vec![site("a", [0.0; 2]), site("b", [5.0, 0.0])];
            mast(plan).plugs[0].sites = Some(vec![plug_site("a", [0.0; 2])]);
            top(plan).sites[1].fit = fit.clone();
            if both {
                top(plan).sites[0].fit = fit;
            }
        })
    };
    let context = crate::support::context(&kit(false));
    let found = fewest_of(&context);
    assert_eq!(found.families[0].magnets, None);
    let mut fillings = all(&context, first());
    fillings[socket_hole(&context, "top", "a")] = Filling::Steel(SteelIx::new(0));
    let model = context.model(only(), &fillings, None).unwrap();
    assert!(model.judge().has(|r| matches!(r, Reason::NoRoom { .. })));
    let context = crate::support::context(&kit(true));
    let found = fewest_of(&context);
    assert_eq!(found.fillings[socket_hole(&context, "top", "a")], first());
    // Two that meet nothing and are in no joint's way.
    let context = crate::support::context(&one_joint(|plan| {
        careless(plan);
        let fit = fit_magnet(plan, 0);
        top(plan).sites = [("a", -3.0), ("b", 4.0), ("c", 4.0)]
            .map(|(id, x)| site(id, [x, 0.0]))
            .to_vec();
        top(plan).sites[1..]
            .iter_mut()
            .for_each(|s| s.fit = fit.clone());
        mast(plan).plugs[0].sites = Some(vec![plug_site("a", [-3.0, 0.0])]);
    }));
    assert_eq!(fewest_of(&context).families[0].magnets, Some(2 + 2));
}
