//! Poles, loads, margins and the first choice of magnets on small plans whose answers can be worked out by hand.

use lodewright_assembly::JointIx;
use lodewright_joints::{
    FaceIx, Filling, G_M_S2, GapLayer, GapPart, GivesWay, Held, PairSide, PoleStep, filling_mass_g,
    loads, shown_pole,
};
use lodewright_kit::{
    Attach, Facing, Finish, Fit, Ix, MagnetIx, Mass, Patch, PegKind, Plan, Pole, VariantIx,
};

use crate::support::{self, Settled, context, fit_magnet, joint_of, plug_site, socket_hole};

/// A corner of a face of 12 by 12 mm, where a peg is in no hole's way.
const CORNER: [f64; 2] = [5.5, 5.5];

/// A plan of parts of 10 g.
fn plan(grid: &str, change: impl FnOnce(&mut Plan)) -> Plan {
    support::plan(grid, 10.0, change)
}

/// Two sockets on the two faces of one wall, sharing one hole.
fn wall(grid: &str) -> Plan {
    support::wall(grid, 10.0, |_| {})
}

/// Common practice, no source: a through magnet that serves two tools on each of its faces needs five magnets, one in the
/// wall and one in each tool.
#[test]
fn a_through_magnet_with_two_tools_on_each_face_needs_five_magnets() {
    let plan = wall("\tA\tB\nLeft face\tLadder\tHose\nRight face\tLocker\tReel\n");
    let all = Settled::of(&plan);
    assert_eq!(all.magnets(), 5);
    assert!(all.poles.contradictions.is_empty());
    // One magnet shows opposite poles on the wall's two faces.
    let holes = &all.context.holes;
    let faces = FaceIx::each(&holes.faces).filter(|(_, f)| f.owner.is_socket());
    let shown: Vec<_> = faces
        .map(|(f, _)| shown_pole(holes, f, &all.poles.poles))
        .collect();
    assert_eq!(shown, [Some(Pole::N), Some(Pole::S)]);
    assert!(
        all.pairs()
            .all(|p| p.weak_n > 0.0 && p.poles[0] != p.poles[1] && p.poles[0].is_some())
    );
}

#[test]
fn one_locker_on_both_faces_of_a_through_magnet_is_a_contradiction() {
    let mut plan = wall("\tA\tB\nLeft face\tLocker\tHose\nRight face\tReel\tLocker\n");
    let all = Settled::of(&plan);
    let [only] = all.poles.contradictions.as_slice() else {
        panic!("{:?}", all.poles.contradictions)
    };
    // Round the cycle: both joints of the locker ask for it, and the last step contradicts the first.
    let mut asked: Vec<_> = only.joints.iter().flatten().copied().collect();
    asked.sort_unstable();
    let locker = ["left-face", "right-face"].map(|socket| joint_of(&all.context, "locker", socket));
    assert_eq!(asked, locker);
    assert_eq!(only.holes.len(), 2);
    let (PoleStep::Say(first), PoleStep::Then(_, last, pole)) = (only.steps[0], only.steps[2])
    else {
        panic!("{:?}", only.steps)
    };
    assert_eq!((first, pole, only.steps.len()), (last, Pole::S, 3));
    assert!(
        all.pairs().any(|p| p.weak_n < 0.0),
        "one of the two must repel"
    );
    // Steel in the locker has no poles: the contradiction is gone and both sides hold.
    let steel = plan.stock.steel[0].id.clone();
    let locker = plan.parts.iter_mut().find(|p| p.name == "Locker").unwrap();
    let mut site = plug_site("a", [0.0; 2]);
    site.fit = Fit::Steel(steel);
    locker.plugs[0].sites = Some(vec![site]);
    let all = Settled::of(&plan);
    assert!(all.poles.contradictions.is_empty());
    assert!(all.pairs().all(|p| p.weak_n > 0.0));
}

#[test]
fn turning_a_part_over_flips_the_pole_it_shows() {
    let over = |both: bool| {
        plan("\tA\tB\nTop\tBoard\tBoard\n", |plan| {
            plan.parts[1].plugs[0].thickness_mm = Some(3.0);
            plan.variants[1].cells[0].seats[0].pose.over = true;
            plan.variants[0].cells[0].seats[0].pose.over = both;
        })
    };
    // Used either way up, the same two magnets would have to face both ways.
    assert_eq!(Settled::of(&over(false)).poles.contradictions.len(), 1);
    // Used only turned over, it is consistent, but the joint may then be glued and needs no magnet at all.
    let all = Settled::of(&over(true));
    assert!(all.poles.contradictions.is_empty());
    assert_eq!(all.magnets(), 0);
    assert_eq!(all.report(0).held, Held::Glued);
}

