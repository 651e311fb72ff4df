//! Axes of faces, contact patches, poses and masses against values known by hand.

use crate::full::full;
use lodewright_geometry::{add, dot, norm, scale, sub};
use lodewright_kit::*;

fn near(found: [f64; 3], expected: [f64; 3]) {
    assert!(norm(sub(found, expected)) < 1e-12, "{found:?} {expected:?}");
}

#[test]
fn x_runs_to_the_front_y_to_the_left_z_up() {
    let normals = [
        (Facing::Up, [0.0, 0.0, 1.0]),
        (Facing::Down, [0.0, 0.0, -1.0]),
        (Facing::Front, [1.0, 0.0, 0.0]),
        (Facing::Back, [-1.0, 0.0, 0.0]),
        (Facing::Left, [0.0, 1.0, 0.0]),
        (Facing::Right, [0.0, -1.0, 0.0]),
    ];
    for (face, normal) in normals {
        assert_eq!(face.normal(), normal);
        near(add(face.normal(), face.opposite().normal()), [0.0; 3]);
        // Half of the box in that direction.
        let half = dot(normal.map(f64::abs), [10.0, 20.0, 30.0]) / 2.0;
        assert_eq!(face.half_extent_mm([10.0, 20.0, 30.0]), half);
        assert_eq!(
            Facing::nearest(add(scale(normal, 2.0), [0.5, 0.4, 0.3])),
            face
        );
    }
    assert_eq!(Facing::nearest([0.0; 3]), Facing::Up);
    assert_eq!(
        (Facing::Down.word(), Facing::Down.way()),
        ("underside", "bottom")
    );
    assert_eq!(
        (Facing::Left.word(), Facing::Left.way()),
        ("left side", "left")
    );
}

#[test]
fn in_plane_axes_are_seen_from_outside() {
    // Looking at the front, the left of the model is on the right hand; looking at its left side, the front is on the left.
    for (face, first) in [
        (Facing::Up, Facing::Front),
        (Facing::Down, Facing::Front),
        (Facing::Front, Facing::Left),
        (Facing::Back, Facing::Right),
        (Facing::Left, Facing::Back),
        (Facing::Right, Facing::Front),
    ] {
        let frame = face.frame([1.0, 2.0, 3.0], 0.0);
        assert_eq!(frame.axes[0], first.normal(), "{face:?}");
        assert_eq!(frame.axes[2], face.normal());
        assert_eq!(frame.origin_mm, [1.0, 2.0, 3.0]);
    }
}

#[test]
fn a_turn_takes_the_first_axis_towards_the_second() {
    let at = |deg: f64| Frame::WORLD.turned(deg).to_outer([1.0, 0.0, 5.0]);
    let (s, c) = (0.5, 0.75_f64.sqrt());
    for (deg, expected) in [
        (0.0, [1.0, 0.0, 5.0]),
        (360.0, [1.0, 0.0, 5.0]),
        (30.0, [c, s, 5.0]),
        (90.0, [0.0, 1.0, 5.0]),
        (180.0, [-1.0, 0.0, 5.0]),
        (270.0, [0.0, -1.0, 5.0]),
        (-90.0, [0.0, -1.0, 5.0]),
        (f64::NAN, [1.0, 0.0, 5.0]),
    ] {
        near(at(deg), expected);
    }
    // Quarter turns are exact.
    for deg in [90.0, 180.0, 270.0] {
        assert!(at(deg).iter().all(|v| v.fract() == 0.0), "{deg}");
    }
}

#[test]
fn a_plate_turned_over_lies_with_its_far_face_where_the_near_one_was() {
    let frame = Frame {
        origin_mm: [1.0, 2.0, 3.0],
        ..Frame::WORLD
    }
    .turned_over(4.0);
    near(frame.to_outer([0.0; 3]), [1.0, 2.0, 7.0]);
    near(frame.to_outer([1.0, 1.0, 4.0]), [2.0, 1.0, 3.0]);
    near(frame.to_inner([2.0, 1.0, 3.0]), [1.0, 1.0, 4.0]);
}

#[test]
fn a_frame_within_another_is_seen_from_outside_both() {
    let outer = Facing::Front.frame([10.0, 0.0, 0.0], 0.0);
    let inner = Frame {
        origin_mm: [1.0, 2.0, 3.0],
        ..Frame::WORLD
    };
    // The front's axes are left, up, front.
    near(inner.within(&outer).to_outer([0.0; 3]), [13.0, 1.0, 2.0]);
}

