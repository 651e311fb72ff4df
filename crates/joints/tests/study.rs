//! One joint looked at closely, against what can be worked out by hand and against the same joint built anew.

use lodewright_joints::{
    Attitude, Context, End, Filling, FitWarning, JointModel, Misfit, Neighbour, PairSide, disc,
    fit_facts,
};
use lodewright_kit::{
    Facing, Ix, MagnetIx, Mass, Patch, PegKind, Plan, Section, SteelIx, ThinSection,
};

use crate::support::{all, context, magnet, mast, one_joint, only, plug_site, site, top};

/// A joint of two pairs of 5 by 2 mm, 8 mm apart, whose part has sites of its own.
fn two_pairs(change: impl FnOnce(&mut Plan)) -> (Context, JointModel) {
    let plan = one_joint(|plan| {
        let socket = top(plan);
        socket.peg.kind = PegKind::Keyed;
        socket.patch = Patch::Rectangle {
            width_mm: 20.0,
            height_mm: 12.0,
        };
        socket.sites = vec![site("a", [-4.0, 0.0]), site("b", [4.0, 0.0])];
        let part = mast(plan);
        part.plugs[0].sites = Some(vec![
            plug_site("a", [-4.0, 0.0]),
            plug_site("b", [4.0, 0.0]),
        ]);
        change(plan);
    });
    let context = context(&plan);
    let model = filled(&context, 4);
    (context, model)
}

fn filled(context: &Context, magnet: usize) -> JointModel {
    let fillings = all(context, Filling::Magnet(MagnetIx::new(magnet)));
    context.model(only(), &fillings, None).unwrap()
}

fn margin(model: &JointModel) -> f64 {
    model.judge().margin_x_weight().unwrap()
}

/// By hand: with its centre of mass in the plane of the joint a part can only come straight off, so that it bears the pull over its
/// weight, less one where gravity pulls it off and more one where gravity presses it on.
#[test]
fn each_attitude_turns_gravity_to_its_side() {
    let sides = [
        (Facing::Up, Attitude::UpsideDown, Attitude::Upright),
        (Facing::Down, Attitude::Upright, Attitude::UpsideDown),
        (Facing::Left, Attitude::OnLeft, Attitude::OnRight),
        (Facing::Right, Attitude::OnRight, Attitude::OnLeft),
        (Facing::Front, Attitude::NoseDown, Attitude::NoseUp),
        (Facing::Back, Attitude::NoseUp, Attitude::NoseDown),
    ];
    for (facing, off, on) in sides {
        let (_, model) = two_pairs(|plan| {
            top(plan).facing = facing;
            let part = mast(plan);
            part.size_mm = [4.0; 3];
            let inwards = facing.normal().map(|x| -2.0 * x);
            part.centre_mm = Some(inwards);
            part.plugs[0].sites = Some(vec![
                plug_site("a", [-4.0, 0.0]),
                plug_site("b", [4.0, 0.0]),
            ]);
        });
        let verdict = model.judge();
        let at_rest = verdict.weak_n / model.loads[0].weight_n();
        let cases = model.attitudes();
        assert_eq!(cases.len(), 6);
        for case in cases {
            let expected = match case.attitude {
                a if a == off => at_rest - 1.0,
                a if a == on => at_rest + 1.0,
                _ => at_rest,
            };
            assert!(
                (case.shake_g / expected - 1.0).abs() < 1e-9,
                "{facing:?} {case:?} {expected}"
            );
            assert_eq!(case.variant.map(Ix::get), Some(0));
        }
    }
}

/// Whether an attitude is enough is settled by the shaking that the plan asks.
#[test]
fn an_attitude_reaches_what_is_asked_or_not() {
    let least = {
        let cases = two_pairs(|_| {}).1.attitudes().into_iter();
        cases.map(|c| c.shake_g).fold(f64::INFINITY, f64::min)
    };
    let reach = |shake_g: f64| {
        let (_, model) = two_pairs(|plan| plan.settings.shake_g = shake_g);
        model.attitudes().iter().all(|c| c.reaches)
    };
    assert!(reach(least) && !reach(least.next_up()));
}