/// By hand: a part that is used only turned over shows the back of its magnet, so that its first face shows the same pole as the
/// host's, and the back the other.
#[test]
fn a_part_turned_over_shows_the_other_pole_of_its_magnet() {
    let plan = plan("\tA\tB\nTop\tBoard\tHatch\n", |plan| {
        plan.parts[1].plugs[0].thickness_mm = Some(3.0);
        plan.variants[0].cells[0].seats[0].pose.over = true;
    });
    let all = Settled::of(&plan);
    let host = all.poles.poles[socket_hole(&all.context, "top", "a")];
    let board = all.poles.poles[support::plug_hole(&all.context, "board", "1")];
    let hatch = all.poles.poles[support::plug_hole(&all.context, "hatch", "1")];
    assert_eq!(
        [host, board, hatch],
        [Some(Pole::N), Some(Pole::N), Some(Pole::S)]
    );
    for joint in ["board", "hatch"] {
        let report = &all.reports[joint_of(&all.context, joint, "top")];
        assert_eq!(report.pairs[0].poles, [Some(Pole::N), Some(Pole::S)]);
        assert!(report.pairs[0].weak_n > 0.0);
    }
}

#[test]
fn a_pinned_pole_is_kept_and_the_rest_follows() {
    let plan = plan("\tA\tB\nTop\tMast\tHatch\n", |plan| {
        plan.sockets[0].sites[0].pole = Some(Pole::S)
    });
    let all = Settled::of(&plan);
    let host = socket_hole(&all.context, "top", "a");
    assert_eq!(all.poles.poles[host], Some(Pole::S));
    let north = all.poles.poles.values().iter();
    assert_eq!(north.filter(|p| **p == Some(Pole::N)).count(), 2);
}

/// Rigid statics by hand: one magnet in the middle of a 12 by 12 mm face, centre of mass straight above.
#[test]
fn a_margin_is_what_the_lever_law_says() {
    let plan = plan("\tA\tB\nTop\tMast\tHatch\n", |plan| {
        plan.settings.friction = 2.0;
        plan.sockets[0].peg.kind = PegKind::Keyed;
        plan.sockets[0].peg.at_mm = CORNER;
        plan.parts[1].size_mm = [12.0, 12.0, 30.0];
    });
    let all = Settled::of(&plan);
    let mast = all.report(0);
    let hold = &mast.holds[0];
    let magnet_g = filling_mass_g(&plan, all.sizes.fillings[mast.pairs[0].holes[1]]);
    let mass_g = 10.0 * 1.02 + magnet_g;
    assert!(
        (hold.mass_g - mass_g).abs() < 1e-12,
        "{} {mass_g}",
        hold.mass_g
    );
    let lever_mm = (6.0f64 * 6.0 + 15.0 * 15.0).sqrt();
    let by_hand = mast.pairs[0].weak_n * 6.0 / (mass_g * G_M_S2 / 1000.0 * lever_mm);
    assert!(
        (hold.margin_x_weight / by_hand - 1.0).abs() < 1e-12,
        "{} {by_hand}",
        hold.margin_x_weight
    );
    assert!(
        matches!(hold.gives_way, GivesWay::Tip(_)),
        "{:?}",
        hold.gives_way
    );
}

/// By hand: the clamp moment about an edge is the pull times the magnet's distance from it, so that with all edges as far from
/// the centre of mass the joint opens about the one that the magnet is nearest to.
#[test]
fn a_joint_opens_about_the_edge_that_its_magnet_is_nearest_to() {
    for (at_mm, side) in [
        ([2.9, 0.0], [1.0, 0.0]),
        ([-2.9, 0.0], [-1.0, 0.0]),
        ([0.0, 2.9], [0.0, 1.0]),
        ([0.0, -2.9], [0.0, -1.0]),
    ] {
        let plan = plan("\tA\tB\nTop\tMast\tHatch\n", |plan| {
            plan.settings.friction = 2.0;
            plan.sockets[0].peg.kind = PegKind::Keyed;
            plan.sockets[0].peg.at_mm = CORNER;
            plan.sockets[0].sites[0].at_mm = at_mm;
            plan.parts[1].size_mm = [12.0, 12.0, 30.0];
        });
        let towards = plan.sockets[0].side_of_host(&plan.parts[0], side);
        let all = Settled::of(&plan);
        assert_eq!(
            all.report(0).holds[0].gives_way,
            GivesWay::Tip(towards),
            "{at_mm:?}"
        );
    }
}