#[test]
fn sockets_and_plugs_lie_in_the_middle_of_their_face_where_nothing_is_said() {
    let mut plan = full();
    plan.parts[0].box_middle_mm = [1.0, 2.0, 3.0];
    let base = &plan.parts[0];
    let nose = Socket {
        facing: Facing::Front,
        ..plan.sockets[1].clone()
    };
    // The base is 80 by 40 by 30 mm.
    near(nose.frame(base).origin_mm, [41.0, 2.0, 3.0]);
    let placed = Socket {
        at_mm: Some([5.0, 6.0, 7.0]),
        ..nose.clone()
    };
    near(placed.frame(base).origin_mm, [5.0, 6.0, 7.0]);
    assert_eq!(nose.side_of_host(base, [0.0, 1.0]), Facing::Up);
    assert_eq!(nose.side_of_host(base, [1.0, 0.0]), Facing::Left);
    // The lamp is a cube of 20 mm: it meets the front of its host with its back.
    let (lamp, plug) = (&plan.parts[2], &plan.parts[2].plugs[0]);
    let frame = lamp.plug_frame(plug, Facing::Front);
    near(frame.origin_mm, [-10.0, 0.0, 0.0]);
    assert_eq!(frame.axes, nose.frame(base).axes);
    let turned = Plug {
        facing: Some(Facing::Up),
        ..plug.clone()
    };
    let frame = lamp.plug_frame(&turned, Facing::Front);
    near(frame.origin_mm, [0.0, 0.0, 10.0]);
    assert_eq!(frame.axes[2], Facing::Down.normal());
}

#[test]
fn entries_are_found_by_their_id() {
    let plan = full();
    assert_eq!(plan.part(&"lamp".into()), Some(&plan.parts[2]));
    assert_eq!(plan.socket(&"roof".into()), Some(&plan.sockets[1]));
    assert_eq!(plan.variant(&"winter".into()), Some(&plan.variants[0]));
    assert_eq!(plan.material(&"resin".into()), Some(&plan.materials[1]));
    let plough = &plan.parts[1];
    assert_eq!(plough.plug(&"main".into()), Some(&plough.plugs[0]));
    let sites = plough.plugs[0].sites.as_ref().unwrap();
    assert_eq!(plough.plugs[0].site(&"p".into()), Some(&sites[0]));
    assert_eq!(plough.plugs[0].site(&"q".into()), None);
    let seat = Seat {
        plug: Some("none".into()),
        ..Seat::straight("plough".into())
    };
    assert_eq!(seat.plug_in(plough), None);
    assert_eq!(
        Seat::straight("plough".into()).plug_in(plough),
        Some(&plough.plugs[0])
    );
    // The centre of a triangle: a third of its height from each side.
    let [x, y, z] = plough.centre_of_mass_mm();
    assert!((x + 10.0 / 3.0).abs() < 1e-9 && y.abs() < 1e-9 && (z + 10.0 / 3.0).abs() < 1e-9);
    let part = Part {
        centre_mm: Some([1.0, 2.0, 3.0]),
        ..plough.clone()
    };
    assert_eq!(part.centre_of_mass_mm(), [1.0, 2.0, 3.0]);
}

#[test]
fn a_cell_is_free_where_there_is_a_choice() {
    let cell = |n: usize, may_be_empty| Cell {
        socket: "nose".into(),
        seats: vec![Seat::straight("lamp".into()); n],
        may_be_empty,
    };
    assert!(!cell(0, true).is_free() && !cell(1, false).is_free());
    assert!(cell(1, true).is_free() && cell(2, false).is_free());
}

#[test]
fn a_pose_turns_and_mirrors_what_lies_on_the_plug() {
    let pose = |turn_deg, over| Pose { turn_deg, over };
    assert_eq!(pose(0.0, false).place([3.0, 1.0]), [3.0, 1.0]);
    assert_eq!(pose(90.0, false).place([3.0, 1.0]), [-1.0, 3.0]);
    assert_eq!(pose(0.0, true).place([3.0, 1.0]), [3.0, -1.0]);
    assert_eq!(pose(90.0, true).place([3.0, 1.0]), [1.0, 3.0]);
    assert!(pose(0.0, false).is_straight());
    assert!(!pose(90.0, false).is_straight() && !pose(0.0, true).is_straight());
}

/// The shoelace formula.
fn area_mm2(outline: &[[f64; 2]]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    let twice: f64 = outline
        .iter()
        .zip(next)
        .map(|(a, b)| a[0] * b[1] - b[0] * a[1])
        .sum();
    twice / 2.0
}

