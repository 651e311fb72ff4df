//! What bodies let a hole be, on the smallest kits that show it: asked of the hole, of the judge and of the exact search alike.

use lodewright_joints::{Context, Filling, Hole, HoleIx, Misfit, Reason, misfit, takes};
use lodewright_kit::{Drawn, Inside, Ix, MagnetIx, MagnetStock, PegKind, Plan};

use crate::support::{
    all, context, fewest_of, joint_of, magnet, make_wall, mast, one_joint, only, plug_hole,
    plug_site, socket_hole, top, wall,
};

/// Half over the tangent of half of 118 degrees, by hand from the angle of the usual twist drill.
const POINT: f64 = 0.300_430_309_513_78;

/// A joint with one magnet in stock and a site of its own on each side.
fn kit(size: MagnetStock, change: impl FnOnce(&mut Plan)) -> Plan {
    one_joint(|plan| {
        plan.stock.magnets = vec![size];
        plan.stock.steel.clear();
        let settings = &mut plan.settings;
        (settings.hold_target_g, settings.shake_g) = (0.01, 0.0);
        mast(plan).plugs[0].sites = Some(vec![plug_site("a", [0.0; 2])]);
        change(plan);
    })
}

/// What is said of a hole with the only magnet of the stock; the judge and the exact search have to agree.
fn said(context: &Context, hole: HoleIx) -> Option<Misfit> {
    let filling = Filling::Magnet(MagnetIx::new(0));
    let it: &Hole = &context.holes.holes[hole];
    let found = misfit(context.plan(), it, filling);
    assert_eq!(takes(context.plan(), it, filling), found.is_none());
    let model = context.model(only(), &all(context, filling), None).unwrap();
    let reasons = model.judge().reasons;
    let told = |r: &Reason| match *r {
        Reason::NoRoom { hole: h, misfit } if h == hole => Some(misfit),
        _ => None,
    };
    assert_eq!(reasons.iter().find_map(told), found, "{reasons:?}");
    // One magnet on each side or none.
    let mut holes = context.holes.holes.iter();
    let all_fit = holes.all(|h| takes(context.plan(), h, filling));
    let wanted = if all_fit { filling } else { Filling::Empty };
    let chosen = fewest_of(context).fillings;
    assert!(chosen.values().iter().all(|f| *f == wanted), "{chosen:?}");
    found
}

fn of_part(plan: &Plan) -> Option<Misfit> {
    let context = context(plan);
    said(&context, plug_hole(&context, "mast", "a"))
}

fn of_host(plan: &Plan) -> Option<Misfit> {
    let context = context(plan);
    said(&context, socket_hole(&context, "top", "a"))
}

fn too_deep(found: Option<Misfit>, by_mm: f64) {
    let Some(Misfit::TooDeep { short_mm }) = found else {
        panic!("{found:?}")
    };
    assert!((short_mm - by_mm).abs() < 1e-9, "{short_mm} {by_mm}");
}

fn front_gone(found: Option<Misfit>, by_mm: f64) {
    let Some(Misfit::FrontGone { short_mm }) = found else {
        panic!("{found:?}")
    };
    assert!((short_mm - by_mm).abs() < 1e-9, "{short_mm} {by_mm}");
}

fn near_side(found: Option<Misfit>, left: f64) {
    let Some(Misfit::NearSide { left_mm }) = found else {
        panic!("{found:?}")
    };
    assert!((left_mm - left).abs() < 1e-9, "{left_mm} {left}");
}

fn near_peg(found: Option<Misfit>, left: f64) {
    let Some(Misfit::NearPeg { left_mm }) = found else {
        panic!("{found:?}")
    };
    assert!((left_mm - left).abs() < 1e-9, "{left_mm} {left}");
}