#[test]
fn what_hangs_on_a_part_is_carried_with_it() {
    let plan = plan("\tA\tB\nTop\tMast\tMast\nHead\tLamp\t-\n", |plan| {
        let mast = plan.parts[1].id.clone();
        plan.sockets[1].host = mast;
        plan.sockets[1].facing = Facing::Front;
        plan.parts[1].size_mm = [10.0, 10.0, 40.0];
    });
    let loads = loads(&context(&plan).board);
    let (joint, variant) = (JointIx::new, VariantIx::new);
    let masses: Vec<_> = loads
        .cases
        .iter()
        .map(|c| (c.joint, c.variants.clone(), c.mass_g))
        .collect();
    for expected in [
        (joint(0), vec![variant(0)], 20.4),
        (joint(0), vec![variant(1)], 10.2),
        (joint(1), vec![variant(0)], 10.2),
    ] {
        assert!(masses.contains(&expected), "{masses:?}");
    }
    // Mast centre 20 mm up; lamp 20 mm box on its front face: 5 + 10 mm forward, at the same height.
    let both = loads
        .cases
        .iter()
        .find(|c| c.joint == joint(0) && c.variants == [variant(0)])
        .unwrap();
    assert!(
        (both.centre_mm[0] - 7.5).abs() < 1e-12 && (both.centre_mm[2] - 20.0).abs() < 1e-12,
        "{both:?}"
    );
    assert!((both.likely_g - 20.0).abs() < 1e-12 && !both.guessed);
}

#[test]
fn a_lift_point_carries_the_rest_of_the_model() {
    let plan = plan(
        "\tA\tB\nTop\tMast\tMast\nHead\tJib\tJib\nSide\tTank\t-\n",
        |plan| {
            let mast = plan.parts[1].id.clone();
            plan.sockets[1].host = mast;
            plan.parts[2].lift_point = true;
            plan.sockets[1].attach = Attach::Magnets;
        },
    );
    let loads = loads(&context(&plan).board);
    let lifted: Vec<_> = loads
        .cases
        .iter()
        .filter(|c| c.lifted)
        .map(|c| (c.joint.get(), c.mass_g))
        .collect();
    // Base and tank (A) or the base alone (B) hang by the mast; mast, too, hangs by the jib.
    for expected in [(0, 20.4), (0, 10.2), (1, 30.6), (1, 20.4)] {
        assert!(
            lifted
                .iter()
                .any(|l| l.0 == expected.0 && (l.1 - expected.1).abs() < 1e-9),
            "{expected:?} {lifted:?}"
        );
    }
    assert_eq!(lifted.len(), 4);
}

#[test]
fn a_gap_is_the_sum_of_its_layers_and_masking_takes_the_paint_away() {
    let mut plan = plan("\tA\tB\nTop\tMast\tHatch\n", |plan| {
        plan.sockets[0].sites[0].wall_mm = 0.6;
        // A drill's point would go through walls as thin as these.
        plan.settings.flat_cutter = true;
        plan.finish = Finish::default();
    });
    // Wall 0.6, glue film 0.05, paint 0.075 a face, fit 0.05: from the socket's side to the plug's.
    let gap = Settled::of(&plan).report(0).pairs[0].gap.clone();
    assert!((gap.gap_mm - 0.85).abs() < 1e-12);
    let part = |layer, thickness_mm| GapPart {
        layer,
        thickness_mm,
    };
    let [wall, film, paint, fit, other_paint] = gap.layers.as_slice() else {
        panic!("{gap:?}")
    };
    assert_eq!(*wall, part(GapLayer::Wall(PairSide::Socket), 0.6));
    assert_eq!(*film, part(GapLayer::GlueFilm(PairSide::Socket), 0.05));
    assert_eq!(paint.layer, GapLayer::Paint(PairSide::Socket));
    assert_eq!(*fit, part(GapLayer::Fit, 0.05));
    assert_eq!(other_paint.layer, GapLayer::Paint(PairSide::Plug));
    assert!((paint.thickness_mm - 0.075).abs() < 1e-12);
    assert!((other_paint.thickness_mm - 0.075).abs() < 1e-12);
    plan.finish.mask_mating_faces = true;
    let masked = Settled::of(&plan);
    assert!((masked.report(0).pairs[0].gap.gap_mm - 0.7).abs() < 1e-12);
    // A wall on the part's side instead comes last.
    plan.sockets[0].sites[0].wall_mm = 0.0;
    let mut walled = plug_site("a", [0.0; 2]);
    walled.wall_mm = 0.4;
    plan.parts[1].plugs[0].sites = Some(vec![walled]);
    let gap = Settled::of(&plan).report(0).pairs[0].gap.clone();
    assert_eq!(
        gap.layers,
        [
            part(GapLayer::Fit, 0.05),
            part(GapLayer::GlueFilm(PairSide::Plug), 0.05),
            part(GapLayer::Wall(PairSide::Plug), 0.4),
        ]
    );
}

