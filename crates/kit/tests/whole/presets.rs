//! Usual joints are laid out as their sentences say, and drawn parts lie where their shape has them.

use lodewright_geometry::distance;
use lodewright_kit::*;

/// A base of 80 by 40 by 30 mm with a socket that nobody has touched, where a rod sits.
fn plan() -> Plan {
    let grid = Edit::PasteGrid("\tA\tB\nSpot\tRod\tRod / Mast\n".to_owned());
    Plan::empty("t").edited(&grid).unwrap()
}

fn laid_out(preset: JointPreset, plan: &Plan) -> Plan {
    let edit = preset.edit(plan, &"spot".into()).unwrap();
    plan.edited(&edit).unwrap()
}

fn rectangle(width_mm: f64, height_mm: f64) -> Patch {
    Patch::Rectangle {
        width_mm,
        height_mm,
    }
}

/// Place, diameter and depth of each site.
fn sites(socket: &Socket) -> Vec<([f64; 2], f64, f64)> {
    let sites = socket.sites.iter();
    sites
        .map(|s| (s.at_mm, s.max_diameter_mm, s.max_depth_mm))
        .collect()
}

#[test]
fn a_preset_does_what_its_sentence_says() {
    let disc = |diameter_mm| Patch::Disc { diameter_mm };
    let two = |x: f64, d, h| vec![([x, 0.0], d, h), ([-x, 0.0], d, h)];
    let one = |d, h| vec![([0.0, 0.0], d, h)];
    let corners = [[34.0, 14.0], [-34.0, 14.0], [-34.0, -14.0], [34.0, -14.0]];
    for (preset, patch, kind, length_mm, expected) in [
        (
            JointPreset::NoseTool,
            rectangle(14.0, 12.0),
            PegKind::Keyed,
            4.0,
            two(3.5, 6.0, 3.0),
        ),
        (
            JointPreset::Plate,
            rectangle(40.0, 30.0),
            PegKind::Two,
            3.0,
            two(15.0, 6.0, 3.0),
        ),
        (
            JointPreset::Roof,
            rectangle(76.0, 36.0),
            PegKind::Two,
            2.0,
            corners.map(|at| (at, 5.0, 3.0)).to_vec(),
        ),
        (
            JointPreset::Locker,
            rectangle(16.0, 10.0),
            PegKind::Keyed,
            1.0,
            one(5.0, 3.0),
        ),
        (
            JointPreset::Waist,
            disc(8.0),
            PegKind::None,
            3.0,
            one(4.0, 3.0),
        ),
        (
            JointPreset::Antenna,
            disc(5.0),
            PegKind::Round,
            1.5,
            one(3.0, 2.0),
        ),
    ] {
        let plan = laid_out(preset, &plan());
        let socket = &plan.sockets[0];
        assert_eq!(socket.patch, patch, "{preset:?}");
        assert_eq!(
            (socket.peg.kind, socket.peg.length_mm),
            (kind, length_mm),
            "{preset:?}"
        );
        assert_eq!(sites(socket), expected, "{preset:?}");
    }
}

#[test]
fn a_preset_stays_1_mm_within_a_small_face() {
    for (preset, facing, patch, x_mm) in [
        (
            JointPreset::NoseTool,
            Facing::Front,
            rectangle(10.0, 6.0),
            1.5,
        ),
        (JointPreset::Plate, Facing::Up, rectangle(12.0, 10.0), 1.0),
        (JointPreset::Plate, Facing::Left, rectangle(12.0, 6.0), 1.0),
        (
            JointPreset::Locker,
            Facing::Right,
            rectangle(12.0, 6.0),
            0.0,
        ),
        (JointPreset::Roof, Facing::Down, rectangle(9.0, 7.0), 0.5),
    ] {
        let mut plan = plan();
        plan.parts[0].size_mm = [13.0, 11.0, 7.0];
        plan.sockets[0].facing = facing;
        plan.sockets[0].spin_deg = 90.0;
        let plan = laid_out(preset, &plan);
        let socket = &plan.sockets[0];
        // A socket that was touched keeps its face.
        assert_eq!(socket.facing, facing);
        assert_eq!(socket.patch, patch, "{preset:?} {facing:?}");
        assert_eq!(socket.sites[0].at_mm[0], x_mm, "{preset:?} {facing:?}");
    }
}