/// Dragged or built so: the same joint.
#[test]
fn a_piece_moved_is_a_piece_planned_there() {
    let (_, mut dragged) = two_pairs(|_| {});
    dragged.move_piece(1, PairSide::Socket, [6.0, 1.0]);
    dragged.move_piece(1, PairSide::Plug, [6.5, 1.0]);
    dragged.move_piece(9, PairSide::Plug, [0.0; 2]);
    let (_, planned) = two_pairs(|plan| {
        top(plan).sites[1].at_mm = [6.0, 1.0];
        mast(plan).plugs[0].sites.as_mut().unwrap()[1].at_mm = [6.5, 1.0];
    });
    assert_eq!(dragged.pairs, planned.pairs);
    assert!((planned.pairs[1].offset_mm() - 0.5).abs() < 1e-12);
    assert_eq!(margin(&dragged), margin(&planned));
}

/// Dragged over the side of its part, onto the other pair or onto the peg, a hole cannot be, as if it were planned there.
#[test]
fn a_hole_dragged_where_none_can_be_is_told_at_once() {
    let peg = |plan: &mut Plan| {
        (top(plan).peg.kind, top(plan).peg.at_mm) = (PegKind::Round, [0.0, 7.0]);
    };
    let mut met = Vec::new();
    for to_mm in [[8.0, 0.0], [0.5, 0.0], [1.0, 5.0], [5.0, 0.5]] {
        let (_, mut dragged) = two_pairs(peg);
        for side in [PairSide::Socket, PairSide::Plug] {
            dragged.move_piece(1, side, to_mm);
        }
        let (_, planned) = two_pairs(|plan| {
            peg(plan);
            top(plan).sites[1].at_mm = to_mm;
            mast(plan).plugs[0].sites.as_mut().unwrap()[1].at_mm = to_mm;
        });
        let misfits = |model: &JointModel| model.pairs[1].pieces().map(|p| p.misfit);
        assert_eq!(misfits(&dragged), misfits(&planned), "{to_mm:?}");
        met.extend(misfits(&dragged)[1]);
    }
    assert!(
        matches!(
            met[..],
            [
                Misfit::NearSide { .. },
                Misfit::NearHole { .. },
                Misfit::NearPeg { .. }
            ]
        ),
        "{met:?}"
    );
}

/// Filled anew or planned so: the same pieces, the same weight, the same verdict.
#[test]
fn a_piece_exchanged_is_a_piece_planned() {
    let (context, mut model) = two_pairs(|_| {});
    let smaller = Filling::Magnet(MagnetIx::new(1));
    model.fill(0, PairSide::Plug, smaller, None);
    model.fill(0, PairSide::Socket, smaller, None);
    model.fill(9, PairSide::Socket, smaller, None);
    let mut fillings = all(&context, Filling::Magnet(MagnetIx::new(4)));
    for hole in model.pairs[0].pieces().map(|p| p.hole) {
        fillings[hole] = smaller;
    }
    let planned = context.model(only(), &fillings, None).unwrap();
    assert_eq!(model.pairs, planned.pairs);
    let mass = |m: &JointModel| (m.loads[0].mass_g, m.loads[0].likely_g);
    assert!((mass(&model).0 - mass(&planned).0).abs() < 1e-12);
    assert!((mass(&model).1 - mass(&planned).1).abs() < 1e-12);
    assert_eq!(model.judge().reasons, planned.judge().reasons);
    assert!((margin(&model) / margin(&planned) - 1.0).abs() < 1e-12);
    // What the hole does not take speaks against the joint.
    model.fill(0, PairSide::Socket, smaller, Some(Misfit::BeyondSite));
    assert!(!model.is_good_so_far());
}

/// By hand: set flush at the far end, a piece 1 mm lower stands 1 mm farther back.
#[test]
fn a_lower_piece_in_a_through_hole_stands_farther_back() {
    let (_, mut model) = two_pairs(|_| {});
    model.pairs[0].socket.flush_behind = true;
    let before = model.pairs[0].gap_mm;
    model.fill(0, PairSide::Socket, Filling::Magnet(MagnetIx::new(0)), None);
    assert!((model.pairs[0].gap_mm - before - 1.0).abs() < 1e-12);
    // And back again; never nearer than the faces.
    model.fill(0, PairSide::Socket, Filling::Magnet(MagnetIx::new(4)), None);
    assert!((model.pairs[0].gap_mm - before).abs() < 1e-12);
    model.fill(0, PairSide::Socket, Filling::Magnet(MagnetIx::new(6)), None);
    assert_eq!(model.pairs[0].gap_mm, 0.0);
}