/// By hand: magnet 2 mm and glue 0.1 mm, the point of a 5.1 mm drill, 0.5 mm of wall, in a spacer of 1.5 mm.
#[test]
fn a_thin_spacer_has_no_room_for_a_magnet() {
    let spacer = |thick_mm: f64, flat: bool| {
        of_part(&kit(magnet(5.0, 2.0, 10), |plan| {
            mast(plan).size_mm = [12.0, 12.0, thick_mm];
            plan.settings.flat_cutter = flat;
        }))
    };
    too_deep(spacer(1.5, false), 2.1 + POINT * 5.1 + 0.5 - 1.5);
    too_deep(spacer(1.5, true), 2.1 + 0.5 - 1.5);
    let enough_mm = 2.1 + POINT * 5.1 + 0.5;
    assert_eq!(spacer(enough_mm, false), None);
    too_deep(spacer(enough_mm - 0.01, false), 0.01);
    assert_eq!(spacer(2.6, true), None);
    too_deep(spacer(2.59, true), 0.01);
}

/// The hole is as wide as the bit at hand: by hand, one of 5.3 mm for a magnet of 5 mm.
#[test]
fn a_wider_bit_makes_a_wider_hole() {
    let part = |size_mm: [f64; 3], bits_mm: &[f64]| {
        of_part(&kit(magnet(5.0, 2.0, 10), |plan| {
            mast(plan).size_mm = size_mm;
            plan.stock.bits_mm = bits_mm.to_vec();
        }))
    };
    too_deep(
        part([12.0, 12.0, 1.5], &[5.3]),
        2.1 + POINT * 5.3 + 0.5 - 1.5,
    );
    near_side(part([6.2, 12.0, 9.0], &[5.3]), 3.1 - 2.65);
    assert_eq!(part([6.2, 12.0, 9.0], &[]), None);
    assert_eq!(part([6.2, 12.0, 9.0], &[5.1]), None);
}

/// By hand: the barrel of 24 corners is 0.4 cos 7.5° from its middle to a side, the hole 1.05 mm to its rim.
#[test]
fn a_thin_rod_has_no_room_beside_a_magnet() {
    let rod = |across_mm: f64| {
        of_part(&kit(magnet(2.0, 1.0, 10), |plan| {
            mast(plan).drawn = Drawn::Barrel;
            mast(plan).size_mm = [across_mm, across_mm, 20.0];
        }))
    };
    let to_side = |across_mm: f64| across_mm / 2.0 * libm::cos(7.5_f64.to_radians());
    near_side(rod(0.8), to_side(0.8) - 1.05);
    assert_eq!(rod(3.13), None);
    near_side(rod(3.12), to_side(3.12) - 1.05);
}

/// Lying on its side a barrel falls away under the rim of a hole. By hand, half a millimetre down from a corner of the 24 of a
/// barrel of 10 mm: between the next two, 15° and 30° round.
#[test]
fn a_lying_barrel_has_no_face_for_a_wide_hole() {
    let barrel = |diameter_mm: f64| {
        of_part(&kit(magnet(diameter_mm, 0.5, 10), |plan| {
            mast(plan).drawn = Drawn::Barrel;
            mast(plan).size_mm = [30.0, 10.0, 10.0];
        }))
    };
    assert_eq!(barrel(3.0), None);
    let [(y, down), (then_y, then_down)] = [15.0_f64, 30.0].map(|deg| {
        let (s, c) = libm::sincos(deg.to_radians());
        (5.0 * s, 5.0 - 5.0 * c)
    });
    let half_mm = y + (0.5 - down) / (then_down - down) * (then_y - y);
    near_side(barrel(5.0), half_mm - 2.55);
}

/// By hand: a flat magnet of 3 by 0.5 mm in a board of 1.2 mm, and the drill's point through the board.
#[test]
fn a_point_breaks_through_a_board() {
    let board = |flat: bool| {
        of_part(&kit(magnet(3.0, 0.5, 10), |plan| {
            mast(plan).size_mm = [12.0, 12.0, 1.2];
            plan.settings.flat_cutter = flat;
        }))
    };
    too_deep(board(false), 0.6 + POINT * 3.1 + 0.5 - 1.2);
    assert_eq!(board(true), None);
}