/// By hand: set flush at the near face, a magnet 2 mm high in a hole 3 mm deep stays 1 mm back at the far one; the coats are
/// the same on both faces.
#[test]
fn a_short_magnet_stays_back_at_the_far_end_of_a_through_hole() {
    let mut plan = wall("\tA\tB\nLeft face\tLadder\tHose\nRight face\tLocker\tReel\n");
    let fit = fit_magnet(&plan, 4);
    plan.sockets[0].sites[0].fit = fit;
    let all = Settled::of(&plan);
    let recess_mm = |part: &str, socket: &str| {
        let report = &all.reports[joint_of(&all.context, part, socket)];
        let walls = report.pairs[0].gap.layers.iter();
        let walls = walls.filter(|l| l.layer == GapLayer::Wall(PairSide::Socket));
        walls.map(|l| l.thickness_mm).sum::<f64>()
    };
    assert_eq!(recess_mm("ladder", "left-face"), 0.0);
    assert_eq!(recess_mm("locker", "right-face"), 1.0);
    let gap = |part: &str, socket: &str| {
        let joint = joint_of(&all.context, part, socket);
        let model = all
            .context
            .model(joint, &all.sizes.fillings, Some(&all.poles.poles))
            .unwrap();
        (model.pairs[0].gap_mm, model.pairs[0].coats_mm)
    };
    let (near, far) = (gap("ladder", "left-face"), gap("locker", "right-face"));
    assert!((far.0 - near.0 - 1.0).abs() < 1e-12, "{near:?} {far:?}");
    assert!(
        (near.1 - near.0).abs() < 1e-12 && (far.1 - near.1).abs() < 1e-12,
        "a recess is no coat: {near:?} {far:?}"
    );
}

/// The same for a part that is turned over: its magnet, set flush at the first face, stays back by what it is shorter than the
/// hole. The wall in front of the first face lies on the other side then.
#[test]
fn a_magnet_seen_from_behind_stays_back_and_has_no_wall_before_it() {
    let gap = |over: bool| {
        let plan = plan("\tA\tB\nTop\tBoard\tHatch\n", |plan| {
            plan.finish.glue_film_um = 0.0;
            let plug = &mut plan.parts[1].plugs[0];
            plug.thickness_mm = Some(3.0);
            let mut own = plug_site("a", [0.0; 2]);
            own.wall_mm = 0.25;
            own.fit = Fit::Magnet(plan.stock.magnets[4].id.clone());
            plug.sites = Some(vec![own]);
            plan.variants[0].cells[0].seats[0].pose.over = over;
        });
        Settled::of(&plan).report(0).pairs[0].gap.gap_mm
    };
    // Hole 3 mm deep, magnet 2 mm high: 1 mm back instead of the wall of 0.25 mm.
    assert!((gap(true) - gap(false) - 0.75).abs() < 1e-12);
}