/// What hangs by the joint when the model is lifted does not change with the pieces in the part that lifts.
#[test]
fn a_lifted_load_is_not_the_parts_own() {
    let (_, mut model) = two_pairs(|plan| mast(plan).lift_point = true);
    assert_eq!(
        model.loads.iter().map(|l| l.lifted).collect::<Vec<_>>(),
        [false, true]
    );
    let mass = |m: &JointModel| m.loads.iter().map(|l| l.mass_g).collect::<Vec<_>>();
    let before = mass(&model);
    model.fill(0, PairSide::Plug, Filling::Empty, None);
    let after = mass(&model);
    // 5 by 2 mm of 7.5 g/cm³: 0.2945 g.
    assert!((before[0] - after[0] - 0.294_524_311_274).abs() < 1e-9);
    assert_eq!(before[1], after[1]);
    // Who lifts it chooses the attitude.
    assert_eq!(model.attitudes().len(), 6);
    model.loads.remove(0);
    assert!(model.attitudes().is_empty());
}

/// Each point of the curve is the joint with the pair there; the curve runs from edge to edge of the contact.
#[test]
fn a_place_curve_is_the_joint_with_the_pair_elsewhere() {
    // A target that it reaches in some places and not in others.
    let margins = two_pairs(|_| {}).1.place_curve(0, 0, 21).unwrap().points;
    let margins = || margins.iter().map(|p| p.margin_x_weight);
    let (low, high) = (
        margins().fold(f64::INFINITY, f64::min),
        margins().fold(0.0, f64::max),
    );
    assert!(high > 1.2 * low, "{low} {high}");
    let (_, model) = two_pairs(|plan| plan.settings.hold_target_g = (low + high) / 2.0);
    for (axis, half_mm, count) in [(0, 10.0, 21), (1, 6.0, 13)] {
        let curve = model.place_curve(0, axis, count).unwrap();
        assert_eq!(
            (curve.axis, curve.now_mm),
            (axis, model.pairs[0].socket.at_mm[axis])
        );
        assert_eq!(curve.points.len(), count);
        for (i, point) in curve.points.iter().enumerate() {
            assert!((point.at_mm - (i as f64 - half_mm)).abs() < 1e-9);
            let mut moved = model.clone();
            let mut to_mm = model.pairs[0].socket.at_mm;
            to_mm[axis] = point.at_mm;
            moved.move_piece(0, PairSide::Socket, to_mm);
            moved.move_piece(0, PairSide::Plug, to_mm);
            let there = moved.judge();
            assert_eq!(there.margin_x_weight(), Some(point.margin_x_weight));
            assert_eq!(there.is_good(), point.good);
        }
    }
    let goods = model.place_curve(0, 0, 21).unwrap().points;
    assert!(goods.iter().any(|p| p.good) && goods.iter().any(|p| !p.good));
    assert_eq!(model.place_curve(2, 0, 21), None);
    // Outside a narrow contact there is no place: a pair off the middle line of a disc meets its edge earlier.
    let (_, round) = two_pairs(|plan| top(plan).patch = Patch::Disc { diameter_mm: 20.0 });
    let points = round.place_curve(0, 1, 41).unwrap().points;
    let edge_mm = (100.0_f64 - 16.0).sqrt();
    assert!(points.iter().all(|p| p.at_mm.abs() <= edge_mm + 0.05) && points.len() > 30);
}

#[test]
fn a_size_curve_is_the_joint_with_each_size() {
    let (context, model) = two_pairs(|plan| plan.settings.hold_target_g = 20.0);
    let curve = model.size_curve(0);
    let stock = &context.plan().stock.magnets;
    assert_eq!(curve.len(), stock.len());
    for point in &curve {
        let mut fillings = all(&context, Filling::Magnet(MagnetIx::new(4)));
        for hole in model.pairs[0].pieces().map(|p| p.hole) {
            fillings[hole] = Filling::Magnet(point.magnet);
        }
        let planned = context.model(only(), &fillings, None).unwrap().judge();
        let planned_margin = planned.margin_x_weight().unwrap();
        assert!((point.margin_x_weight / planned_margin - 1.0).abs() < 1e-12);
        assert_eq!(point.verdict.is_good(), planned.is_good());
        assert_eq!(point.weak_n, planned.weak_n);
        // Sites of 6 by 3 mm: 6 mm across leaves nothing for the allowance, and so does a height of 3 mm.
        let size = &stock[point.magnet];
        assert_eq!(
            point.fits,
            size.diameter_mm < 6.0 && size.height_mm < 3.0,
            "{size:?}"
        );
        assert_eq!(point.is_now, point.magnet.get() == 4);
    }
    assert!(model.size_curve(5).is_empty());
    // Steel stays steel.
    let mut fillings = all(&context, Filling::Magnet(MagnetIx::new(4)));
    fillings[model.pairs[0].plug.hole] = Filling::Steel(SteelIx::new(0));
    let steel = context.model(only(), &fillings, None).unwrap();
    let curve = steel.size_curve(0);
    assert!(curve[4].is_now && curve[4].margin_x_weight == margin(&steel));
    assert!(curve[4].margin_x_weight < margin(&model));
}