/// Drilled from behind, the point comes first at the wall in front.
#[test]
fn a_point_pierces_the_wall_in_front() {
    let walled = |wall_mm: f64, flat: bool| {
        of_part(&kit(magnet(3.0, 1.0, 10), |plan| {
            plan.settings.flat_cutter = flat;
            mast(plan).plugs[0].sites.as_mut().unwrap()[0].wall_mm = wall_mm;
        }))
    };
    front_gone(walled(0.4, false), POINT * 3.1 - 0.4);
    assert_eq!(walled(0.4, true), None);
    assert_eq!(walled(POINT * 3.1, false), None);
}

/// A shell has no more wall in front than it is thick; behind that wall lies the hollow, in which a magnet may stand free, but no
/// farther than the wall on the other side.
#[test]
fn a_wall_in_front_is_no_thicker_than_the_shell() {
    let shell = |wall_mm: f64, high_mm: f64| {
        of_part(&kit(magnet(3.0, 1.0, 10), |plan| {
            plan.settings.flat_cutter = true;
            mast(plan).inside = Inside::Shell { wall_mm: 1.2 };
            mast(plan).size_mm = [12.0, 12.0, high_mm];
            mast(plan).plugs[0].sites.as_mut().unwrap()[0].wall_mm = wall_mm;
        }))
    };
    assert_eq!(shell(1.2, 9.0), None);
    front_gone(shell(2.0, 9.0), 0.8);
    // 1.2 and 1.1 mm of magnet and glue before a far wall that begins 2.1 mm in.
    too_deep(shell(1.2, 3.3), 0.2);
    assert_eq!(shell(1.2, 3.5), None);
}

/// A hole of 40 mm with a magnet of 2 mm: the rest is gap on the far side, and what sits there is in trouble.
#[test]
fn a_bore_right_through_counts_as_gap() {
    let bored = |thick_mm: f64| {
        let mut plan = wall(
            "\tA\tB\nLeft face\tLadder\tHose\nRight face\tLocker\tReel\n",
            3.0,
            |plan| plan.stock.magnets = vec![magnet(5.0, 2.0, 10)],
        );
        make_wall(&mut plan, thick_mm);
        let context = context(&plan);
        let fillings = all(&context, Filling::Magnet(MagnetIx::new(0)));
        ["ladder", "locker"].map(|part| {
            let at = if part == "ladder" {
                "left-face"
            } else {
                "right-face"
            };
            let joint = joint_of(&context, part, at);
            let model = context.model(joint, &fillings, None).unwrap();
            assert!(!model.judge().has(|r| matches!(r, Reason::NoRoom { .. })));
            (model.pairs[0].gap_mm, model.judge().is_good())
        })
    };
    let [near, far] = bored(40.0);
    assert!((far.0 - near.0 - 38.0).abs() < 1e-9);
    assert_eq!((near.1, far.1), (true, false));
    let [near, far] = bored(2.0);
    assert!((far.0 - near.0).abs() < 1e-9 && near.1 && far.1);
}