#[test]
fn contact_patches_have_the_area_of_their_shape() {
    let rectangle = Patch::Rectangle {
        width_mm: 6.0,
        height_mm: 4.0,
    }
    .outline_mm();
    assert_eq!(
        rectangle,
        [[-3.0, -2.0], [3.0, -2.0], [3.0, 2.0], [-3.0, 2.0]]
    );
    let disc = Patch::Disc { diameter_mm: 10.0 }.outline_mm();
    assert!(
        disc.iter()
            .all(|p| (libm::hypot(p[0], p[1]) - 5.0).abs() < 1e-12)
    );
    // A regular polygon of n sides in a circle of radius r: n r² sin(2 π / n) / 2; sin 15° = (√6 - √2) / 4.
    let sin_15 = (6.0_f64.sqrt() - 2.0_f64.sqrt()) / 4.0;
    assert!((area_mm2(&disc) - 24.0 * 25.0 * sin_15 / 2.0).abs() < 1e-9);
    let points = vec![[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]];
    assert_eq!(Patch::Points(points.clone()).outline_mm(), points);
}

#[test]
fn a_part_weighs_its_plastic() {
    let part = |drawn, inside, mass| Part {
        size_mm: [30.0, 20.0, 10.0],
        drawn,
        inside,
        mass,
        ..full().parts[1].clone()
    };
    let of_body = |drawn, inside| part(drawn, inside, Mass::Body);
    let close = |part: Part, mass_g: f64, spread: f64, guessed| {
        let found = part.mass_estimate(2.0);
        assert!((found.mass_g - mass_g).abs() < 1e-9, "{found:?} {mass_g}");
        assert_eq!((found.spread, found.guessed), (spread, guessed));
    };
    close(of_body(Drawn::Box, Inside::Solid), 12.0, 0.15, false);
    // A regular polygon of n sides in a circle of radius r: n r² sin(2 π / n) / 2; sin 15° = (√6 - √2) / 4.
    let sin_15 = (6.0_f64.sqrt() - 2.0_f64.sqrt()) / 4.0;
    close(
        of_body(Drawn::Barrel, Inside::Solid),
        36.0 * sin_15,
        0.15,
        false,
    );
    let shell = Inside::Shell { wall_mm: 1.0 };
    close(
        of_body(Drawn::Box, shell),
        2.0 * (6.0 - 2.8 * 1.8 * 0.8),
        0.15,
        false,
    );
    // Nothing known: a shell of 1.2 mm.
    close(
        of_body(Drawn::Box, Inside::Unsaid),
        2.0 * (6.0 - 2.76 * 1.76 * 0.76),
        0.5,
        true,
    );
    let told = |mass| part(Drawn::Box, Inside::Unsaid, mass);
    close(told(Mass::Weighed { mass_g: 7.0 }), 7.0, 0.02, false);
    close(told(Mass::Volume { volume_cm3: 3.0 }), 6.0, 0.15, false);
    close(told(Mass::Volume { volume_cm3: -3.0 }), 0.0, 0.15, false);
}

#[test]
fn coats_lie_between_faces_that_are_not_masked() {
    let finish = Finish {
        primer_um: 20.0,
        colour_um: 40.0,
        varnish_um: 15.0,
        ..Finish::default()
    };
    assert!((finish.coats_mm() - 0.075).abs() < 1e-15);
    assert_eq!(
        Finish {
            mask_mating_faces: true,
            ..finish
        }
        .coats_mm(),
        0.0
    );
}

#[test]
fn the_other_pole_is_the_other_one() {
    assert_eq!((Pole::N.other(), Pole::S.other()), (Pole::S, Pole::N));
    assert_eq!((Pole::N.letter(), Pole::S.letter()), ("N", "S"));
}

#[test]
fn what_is_as_usual_need_not_be_written() {
    assert!(QuoteTerms::default().is_usual() && Stowing::default().is_usual());
    assert!(
        !QuoteTerms {
            valid_days: 3,
            ..QuoteTerms::default()
        }
        .is_usual()
    );
    assert!(!full().stowing.is_usual());
    assert!(OwnWork::default().is_empty());
    let own = full().own_work;
    for one in [
        OwnWork {
            steps: own.steps,
            ..OwnWork::default()
        },
        OwnWork {
            splits: own.splits,
            ..OwnWork::default()
        },
        OwnWork {
            pins: own.pins,
            ..OwnWork::default()
        },
    ] {
        assert!(!one.is_empty());
    }
}