#[test]
fn the_choice_grows_until_the_target_is_met_or_nothing_larger_fits() {
    let heavy = |mass_g: f64, room_mm: f64| {
        plan("\tA\tB\nTop\tMast\tHatch\n", |plan| {
            plan.parts[1].mass = Mass::Weighed { mass_g };
            plan.sockets[0].sites[0].max_diameter_mm = room_mm;
        })
    };
    let margin = |plan: &Plan| {
        let all = Settled::of(plan);
        (all.report(0).holds[0].margin_x_weight, all.magnets())
    };
    assert!(margin(&heavy(10.0, 8.0)).0 >= 3.0);
    assert!(margin(&heavy(15.0, 8.0)).0 >= 3.0);
    let (short, n) = margin(&heavy(400.0, 8.0));
    assert!(
        short < 3.0 && short > 0.0,
        "the largest size is fitted and the shortfall shown: {short}"
    );
    assert_eq!(n, 3);
    // No stock size goes into a 1 mm hole: said, not guessed.
    let none = Settled::of(&heavy(10.0, 1.0));
    assert_eq!(none.sizes.nothing_fits.len(), 3);
    assert_eq!(none.report(0).holds[0].gives_way, GivesWay::NoPull);
}

#[test]
fn friction_pins_and_loose_parts_have_no_magnets() {
    let plan = plan("\tA\tB\nPin\tMast\tHatch\nShelf\tCrate\t-\n", |plan| {
        plan.sockets[0].attach = Attach::Friction(2.0);
        plan.sockets[1].attach = Attach::Loose;
    });
    let all = Settled::of(&plan);
    assert_eq!(all.magnets(), 0);
    assert_eq!(all.report(0).held, Held::Friction);
    assert!(all.report(0).holds[0].margin_x_weight > 0.0);
    // By hand: the pin is all that pulls, straight off.
    assert_eq!(all.report(0).hand_n, 2.0);
    assert_eq!(all.report(2).held, Held::Loose);
    assert!(all.report(2).holds.is_empty());
}

#[test]
fn magnets_off_each_other_pull_less() {
    let at = |offset_mm: f64| {
        let plan = plan("\tA\tB\nTop\tMast\tHatch\n", |plan| {
            let fit = fit_magnet(plan, 4);
            for socket in &mut plan.sockets {
                socket.sites[0].fit = fit.clone();
            }
            let mut site = plug_site("a", [offset_mm, 0.0]);
            site.fit = fit;
            plan.parts[1].plugs[0].sites = Some(vec![site]);
        });
        Settled::of(&plan).report(0).pairs.first().map(|p| p.weak_n)
    };
    let (centred, half, one) = (at(0.0).unwrap(), at(0.5).unwrap(), at(1.0).unwrap());
    // For a 5x2 pair at 0.2 mm, 0.5 and 1 mm of offset leave 0.886 and 0.710 of the pull (surface-charge quadrature,
    // reference tables of this project); at this plan's wider gap they leave a little more.
    assert!(
        half / centred > 0.886 && half / centred < 0.97,
        "{}",
        half / centred
    );
    assert!(
        one / centred > 0.710 && one / centred < 0.85,
        "{}",
        one / centred
    );
    assert_eq!(
        at(1.5),
        None,
        "beyond the tolerance they do not count as facing each other"
    );
}

#[test]
fn a_plug_outline_smaller_than_the_sockets_is_what_touches() {
    let plan = plan("\tA\tB\nTop\tMast\tHatch\n", |plan| {
        plan.parts[1].plugs[0].patch = Some(Patch::Rectangle {
            width_mm: 4.0,
            height_mm: 40.0,
        });
    });
    let all = Settled::of(&plan);
    let model = all
        .context
        .model(JointIx::new(0), &all.sizes.fillings, None)
        .unwrap();
    assert!((lodewright_geometry::polygon_area_mm2(&model.contact_mm) - 48.0).abs() < 1e-9);
}