#[test]
fn an_untouched_socket_goes_to_the_usual_face() {
    for (preset, facing) in [
        (JointPreset::NoseTool, Facing::Front),
        (JointPreset::Locker, Facing::Left),
        (JointPreset::Roof, Facing::Up),
    ] {
        assert_eq!(laid_out(preset, &plan()).sockets[0].facing, facing);
    }
}

#[test]
fn lockers_share_one_hole_as_deep_as_the_wall() {
    for (thick_mm, depth_mm) in [(40.0, 3.0), (2.0, 2.0), (0.2, 0.5)] {
        let mut plan = plan();
        plan.parts[0].size_mm[1] = thick_mm;
        let plan = laid_out(JointPreset::Locker, &plan);
        let [near, far] = &plan.sockets[..] else {
            panic!("{:?}", plan.sockets)
        };
        assert_eq!((near.facing, far.facing), (Facing::Left, Facing::Right));
        assert_eq!(
            (&*far.name, far.id.as_str()),
            ("Spot, far side", "spot-far-side")
        );
        assert_eq!(near.sites[0].max_depth_mm, depth_mm);
        assert_eq!(near.sites[0].through, None);
        let end = far.sites[0].through.as_ref().unwrap();
        assert_eq!((end.socket.as_str(), end.site.as_str()), ("spot", "a"));
    }
}

#[test]
fn the_far_locker_is_a_socket_of_the_same_host_that_is_there_already() {
    let mut plan = plan();
    let mut there = Socket::plain("there".into(), "There".to_owned(), "base".into());
    there.facing = Facing::Right;
    let mut elsewhere = Socket::plain("rod-side".into(), "Rod".to_owned(), "rod".into());
    elsewhere.facing = Facing::Right;
    plan.sockets.extend([elsewhere, there]);
    let plan = laid_out(JointPreset::Locker, &plan);
    assert_eq!(plan.sockets.len(), 3);
    assert!(plan.sockets[2].sites[0].through.is_some());
    assert_eq!(plan.sockets[1].sites[0].through, None);
}

#[test]
fn a_placed_locker_has_its_far_side_at_the_same_place_of_the_wall() {
    for (facing, at_mm, far_mm) in [
        (Facing::Left, [7.0, 20.0, 4.0], [7.0, -18.0, 4.0]),
        (Facing::Back, [-39.0, 3.0, 4.0], [41.0, 3.0, 4.0]),
        (Facing::Up, [7.0, 3.0, 18.0], [7.0, 3.0, -12.0]),
    ] {
        let mut plan = plan();
        plan.parts[0].box_middle_mm = [1.0, 2.0, 3.0];
        (plan.sockets[0].facing, plan.sockets[0].at_mm) = (facing, Some(at_mm));
        let plan = laid_out(JointPreset::Locker, &plan);
        assert_eq!(plan.sockets[1].at_mm, Some(far_mm), "{facing:?}");
    }
}

#[test]
fn every_part_that_may_be_an_antenna_gets_a_rod_unless_it_has_one() {
    let mut plan = plan();
    plan.parts[1].size_mm[2] = 60.0;
    plan.parts[2].size_mm[2] = 8.0;
    let after = laid_out(JointPreset::Antenna, &plan);
    let rod = |part: usize| after.parts[part].thin.clone().unwrap();
    assert_eq!((rod(1).length_mm, rod(1).reach_mm), (55.0, 58.0));
    assert_eq!((rod(2).length_mm, rod(2).reach_mm), (5.0, 8.0));
    assert_eq!(rod(1).section, Section::Round { diameter_mm: 1.0 });
    assert_eq!(after.parts[0].thin, None);
    plan.parts[1].thin = Some(ThinSection {
        length_mm: 9.0,
        ..rod(1)
    });
    let kept = laid_out(JointPreset::Antenna, &plan);
    assert_eq!(kept.parts[1], plan.parts[1]);
}