/// The two faces look at each other: the first axis of one runs against the other's.
#[test]
fn the_mouths_of_a_hole_right_through_have_to_meet() {
    let mouths = |aside_mm: f64, change: &dyn Fn(&mut Plan)| {
        let plan = wall(
            "\tA\tB\nLeft face\tReel\t-\nRight face\t-\tHose\n",
            3.0,
            |plan| {
                plan.stock.magnets = vec![magnet(5.0, 2.0, 10)];
                plan.stock.steel.clear();
                plan.settings.hold_target_g = 0.01;
                plan.settings.shake_g = 0.0;
                plan.sockets[0].sites[0].at_mm = [1.0, 0.0];
                plan.sockets[1].sites[0].at_mm = [aside_mm - 1.0, 0.0];
                change(plan);
            },
        );
        let context = context(&plan);
        said(&context, socket_hole(&context, "left-face", "a"))
    };
    let as_it_is = |_: &mut Plan| {};
    assert_eq!(mouths(0.0, &as_it_is), None);
    assert_eq!(mouths(0.5, &as_it_is), None);
    assert_eq!(mouths(-0.6, &as_it_is), Some(Misfit::MouthsApart));
    assert_eq!(mouths(2.0, &as_it_is), Some(Misfit::MouthsApart));
    // Both on one face, or the far one not on the far side.
    let same_face = |plan: &mut Plan| {
        plan.sockets[1].facing = plan.sockets[0].facing;
        plan.sockets[1].sites[0].at_mm = [1.0, 0.0];
        make_wall(plan, 3.0);
    };
    assert_eq!(mouths(0.0, &same_face), Some(Misfit::MouthsApart));
    // A hollow between the two faces, and none where the walls meet.
    let shell = |thick_mm: f64| {
        move |plan: &mut Plan| {
            plan.parts[0].inside = Inside::Shell { wall_mm: 1.2 };
            make_wall(plan, thick_mm);
        }
    };
    assert_eq!(mouths(0.0, &shell(3.0)), Some(Misfit::NoMaterial));
    assert_eq!(mouths(0.0, &shell(2.4)), None);
}

/// By hand: a peg of 2 mm, a hole of 5.1 mm, their middles so far apart.
#[test]
fn a_peg_and_a_magnet_need_room_beside_each_other() {
    let pegged = |at_mm: [f64; 2], kind: PegKind, keeps_peg: bool| {
        kit(magnet(5.0, 2.0, 10), |plan| {
            let peg = &mut top(plan).peg;
            (peg.kind, peg.at_mm, peg.diameter_mm) = (kind, at_mm, 2.0);
            mast(plan).plugs[0].keeps_peg = keeps_peg;
        })
    };
    for kind in [PegKind::Round, PegKind::Keyed, PegKind::Two] {
        let on_one_spot = pegged([0.0; 2], kind, true);
        near_peg(of_host(&on_one_spot), -1.0 - 2.55);
        near_peg(of_part(&on_one_spot), -1.0 - 2.55);
        // Cut off, it leaves its hole in the host alone.
        let cut_off = pegged([0.0; 2], kind, false);
        near_peg(of_host(&cut_off), -1.0 - 2.55);
        assert_eq!(of_part(&cut_off), None);
    }
    let beside = pegged([4.05, 0.0], PegKind::Round, true);
    assert_eq!((of_host(&beside), of_part(&beside)), (None, None));
    near_peg(of_part(&pegged([4.04, 0.0], PegKind::Round, true)), 0.49);
    let none = pegged([0.0; 2], PegKind::None, true);
    assert_eq!((of_host(&none), of_part(&none)), (None, None));
}

/// The second of two pegs lies across the middle from the first; turned with its part, a peg is elsewhere in the part.
#[test]
fn every_peg_counts_where_it_lies() {
    let pegged = |kind: PegKind, turn_deg: f64, own_mm: [f64; 2]| {
        of_part(&kit(magnet(3.0, 1.0, 10), |plan| {
            let peg = &mut top(plan).peg;
            (peg.kind, peg.at_mm, peg.diameter_mm) = (kind, [0.0, 4.0], 1.0);
            let first = &mut plan.variants.iter_mut().next().unwrap().cells[0];
            first.seats[0].pose.turn_deg = turn_deg;
            top(plan).sites[0].at_mm = turned(own_mm, turn_deg);
            mast(plan).plugs[0].sites = Some(vec![plug_site("a", own_mm)]);
        }))
    };
    near_peg(pegged(PegKind::Two, 0.0, [0.0, -4.0]), -0.5 - 1.55);
    assert_eq!(pegged(PegKind::Round, 0.0, [0.0, -4.0]), None);
    // A quarter counter-clockwise on the host, the peg at (0, 4) is the part's at (4, 0).
    near_peg(pegged(PegKind::Round, 90.0, [4.0, 0.0]), -0.5 - 1.55);
    assert_eq!(pegged(PegKind::Round, 0.0, [4.0, 0.0]), None);
}

