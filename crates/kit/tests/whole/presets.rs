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

fn refused(preset: JointPreset, plan: &Plan) -> PresetRefusal {
    preset.edit(plan, &"spot".into()).unwrap_err()
}

/// The plan with a base of this size, on whose face the socket is placed, so far from the face's middle.
fn on_face(facing: Facing, size_mm: Vec3, off_mm: [f64; 2]) -> Plan {
    let mut plan = plan();
    plan.parts[0].size_mm = size_mm;
    plan.sockets[0].facing = facing;
    let frame = plan.sockets[0].frame(&plan.parts[0]);
    plan.sockets[0].at_mm = Some(frame.to_outer([off_mm[0], off_mm[1], 0.0]));
    plan
}

/// The plan with a wall 3 mm thick for a base.
fn wall() -> Plan {
    let mut plan = plan();
    plan.parts[0].size_mm[1] = 3.0;
    plan
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

/// The least that is left between any two of a socket's pegs and holes, and between those and the rim of its contact, mm.
fn least_left_mm(socket: &Socket) -> f64 {
    let pegs = socket.peg.centres_mm().into_iter();
    let mut discs: Vec<_> = pegs.map(|at| (at, socket.peg.diameter_mm)).collect();
    discs.extend(socket.sites.iter().map(|s| (s.at_mm, s.max_diameter_mm)));
    let hull = lodewright_geometry::convex_hull(&socket.patch.outline_mm()).unwrap();
    let mut least = f64::INFINITY;
    for (n, (at, across)) in discs.iter().enumerate() {
        least = least.min(lodewright_geometry::inside_mm(&hull, *at) - across / 2.0);
        for (b, other) in &discs[..n] {
            least = least.min(distance(*at, *b) - (across + other) / 2.0);
        }
    }
    least
}

#[test]
fn a_preset_does_what_its_sentence_says() {
    let disc = |diameter_mm| Patch::Disc { diameter_mm };
    let two = |x: f64, d, h| vec![([x, 0.0], d, h), ([-x, 0.0], d, h)];
    let corners = [[35.0, 15.0], [-35.0, 15.0], [-35.0, -15.0], [35.0, -15.0]];
    for (preset, patch, (kind, at_mm, length_mm), expected) in [
        (
            JointPreset::NoseTool,
            rectangle(16.0, 12.0),
            (PegKind::Keyed, [0.0; 2], 4.0),
            two(4.5, 6.0, 3.0),
        ),
        (
            JointPreset::Plate,
            rectangle(40.0, 30.0),
            (PegKind::Two, [0.0, 13.5], 3.0),
            two(16.5, 6.0, 3.0),
        ),
        (
            JointPreset::Roof,
            rectangle(76.0, 36.0),
            (PegKind::Two, [36.5, 0.0], 2.0),
            corners.map(|at| (at, 5.0, 3.0)).to_vec(),
        ),
        (
            JointPreset::Locker,
            rectangle(16.0, 10.0),
            (PegKind::Keyed, [-6.5, 0.0], 1.0),
            vec![([0.0; 2], 5.0, 3.0)],
        ),
        (
            JointPreset::Waist,
            disc(8.0),
            (PegKind::None, [0.0; 2], 3.0),
            vec![([0.0; 2], 4.0, 3.0)],
        ),
        (
            JointPreset::Antenna,
            disc(6.0),
            (PegKind::Round, [-1.75, 0.0], 1.5),
            vec![([0.75, 0.0], 3.0, 2.0)],
        ),
    ] {
        let before = match preset {
            JointPreset::Locker => wall(),
            _ => plan(),
        };
        let once = laid_out(preset, &before);
        assert!(once.problems().is_empty(), "{preset:?}");
        let socket = &once.sockets[0];
        assert_eq!(socket.patch, patch, "{preset:?}");
        let peg = &socket.peg;
        assert_eq!(
            (peg.kind, peg.at_mm, peg.length_mm),
            (kind, at_mm, length_mm)
        );
        assert_eq!(sites(socket), expected, "{preset:?}");
        // Alone what shares a hole with the other side is placed.
        assert_eq!(socket.is_placed(), preset == JointPreset::Locker);
        assert_eq!(laid_out(preset, &once), once, "{preset:?}");
        let nowhere = preset.edit(&before, &"nowhere".into());
        assert_eq!(nowhere, Err(PresetRefusal::NoSocket));
    }
}

#[test]
fn pegs_and_holes_keep_half_a_millimetre_from_each_other_and_from_the_rim() {
    for preset in JointPreset::ALL {
        let mut laid = 0;
        for wide in 4..40 {
            for high in [4.0, 6.0, 9.0, 14.0, 33.0] {
                let size = [f64::from(wide), 3.5, high];
                let plan = on_face(Facing::Left, size, [0.0; 2]);
                let Ok(edit) = preset.edit(&plan, &"spot".into()) else {
                    continue;
                };
                let after = plan.edited(&edit).unwrap();
                for socket in &after.sockets {
                    // A disc of contact counts by the polygon within it.
                    let left = least_left_mm(socket);
                    assert!(left > 0.45, "{preset:?} {size:?} {left}");
                    let [w, h] = [0, 1].map(|k| {
                        let along = socket.patch.outline_mm().into_iter().map(move |p| p[k]);
                        along.fold(0.0, f64::max)
                    });
                    assert!(w <= size[0] / 2.0 && h <= size[2] / 2.0);
                }
                laid += 1;
            }
        }
        assert!(laid > 40, "{preset:?} {laid}");
    }
}

#[test]
fn a_small_face_gets_smaller_contact_and_holes_or_none() {
    for (preset, size_mm, patch, hole) in [
        (
            JointPreset::NoseTool,
            [20.0, 13.0, 9.0],
            rectangle(12.0, 8.0),
            ([3.5, 0.0], 4.0),
        ),
        (
            JointPreset::Plate,
            [13.0, 20.0, 11.0],
            rectangle(12.0, 10.0),
            ([3.0, 0.0], 5.0),
        ),
    ] {
        let facing = preset.usual_facing();
        let size_mm = match facing {
            Facing::Up => [size_mm[0], size_mm[2], size_mm[1]],
            _ => size_mm,
        };
        let plan = laid_out(preset, &on_face(facing, size_mm, [0.0; 2]));
        let socket = &plan.sockets[0];
        assert_eq!((socket.facing, &socket.patch), (facing, &patch));
        let site = &socket.sites[0];
        assert_eq!((site.at_mm, site.max_diameter_mm), hole, "{preset:?}");
    }
    // Turned by a quarter, its width lies along the other side of the face.
    let mut turned = on_face(Facing::Front, [20.0, 9.0, 13.0], [0.0; 2]);
    turned.sockets[0].spin_deg = 90.0;
    let plan = laid_out(JointPreset::NoseTool, &turned);
    assert_eq!(plan.sockets[0].patch, rectangle(12.0, 8.0));
    // Half as much room beside it on one side leaves half of it on both.
    let aside = on_face(Facing::Front, [20.0, 33.0, 33.0], [10.0, 0.0]);
    let plan = laid_out(JointPreset::NoseTool, &aside);
    assert_eq!(plan.sockets[0].patch, rectangle(12.0, 12.0));
    let tiny = on_face(Facing::Front, [20.0, 6.0, 5.0], [0.0; 2]);
    let room_mm = [6.0, 5.0];
    let why = PresetRefusal::FaceTooSmall { room_mm };
    assert_eq!(refused(JointPreset::NoseTool, &tiny), why);
    assert!(
        why.to_string()
            .starts_with("There are only 6.0 by 5.0 mm around this socket")
    );
    // Where nobody has placed it, the face is taken as a whole.
    let mut unplaced = tiny.clone();
    unplaced.sockets[0].at_mm = None;
    assert_eq!(refused(JointPreset::NoseTool, &unplaced), why);
}

#[test]
fn depths_follow_the_material_behind_the_face() {
    let plate = |thick_mm| on_face(Facing::Up, [60.0, 40.0, thick_mm], [5.0, 0.0]);
    let depth = |plan: &Plan| sites(&laid_out(JointPreset::Plate, plan).sockets[0])[0].2;
    // Half a millimetre stays behind.
    assert_eq!((depth(&plate(3.5)), depth(&plate(3.1))), (3.0, 2.6));
    let peg = |plan: &Plan| laid_out(JointPreset::Plate, plan).sockets[0].peg.length_mm;
    assert_eq!((peg(&plate(9.0)), peg(&plate(2.5))), (3.0, 2.0));
    // The smallest hole, 2.5 mm across and 1.1 mm deep, the point of its drill (118°) and the wall behind it.
    let point_mm = 2.5 / 2.0 / libm::tan(59.0_f64.to_radians());
    let least = 1.1 + 0.5 + point_mm;
    assert_eq!(depth(&plate(least + 0.001)), 1.8);
    let too_thin = |plan: &Plan, helps: bool| match refused(JointPreset::Plate, plan) {
        PresetRefusal::TooThin {
            material_mm,
            least_mm,
            flat_cutter_helps,
        } => {
            assert_eq!(flat_cutter_helps, helps);
            (material_mm, least_mm)
        }
        other => panic!("{other:?}"),
    };
    let (material, needed) = too_thin(&plate(2.0), true);
    assert!((material - 2.0).abs() < 1e-9 && (needed - least).abs() < 1e-9);
    too_thin(&plate(1.5), false);
    let mut flat = plate(2.0);
    flat.settings.flat_cutter = true;
    assert_eq!(depth(&flat), 1.5);
    // A hollow part has no more than its wall, placed or not.
    for is_placed in [true, false] {
        let mut shell = plate(30.0);
        shell.parts[0].inside = Inside::Shell { wall_mm: 1.2 };
        if !is_placed {
            shell.sockets[0].at_mm = None;
        }
        let (material, _) = too_thin(&shell, false);
        assert!((material - 1.2).abs() < 1e-9);
        shell.parts[0].inside = Inside::Shell { wall_mm: 3.0 };
        assert_eq!(depth(&shell), 2.5);
    }
    let words = refused(JointPreset::Plate, &plate(2.0)).to_string();
    assert!(
        words.ends_with("; or finish holes with a flat-bottomed cutter."),
        "{words}"
    );
    assert!(
        !refused(JointPreset::Plate, &plate(1.5))
            .to_string()
            .contains("cutter")
    );
}

#[test]
fn what_touches_lies_on_material() {
    // In the middle of a frame nothing is there; a roof rests on its bars.
    let mut frame = on_face(Facing::Up, [60.0, 40.0, 6.0], [0.0; 2]);
    frame.parts[0].drawn = Drawn::Frame;
    assert_eq!(
        refused(JointPreset::Antenna, &frame),
        PresetRefusal::NoMaterial
    );
    let roof = laid_out(JointPreset::Roof, &frame);
    assert_eq!(roof.sockets[0].sites.len(), 4);
    let far_out = roof.sockets[0].sites[0].at_mm;
    let bar_mm = 8.0;
    let radius_mm = roof.sockets[0].sites[0].max_diameter_mm / 2.0;
    assert!(far_out[0] - radius_mm >= 30.0 - bar_mm && far_out[1] - radius_mm >= 20.0 - bar_mm);
    // Above the face there is nothing.
    let mut above = on_face(Facing::Up, [60.0, 40.0, 6.0], [0.0; 2]);
    above.sockets[0].at_mm.as_mut().unwrap()[2] += 2.0;
    assert_eq!(
        refused(JointPreset::Waist, &above),
        PresetRefusal::NoMaterial
    );
    // On a lying barrel of 20 mm the contact is as wide as the face falls off by half a millimetre at most.
    let mut barrel = on_face(Facing::Up, [40.0, 20.0, 20.0], [0.0; 2]);
    barrel.parts[0].drawn = Drawn::Barrel;
    let socket = &laid_out(JointPreset::Waist, &barrel).sockets[0];
    let Patch::Disc { diameter_mm } = socket.patch else {
        panic!("{:?}", socket.patch)
    };
    let chord_mm = 2.0 * (100.0_f64 - 9.5 * 9.5).sqrt();
    assert!(diameter_mm < chord_mm && diameter_mm > 4.0, "{diameter_mm}");
    assert!(
        PresetRefusal::NoMaterial
            .to_string()
            .contains("Place the socket on solid material")
    );
}

#[test]
fn an_untouched_socket_goes_to_the_usual_face_and_stays_unplaced() {
    for (preset, facing) in [
        (JointPreset::NoseTool, Facing::Front),
        (JointPreset::Waist, Facing::Up),
        (JointPreset::Roof, Facing::Up),
    ] {
        let socket = &laid_out(preset, &plan()).sockets[0];
        assert_eq!((socket.facing, socket.at_mm), (facing, None));
        // One that was touched keeps its face.
        let mut touched = plan();
        touched.sockets[0].facing = Facing::Back;
        let socket = &laid_out(preset, &touched).sockets[0];
        assert_eq!((socket.facing, socket.at_mm), (Facing::Back, None));
    }
}

#[test]
fn lockers_share_one_hole_as_deep_as_the_wall() {
    for thick_mm in [1.0, 2.0, 4.0] {
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
        assert_eq!(near.at_mm, Some([0.0, thick_mm / 2.0, 0.0]));
        assert_eq!(far.at_mm, Some([0.0, -thick_mm / 2.0, 0.0]));
        assert_eq!(near.sites[0].max_depth_mm, thick_mm);
        // The recess of the key stays clear of the other face.
        assert_eq!(near.peg.length_mm, (thick_mm - 0.5).min(1.0));
        assert_eq!(near.sites[0].through, None);
        let end = far.sites[0].through.as_ref().unwrap();
        assert_eq!((end.socket.as_str(), end.site.as_str()), ("spot", "a"));
    }
}

#[test]
fn no_locker_stands_on_a_thick_block_a_hollow_or_a_foil() {
    let thick = |thick_mm| {
        let mut plan = plan();
        plan.parts[0].size_mm[1] = thick_mm;
        plan
    };
    let most_mm = 4.0;
    assert_eq!(
        refused(JointPreset::Locker, &thick(40.0)),
        PresetRefusal::WallTooThick {
            thick_mm: 40.0,
            most_mm
        }
    );
    let just_over = refused(JointPreset::Locker, &thick(4.1));
    assert!(matches!(just_over, PresetRefusal::WallTooThick { .. }));
    let words = just_over.to_string();
    assert!(
        words.contains("4.1 mm thick") && words.contains("on a thin wall"),
        "{words}"
    );
    let mut hollow = thick(40.0);
    hollow.parts[0].inside = Inside::Shell { wall_mm: 1.2 };
    let why = refused(JointPreset::Locker, &hollow);
    assert_eq!(why, PresetRefusal::HollowBetween { thick_mm: 40.0 });
    assert!(why.to_string().contains("no hole goes through"));
    // Walls that meet leave no hollow.
    let mut full = thick(3.0);
    full.parts[0].inside = Inside::Shell { wall_mm: 1.5 };
    assert_eq!(laid_out(JointPreset::Locker, &full).sockets.len(), 2);
    let foil = refused(JointPreset::Locker, &thick(0.8));
    assert_eq!(
        foil,
        PresetRefusal::TooThin {
            material_mm: 0.8,
            least_mm: 1.0,
            flat_cutter_helps: false
        }
    );
}

#[test]
fn the_far_locker_is_a_socket_of_the_same_host_that_nobody_has_placed() {
    let mut plan = wall();
    let side = |id: &str, host: &str, at_mm| Socket {
        facing: Facing::Right,
        at_mm,
        ..Socket::plain(id.into(), id.to_uppercase(), host.into())
    };
    plan.sockets.extend([
        side("rod-side", "rod", None),
        side("placed", "base", Some([30.0, -1.5, 0.0])),
        side("there", "base", None),
    ]);
    let after = laid_out(JointPreset::Locker, &plan);
    let through = |after: &Plan| {
        let sockets = after.sockets.iter();
        let far = sockets.filter(|s| s.sites[0].through.is_some());
        far.map(|s| s.id.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(
        (after.sockets.len(), through(&after)),
        (4, vec!["there".to_owned()])
    );
    assert_eq!(after.sockets[2], plan.sockets[2]);
    // Once it shares the hole it goes along, wherever it was.
    let mut moved = after.clone();
    moved.sockets[0].at_mm = Some([-20.0, 1.5, 3.0]);
    let again = laid_out(JointPreset::Locker, &moved);
    assert_eq!(
        (again.sockets.len(), through(&again)),
        (4, vec!["there".to_owned()])
    );
    assert_eq!(again.sockets[3].at_mm, Some([-20.0, -1.5, 3.0]));
    // With none to be had a further one joins.
    plan.sockets.truncate(3);
    assert_eq!(laid_out(JointPreset::Locker, &plan).sockets.len(), 4);
}

#[test]
fn a_placed_locker_has_its_far_side_at_the_same_place_of_the_wall() {
    for (facing, axis, at_mm, far_mm) in [
        (Facing::Left, 1, [7.0, 4.0, 4.0], [7.0, 0.0, 4.0]),
        (Facing::Back, 0, [-1.0, 3.0, 4.0], [3.0, 3.0, 4.0]),
        (Facing::Up, 2, [7.0, 3.0, 5.0], [7.0, 3.0, 1.0]),
    ] {
        let mut plan = plan();
        plan.parts[0].size_mm[axis] = 4.0;
        plan.parts[0].box_middle_mm = [1.0, 2.0, 3.0];
        (plan.sockets[0].facing, plan.sockets[0].at_mm) = (facing, Some(at_mm));
        plan.sockets[0].spin_deg = 30.0;
        let plan = laid_out(JointPreset::Locker, &plan);
        let [near, far] = &plan.sockets[..] else {
            panic!("{:?}", plan.sockets)
        };
        assert_eq!(
            (near.at_mm, far.at_mm),
            (Some(at_mm), Some(far_mm)),
            "{facing:?}"
        );
        // What touches on both sides covers the same of the wall.
        let base = &plan.parts[0];
        let corners = |s: &Socket| {
            let frame = s.frame(base);
            let corners = s.patch.outline_mm().into_iter();
            corners
                .map(|[x, y]| frame.to_outer([x, y, 0.0]))
                .collect::<Vec<_>>()
        };
        let (near, far) = (corners(near), corners(far));
        for corner in &near {
            let across = far.iter().map(|c| (distance(*c, *corner) - 4.0).abs());
            assert!(across.fold(f64::INFINITY, f64::min) < 1e-9, "{facing:?}");
        }
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