/// The hulls of a part of 30 by 20 by 5 mm about (1, 2, 3).
fn hulls(drawn: Drawn) -> Vec<Vec<Vec3>> {
    let part = Part {
        drawn,
        size_mm: [30.0, 20.0, 5.0],
        box_middle_mm: [1.0, 2.0, 3.0],
        ..plan().parts[1].clone()
    };
    let body = part.body();
    let corners = |p: &Prism| {
        let flat = p.outline_mm().iter();
        flat.flat_map(|c| p.ends_mm().map(|end| p.point_mm(*c, end)))
            .collect()
    };
    body.prisms().iter().map(corners).collect()
}

/// Lowest and highest coordinate along each axis.
fn bounds(points: &[Vec3]) -> [[f64; 2]; 3] {
    std::array::from_fn(|k| {
        let along = || points.iter().map(|p| p[k]);
        let (low, high) = (f64::INFINITY, f64::NEG_INFINITY);
        [along().fold(low, f64::min), along().fold(high, f64::max)]
    })
}

#[test]
fn a_frame_is_four_bars_around_the_largest_face() {
    // Bars of a fifth of the shorter side: 4 mm.
    let [x, z] = [[-14.0, 16.0], [0.5, 5.5]];
    let expected = [
        [x, [-8.0, -4.0], z],
        [x, [8.0, 12.0], z],
        [[-14.0, -10.0], [-4.0, 8.0], z],
        [[12.0, 16.0], [-4.0, 8.0], z],
    ];
    let bars = hulls(Drawn::Frame);
    assert_eq!(bars.len(), 4);
    for (bar, expected) in bars.iter().zip(expected) {
        assert_eq!(bar.len(), 8);
        for (found, expected) in bounds(bar).iter().flatten().zip(expected.iter().flatten()) {
            assert!((found - expected).abs() < 1e-9, "{bar:?}");
        }
    }
}

#[test]
fn a_barrel_lies_along_the_longest_side() {
    let barrel = &hulls(Drawn::Barrel)[0];
    assert_eq!(barrel.len(), 48);
    for [x, y, z] in barrel {
        assert_eq!((x - 1.0).abs(), 15.0);
        let on_ellipse = ((y - 2.0) / 10.0).powi(2) + ((z - 3.0) / 2.5).powi(2);
        assert!((on_ellipse - 1.0).abs() < 1e-12);
    }
}

#[test]
fn a_figure_stands_with_its_head_up_and_its_legs_apart() {
    let [foot, _, leg, other, body, head] = &hulls(Drawn::Figure)[..] else {
        panic!("six blocks")
    };
    let (leg, other, body, head) = (bounds(leg), bounds(other), bounds(body), bounds(head));
    assert!(leg[1][1] < other[1][0]);
    let rising = [leg[2][1], body[2][0], body[2][1], head[2][0]];
    assert!(rising.is_sorted(), "{rising:?}");
    assert_eq!((bounds(foot)[2][0], head[2][1]), (0.5, 5.5));
}

#[test]
fn an_outline_is_stretched_over_the_side_it_was_drawn_from() {
    // Seen from the left, the first axis runs to the back and the second up.
    let triangle = Drawn::Outline {
        seen_from: Facing::Left,
        points_mm: vec![[2.0, 1.0], [4.0, 1.0], [4.0, 5.0]],
    };
    let points = &hulls(triangle)[0];
    let expected = [
        [16.0, 12.0, 0.5],
        [-14.0, 12.0, 0.5],
        [-14.0, 12.0, 5.5],
        [16.0, -8.0, 0.5],
        [-14.0, -8.0, 0.5],
        [-14.0, -8.0, 5.5],
    ];
    assert_eq!(points.len(), 6);
    for expected in expected {
        let there = points.iter().any(|p| distance(*p, expected) < 1e-9);
        assert!(there, "{expected:?} {points:?}");
    }
}

#[test]
fn every_word_for_a_preset_and_a_shape_is_its_own() {
    let words = |of: fn(JointPreset) -> &'static str| {
        let words: std::collections::BTreeSet<_> = JointPreset::ALL.map(of).into();
        assert_eq!(words.len(), JointPreset::ALL.len());
        assert!(words.iter().all(|word| word.len() > 3));
    };
    words(JointPreset::key);
    words(JointPreset::name);
    words(JointPreset::says);
    assert_eq!(Drawn::Barrel.word(), "Barrel");
    assert!(Drawn::Box.is_box() && !Drawn::Plate.is_box());
}