fn turned([x, y]: [f64; 2], turn_deg: f64) -> [f64; 2] {
    if turn_deg == 90.0 { [-y, x] } else { [x, y] }
}

/// By hand: in a shell of 1.2 mm a hole is no deeper than 0.7 mm, unless more was measured there; what was measured is believed no
/// farther than the part goes.
#[test]
fn a_shell_takes_what_its_wall_takes() {
    let shell = |inside: Inside, measured_mm: Option<f64>, high_mm: f64, thick_mm: f64| {
        of_part(&kit(magnet(3.0, high_mm, 10), |plan| {
            plan.settings.flat_cutter = true;
            mast(plan).inside = inside;
            mast(plan).size_mm = [12.0, 12.0, thick_mm];
            mast(plan).plugs[0].sites.as_mut().unwrap()[0].measured_mm = measured_mm;
        }))
    };
    let thin = Inside::Shell { wall_mm: 1.2 };
    assert_eq!(shell(thin, None, 0.5, 9.0), None);
    too_deep(shell(thin, None, 1.0, 9.0), 1.1 + 0.5 - 1.2);
    assert_eq!(shell(thin, Some(1.6), 1.0, 9.0), None);
    too_deep(shell(thin, Some(1.5), 1.0, 9.0), 0.1);
    // Measured thinner than the part is full.
    too_deep(shell(Inside::Solid, Some(1.5), 1.0, 9.0), 0.1);
    assert_eq!(shell(Inside::Solid, None, 1.0, 9.0), None);
    too_deep(shell(Inside::Solid, Some(99.0), 1.0, 1.5), 0.1);
    too_deep(shell(thin, Some(99.0), 1.0, 1.5), 0.1);
    // Walls that meet leave no hollow.
    assert_eq!(shell(thin, None, 1.0, 2.4), None);
    too_deep(shell(thin, None, 1.0, 2.5), 0.4);
    assert_eq!(shell(Inside::Unsaid, None, 1.0, 9.0), None);
}

/// What was measured at a socket is the host's: the hole opposite it in a part is not as deep for that.
#[test]
fn what_was_measured_is_not_the_other_sides() {
    let plan = kit(magnet(3.0, 1.0, 10), |plan| {
        plan.settings.flat_cutter = true;
        mast(plan).plugs[0].sites = None;
        mast(plan).inside = Inside::Shell { wall_mm: 1.2 };
        plan.parts[0].inside = Inside::Shell { wall_mm: 1.2 };
        top(plan).sites[0].measured_mm = Some(5.0);
    });
    let context = context(&plan);
    assert_eq!(said(&context, socket_hole(&context, "top", "a")), None);
    too_deep(said(&context, plug_hole(&context, "mast", "1")), 0.4);
}

/// A figure of 10 by 20 by 40 mm stands on two feet, y from 0.8 to 6 mm to either side: between them there is nothing.
#[test]
fn a_figure_has_nothing_between_its_legs() {
    let figure = |y_mm: f64| {
        of_part(&kit(magnet(2.0, 1.0, 10), |plan| {
            mast(plan).drawn = Drawn::Figure;
            mast(plan).size_mm = [10.0, 20.0, 40.0];
            top(plan).sites[0].at_mm = [0.0, y_mm];
            mast(plan).plugs[0].sites = Some(vec![plug_site("a", [0.0, y_mm])]);
        }))
    };
    assert_eq!(figure(0.0), Some(Misfit::NoMaterial));
    assert_eq!(figure(3.4), None);
    assert_eq!(figure(-3.4), None);
    near_side(figure(2.0), 1.2 - 1.05);
}