/// By hand: margins, the hand's pull and the force that opens are proportional to the pulls.
#[test]
fn the_ends_of_a_window_are_where_the_joint_fails() {
    let thin = |plan: &mut Plan| {
        mast(plan).thin = Some(ThinSection {
            length_mm: 12.0,
            section: Section::Rectangle {
                width_mm: 3.0,
                height_mm: 2.0,
            },
            reach_mm: 15.0,
            notch_factor: 1.5,
        });
    };
    let (_, by_hand) = two_pairs(|_| {});
    let verdict = by_hand.judge();
    let window = by_hand.window().unwrap();
    assert!((verdict.margin_x_weight().unwrap() * window.least - 3.0).abs() < 1e-9);
    assert!((verdict.hand_n * window.most - 15.0).abs() < 1e-9);
    assert!((window.most_n - 15.0).abs() < 1e-9);
    assert!((window.least_n / verdict.weak_n - window.least).abs() < 1e-12);
    assert!(window.hand_binds && window.thicker.is_none());
    assert!(window.holds_now() && !window.is_empty());

    let (_, by_section) = two_pairs(thin);
    let verdict = by_section.judge();
    let window = by_section.window().unwrap();
    let factor = verdict.let_go.unwrap().factor;
    assert!((factor / window.most - 2.0).abs() < 1e-9 && !window.hand_binds);
    // Its strength in bending grows with the third power of its thickness.
    let thicker = window.thicker.unwrap();
    assert!((thicker.powi(3) * window.most / window.least - 1.0).abs() < 1e-9);
    let fits = window.target_that_fits_x_weight / verdict.margin_x_weight().unwrap();
    assert!((fits / window.most - 1.0).abs() < 1e-12);

    // A target beyond what the thin section leaves: no pull does both.
    let (_, empty) = two_pairs(|plan| {
        thin(plan);
        plan.settings.hold_target_g = 900.0;
    });
    let window = empty.window().unwrap();
    assert!(window.is_empty() && !window.holds_now());
    let (_, none) = two_pairs(|plan| plan.settings.hold_target_g = 0.0);
    assert_eq!(none.window().unwrap().least, 0.0);
    let (_, weak) = two_pairs(|plan| plan.settings.hold_target_g = 500.0);
    assert!(!weak.window().unwrap().holds_now());
    let (_, pinned) = two_pairs(|plan| top(plan).attach = lodewright_kit::Attach::Friction(3.0));
    assert_eq!(pinned.window(), None);
    let mut free = by_hand.clone();
    free.pairs.clear();
    assert_eq!(free.window().unwrap().most, f64::INFINITY);
}

/// By hand: a hole as wide as its magnet and the allowance, as deep as it and the glue; what is there behind the face, what is left
/// to the edge and to the next hole.
#[test]
fn fits_say_what_is_left() {
    let (context, model) = two_pairs(|_| {});
    for side in [PairSide::Socket, PairSide::Plug] {
        let facts = fit_facts(&model, 0, side).unwrap();
        let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} {b} {facts:?}");
        close(facts.hole_mm, 5.1);
        close(facts.depth_mm, 2.1);
        close(facts.point_mm, 5.1 * 0.5 / libm::tan(59.0_f64.to_radians()));
        close(
            facts.material_mm.unwrap(),
            if side == PairSide::Socket { 30.0 } else { 20.0 },
        );
        close(facts.edge_mm, 6.0 - 2.55);
        close(facts.neighbour_mm.unwrap(), 8.0 - 5.1);
        assert!(facts.misfit.is_none() && facts.front_mm == 0.0);
        // 5 by 2 mm is the strongest that fits, and as tall as any that does.
        assert_eq!(facts.largest, Some(MagnetIx::new(4)));
        assert_eq!(
            context.plan().stock.magnets[facts.tallest.unwrap()].height_mm,
            2.0
        );
        assert_eq!(facts.warnings(), []);
    }
    assert_eq!(fit_facts(&model, 2, PairSide::Plug), None);
}