/// By hand: a part whose peg is cut off slides when friction gives, at mu F / (W sqrt(1 + mu²)); one that keeps it does not.
#[test]
fn a_peg_that_is_cut_off_keeps_nothing_from_sliding() {
    let held = |keeps_peg: bool, kind: PegKind| {
        let plan = plan("\tA\tB\nTop\tMast\tHatch\n", |plan| {
            plan.sockets[0].peg.kind = kind;
            plan.sockets[0].peg.at_mm = CORNER;
            plan.parts[1].plugs[0].keeps_peg = keeps_peg;
            plan.parts[1].size_mm = [12.0, 12.0, 4.2];
            let fit = fit_magnet(plan, 4);
            plan.sockets[0].sites[0].fit = fit;
        });
        let all = Settled::of(&plan);
        let model = all
            .context
            .model(JointIx::new(0), &all.sizes.fillings, None)
            .unwrap();
        let slides =
            0.3 * model.judge().weak_n / (model.loads[0].weight_n() * (1.0 + 0.3 * 0.3_f64).sqrt());
        let case = &all.report(0).holds[0];
        (case.gives_way, case.margin_x_weight / slides)
    };
    for kind in [PegKind::Two, PegKind::Keyed] {
        let (gives_way, share) = held(false, kind);
        assert_eq!(gives_way, GivesWay::Slide, "{kind:?}");
        assert!((share - 1.0).abs() < 1e-12, "{kind:?} {share}");
        let (gives_way, share) = held(true, kind);
        assert!(matches!(gives_way, GivesWay::Tip(_)), "{gives_way:?}");
        assert!(share > 2.0, "{kind:?} {share}");
    }
    assert_eq!(held(true, PegKind::None).0, GivesWay::Slide);
}

/// A hole that a plug has opposite a socket's site is as large as that one, and otherwise its own: open to the planner, without a
/// wall or a wished pole.
#[test]
fn an_implied_hole_is_as_large_as_the_site_opposite_and_otherwise_its_own() {
    let plan = plan("\tA\tB\nTop\tMast\tHatch\n", |plan| {
        let fit = fit_magnet(plan, 4);
        let site = &mut plan.sockets[0].sites[0];
        (site.fit, site.pole, site.wall_mm) = (fit, Some(Pole::S), 0.4);
        (site.max_diameter_mm, site.max_depth_mm) = (5.5, 2.5);
        site.at_mm = [1.0, 2.0];
        plan.variants[0].cells[0].seats[0].pose.turn_deg = 90.0;
    });
    let context = context(&plan);
    let hole = support::plug_hole(&context, "mast", "1");
    let face = context.holes.face_of(hole, false).unwrap();
    let hole = &context.holes.holes[hole];
    assert_eq!(
        (hole.fit.clone(), hole.pinned, hole.wall_mm),
        (Fit::Auto, None, 0.0)
    );
    assert_eq!((hole.max_diameter_mm, hole.max_depth_mm), (5.5, 2.5));
    // Turned a quarter counter-clockwise onto (1, 2), a point of the plug comes from (2, -1).
    assert!((face.at_mm[0] - 2.0).abs() < 1e-9 && (face.at_mm[1] + 1.0).abs() < 1e-9);
    assert!(!hole.through && face.wall_mm == 0.0);
}

/// A piece exchanged in a joint by itself has the gap that the plan has with that piece: at the far end of a through hole, seen
/// from behind, and at the near end.
#[test]
fn a_piece_exchanged_has_the_gap_of_the_plan() {
    let through = wall("\tA\tB\nLeft face\tLadder\tHose\nRight face\tLocker\tReel\n");
    let over = plan("\tA\tB\nTop\tBoard\tHatch\n", |plan| {
        plan.parts[1].plugs[0].thickness_mm = Some(3.0);
        plan.variants[0].cells[0].seats[0].pose.over = true;
    });
    for (plan, part, socket, side, behind) in [
        (&through, "locker", "right-face", PairSide::Socket, true),
        (&through, "ladder", "left-face", PairSide::Socket, false),
        (&over, "board", "top", PairSide::Plug, true),
        (&over, "hatch", "top", PairSide::Plug, false),
    ] {
        let context = context(plan);
        let joint = joint_of(&context, part, socket);
        let with = |i: usize| Filling::Magnet(MagnetIx::new(i));
        let mut fillings = support::all(&context, with(4));
        let mut model = context.model(joint, &fillings, None).unwrap();
        let piece = *model.pairs[0].side(side);
        assert_eq!(piece.flush_behind, behind, "{part}");
        let before_mm = model.pairs[0].gap_mm;
        model.fill(0, side, with(0), None);
        fillings[piece.hole] = with(0);
        let planned = context.model(joint, &fillings, None).unwrap();
        assert!((model.pairs[0].gap_mm - planned.pairs[0].gap_mm).abs() < 1e-12);
        // 1 mm high instead of 2.
        let wider_mm = if behind { 1.0 } else { 0.0 };
        assert!((planned.pairs[0].gap_mm - before_mm - wider_mm).abs() < 1e-12);
    }
}