/// A patch that is larger than a face is cut to it: of 12 by 12 mm, 6 by 4 of the part; 8 mm where the socket lies 2 mm from
/// the end of its host; all of it where nobody has said where it lies.
#[test]
fn contact_is_within_both_faces() {
    let area_mm2 = |size_mm: [f64; 3], at_mm: Option<[f64; 3]>| {
        let mut plan = kit(magnet(3.0, 1.0, 10), |plan| mast(plan).size_mm = size_mm);
        top(&mut plan).at_mm = at_mm;
        lodewright_geometry::polygon_area_mm2(&context(&plan).contact_mm[only()])
    };
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} {b}");
    near(area_mm2([20.0; 3], Some([0.0, 0.0, 15.0])), 144.0);
    near(area_mm2([6.0, 4.0, 9.0], Some([0.0, 0.0, 15.0])), 24.0);
    near(area_mm2([20.0; 3], Some([38.0, 0.0, 15.0])), 8.0 * 12.0);
    near(area_mm2([20.0; 3], Some([50.0, 0.0, 15.0])), 0.0);
    near(area_mm2([20.0; 3], None), 144.0);
    near(area_mm2([6.0, 4.0, 9.0], None), 24.0);
    // On a host 8 mm wide: nobody knows yet where on it an unplaced socket will be.
    let narrow = |at_mm: Option<[f64; 3]>| {
        let mut plan = kit(magnet(3.0, 1.0, 10), |plan| plan.parts[0].size_mm[0] = 8.0);
        top(&mut plan).at_mm = at_mm;
        lodewright_geometry::polygon_area_mm2(&context(&plan).contact_mm[only()])
    };
    near(narrow(Some([0.0, 0.0, 15.0])), 8.0 * 12.0);
    near(narrow(None), 144.0);
    // In a recess 3 mm deep it touches as well; 1 mm above the face it does not.
    near(area_mm2([20.0; 3], Some([0.0, 0.0, 12.0])), 144.0);
    near(area_mm2([20.0; 3], Some([0.0, 0.0, 16.0])), 0.0);
}

/// As long as its socket is not placed, a hole may be as deep as the host is thick, and near no side.
#[test]
fn a_hole_that_nobody_has_placed_may_be_anywhere() {
    let somewhere = |thick_mm: f64, inside: Inside| {
        let mut plan = kit(magnet(3.0, 1.0, 10), |plan| {
            plan.settings.flat_cutter = true;
            plan.parts[0].size_mm = [80.0, 2.0, thick_mm];
            plan.parts[0].inside = inside;
        });
        top(&mut plan).at_mm = None;
        of_host(&plan)
    };
    assert_eq!(somewhere(1.6, Inside::Solid), None);
    too_deep(somewhere(1.5, Inside::Solid), 0.1);
    too_deep(somewhere(9.0, Inside::Shell { wall_mm: 1.5 }), 0.1);
    assert_eq!(somewhere(3.0, Inside::Shell { wall_mm: 1.5 }), None);
}

/// A hole beyond what the builder wants there.
#[test]
fn a_site_says_how_large_its_hole_may_be() {
    let sized = |wide_mm: f64, deep_mm: f64| {
        of_part(&kit(magnet(3.0, 1.0, 10), |plan| {
            let own = &mut mast(plan).plugs[0].sites.as_mut().unwrap()[0];
            (own.max_diameter_mm, own.max_depth_mm) = (wide_mm, deep_mm);
        }))
    };
    assert_eq!(sized(3.1, 1.1), None);
    assert_eq!(sized(3.09, 1.1), Some(Misfit::BeyondSite));
    assert_eq!(sized(3.1, 1.09), Some(Misfit::BeyondSite));
}