#[test]
fn what_is_tight_is_warned_of_from_both_sides() {
    let warned = |first: [f64; 2], second: [f64; 2], size: usize| {
        let (context, _) = two_pairs(|plan| {
            plan.settings.stranger_limit_n = 1000.0;
            let socket = top(plan);
            (socket.sites[0].at_mm, socket.sites[1].at_mm) = (first, second);
            for site in mast(plan).plugs[0].sites.as_mut().unwrap() {
                site.at_mm = if site.id.as_str() == "a" {
                    first
                } else {
                    second
                };
                site.max_depth_mm = 5.0;
            }
        });
        let model = filled(&context, size);
        fit_facts(&model, 0, PairSide::Plug).unwrap().warnings()
    };
    assert_eq!(warned([-4.0, 0.0], [4.0, 0.0], 4), []);
    // The rim of a 5.1 mm hole in a face 12 mm across: 0.5 mm of plastic beside it is just enough.
    assert_eq!(warned([-4.0, 2.94], [4.0, 0.0], 4), []);
    assert!(matches!(
        warned([-4.0, 2.96], [4.0, 0.0], 4)[..],
        [FitWarning::Beside { neighbour: Neighbour::Edge, wall_mm }] if wall_mm < 0.5
    ));
    assert_eq!(warned([-4.0, 0.0], [1.61, 0.0], 4), []);
    assert!(matches!(
        warned([-4.0, 0.0], [1.59, 0.0], 4)[..],
        [FitWarning::Misfit(Misfit::NearHole { hole, left_mm })]
            if hole.get() == 3 && (left_mm - 0.49).abs() < 1e-9
    ));
    assert_eq!(
        warned([-4.0, 0.0], [4.0, 0.0], 5),
        [FitWarning::Misfit(Misfit::BeyondSite)]
    );
}

/// A hole that goes right through needs no glue under its magnet and no room for the drill's point.
#[test]
fn a_through_hole_has_no_bottom() {
    let (context, model) = two_pairs(|plan| {
        plan.stock.magnets.push(magnet(5.0, 3.0, 10));
        let mut far =
            lodewright_kit::Socket::plain("behind".into(), "Behind".to_owned(), plan.base.clone());
        far.facing = Facing::Down;
        plan.parts[0].size_mm[2] = 3.0;
        far.sites = vec![site("a", [-4.0, 0.0])];
        far.sites[0].through = Some(lodewright_kit::SocketSiteRef {
            socket: plan.sockets[0].id.clone(),
            site: "a".into(),
        });
        plan.sockets.push(far);
    });
    let facts = fit_facts(&model, 0, PairSide::Socket).unwrap();
    assert_eq!((facts.point_mm, facts.depth_mm), (0.0, 2.0));
    assert_eq!(facts.warnings(), []);
    // The tallest that fits is as tall as the hole is deep.
    assert_eq!(facts.tallest, Some(MagnetIx::new(7)));
    let stronger = |a: usize, b: usize| {
        let moment = |i| {
            let stock = &context.plan().stock.magnets[i];
            disc(context.plan(), stock, End::Weak)
                .unwrap()
                .moment_a_m2()
        };
        moment(a) > moment(b)
    };
    assert!(stronger(7, 4) && facts.largest == Some(MagnetIx::new(7)));
    let blind = fit_facts(&model, 1, PairSide::Socket).unwrap();
    assert!(blind.tallest != Some(MagnetIx::new(7)) && blind.point_mm > 1.0);
}

/// Nothing weighs nothing.
#[test]
fn a_part_without_weight_is_not_divided_by() {
    let (_, mut model) = two_pairs(|plan| mast(plan).mass = Mass::Weighed { mass_g: 0.0 });
    model.loads[0].mass_g = 0.0;
    let by_hand = 1e-6 * lodewright_joints::G_M_S2;
    assert!((model.loads[0].weight_n() / by_hand - 1.0).abs() < 1e-12);
    assert!(margin(&model).is_finite());
}
