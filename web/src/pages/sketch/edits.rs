//! What is done on the drawing, as edits of the plan. No web types.

use lodewright_planner::geometry::{Vec3, add, dot, scale, sub};
use lodewright_planner::kit::{
    Cell, Drawn, Edit, Facing, Frame, Part, PartId, Patch, Plan, Plug, Seat, Socket, SocketId,
    VariantId, slug,
};

use crate::projection::look::{Look, within};
use crate::projection::scene::{Body, Mark, Scene};

/// So near a middle, the middle is meant, mm.
const MIDDLE_MM: f64 = 0.25;
/// The least that may be drawn, mm.
const LEAST_MM: f64 = 0.5;

fn tenth(v: f64) -> f64 {
    (v * 10.0).round() / 10.0 + 0.0
}

fn hundredth(p: Vec3) -> Vec3 {
    p.map(|v| (v * 100.0).round() / 100.0 + 0.0)
}

fn axis(f: Facing) -> usize {
    let n = f.normal();
    (0..3).fold(
        0,
        |best, k| if n[k].abs() > n[best].abs() { k } else { best },
    )
}

/// The middle of a face of a part's box, in the part's axes.
fn face_middle(part: &Part, face: Facing) -> Vec3 {
    add(
        part.box_middle_mm,
        scale(face.normal(), face.half_extent_mm(part.size_mm)),
    )
}

/// A further socket on a face of a body, at a place of the drawing.
pub fn put_socket(
    plan: &Plan,
    look: &Look,
    body: &Body,
    face: Facing,
    at: [f64; 2],
) -> Option<(SocketId, Vec<Edit>)> {
    let host = plan.parts.get(body.part)?;
    let name = (plan.sockets.len() + 1..)
        .map(|n| format!("Socket {n}"))
        .find(|name| plan.sockets.iter().all(|s| s.name != *name))?;
    let id = SocketId::new(slug(&name, plan.sockets.iter().map(|s| s.id.as_str())));
    let mut socket = Socket::plain(id.clone(), name.clone(), host.id.clone());
    socket.facing = face;
    // The depth, which the drawing does not show, is the body's middle.
    let world = look.solid(at, look.near(body.middle));
    let mut there = body.frame.to_inner(world);
    let middle = face_middle(host, face);
    there[axis(face)] = middle[axis(face)];
    socket.at_mm =
        (sub(there, middle).iter().any(|d| d.abs() > MIDDLE_MM)).then(|| hundredth(there));
    let add = Edit::AddSocket {
        name,
        host: host.id.clone(),
    };
    Some((id, vec![add, Edit::PutSocket(Box::new(socket))]))
}

/// Sockets moved over the drawing, each on its own face.
pub fn move_sockets(plan: &Plan, scene: &Scene, ids: &[SocketId], by: [f64; 2]) -> Vec<Edit> {
    let moved = ids.iter().filter_map(|id| {
        let (mark, socket) = (scene.mark(id)?, plan.socket(id)?);
        let body = scene.bodies.get(mark.host)?;
        let host = plan.parts.get(body.part)?;
        let d = body
            .frame
            .inverse()
            .direction_to_outer(mark.slide(&scene.look, by));
        let there = hundredth(add(socket.frame(host).origin_mm, d));
        let middle = face_middle(host, socket.facing);
        let is_middle = sub(there, middle).iter().all(|d| d.abs() < 0.005);
        let next = Socket {
            at_mm: (!is_middle).then_some(there),
            ..socket.clone()
        };
        (next != *socket).then(|| Edit::PutSocket(Box::new(next)))
    });
    moved.collect()
}

/// The depth that a shape gets where the drawing shows only two sides of it, mm.
fn depth_mm(drawn: &Drawn, [w, h]: [f64; 2]) -> f64 {
    let (low, high) = (w.min(h), w.max(h));
    let depth = match drawn {
        Drawn::Box | Drawn::Barrel => low,
        // A plate that is drawn from its edge is as deep as it is long; from above it is thin.
        Drawn::Plate | Drawn::Frame if low <= 0.2 * high => high * 0.6,
        Drawn::Plate => 2.0,
        Drawn::Frame => 4.0,
        Drawn::Figure => low * 0.7,
        Drawn::Outline { .. } => low * 0.25,
    };
    tenth(depth.max(LEAST_MM))
}

/// The axes that a plain part has in a socket, unturned, in the base's.
fn seated(mark: &Mark, facing: Facing) -> [Vec3; 3] {
    let part = Part::plain(PartId::new("x"), String::new());
    match part.plugs.first() {
        Some(plug) => {
            part.plug_frame(plug, facing)
                .inverse()
                .within(&mark.frame)
                .axes
        }
        None => Frame::WORLD.axes,
    }
}

/// What drawing a part comes to.
#[derive(Debug, PartialEq)]
pub struct NewPart {
    /// Its id.
    pub id: PartId,
    /// The variant that it is put in; a new one where the plan has none.
    pub variant: Option<VariantId>,
    /// The edits.
    pub edits: Vec<Edit>,
}

/// A part of this shape between two corners of the drawing, sitting in a socket of a variant where one is given.
pub fn draw_part(
    plan: &Plan,
    scene: &Scene,
    drawn: Drawn,
    (low, high): ([f64; 2], [f64; 2]),
    socket: Option<&SocketId>,
    variant: Option<&VariantId>,
) -> Option<NewPart> {
    let look = &scene.look;
    let mark = socket.and_then(|id| scene.mark(id));
    let socket = mark.and_then(|m| plan.sockets.get(m.socket));
    let mut wide: [f64; 2] = std::array::from_fn(|k| high[k] - low[k]);
    let mut middle: [f64; 2] = std::array::from_fn(|k| (high[k] + low[k]) / 2.0);
    let mut off = [0.0; 2];
    if let Some(mark) = mark {
        let n = mark.frame.axes[2];
        let flat = look.flat(n);
        for k in 0..2 {
            if flat[k].abs() > 0.7 {
                // Along the normal the part reaches from the socket to the far side of what was drawn.
                let sign = flat[k].signum();
                let far = if sign > 0.0 { high[k] } else { low[k] };
                let long = (far - mark.at[k]) * sign;
                if long >= LEAST_MM {
                    wide[k] = long;
                }
                middle[k] = mark.at[k] + sign * wide[k] / 2.0;
            } else {
                off[k] = middle[k] - mark.at[k];
                if off[k].abs() < 1.0 {
                    off[k] = 0.0;
                }
            }
        }
    }
    if wide.iter().any(|w| *w < LEAST_MM) {
        return None;
    }
    let deep = depth_mm(&drawn, wide);
    let axes = match (mark, socket) {
        (Some(mark), Some(socket)) => seated(mark, socket.facing),
        _ => Frame::WORLD.axes,
    };
    let along = |a: Vec3| {
        let [x, y, z] = look.axes;
        dot(a, x).abs() * wide[0] + dot(a, y).abs() * wide[1] + dot(a, z).abs() * deep
    };
    let name = (1..)
        .map(|n| format!("{} {n}", drawn.word()))
        .find(|name| plan.parts.iter().all(|p| p.name != *name))?;
    let id = PartId::new(slug(&name, plan.parts.iter().map(|p| p.id.as_str())));
    let mut part = Part::plain(id.clone(), name.clone());
    part.size_mm = axes.map(|a| tenth(along(a)).max(LEAST_MM));
    part.mass = drawn.mass(part.size_mm);
    part.drawn = drawn;
    let mut edits = vec![Edit::AddPart(name)];
    let mut into = None;
    if let (Some(mark), Some(socket)) = (mark, socket) {
        let off_solid = look.solid(off, 0.0);
        let off_part = axes.map(|a| dot(a, off_solid));
        let out = socket.facing.opposite();
        let patch = patch(&part, socket, mark, axes, off_solid);
        if let Some(plug) = part.plugs.first_mut() {
            if off != [0.0; 2] {
                let face = scale(out.normal(), out.half_extent_mm(part.size_mm));
                plug.at_mm = Some(hundredth(sub(face, off_part)));
            }
            plug.patch = patch;
        }
        let first = plan.variants.is_empty();
        into = match variant {
            Some(id) => Some(id.clone()),
            None if first => Some(VariantId::new("variant-1")),
            None => None,
        };
        edits.push(Edit::PutPart(Box::new(part)));
        if first {
            edits.push(Edit::AddVariant("Variant 1".to_owned()));
        }
        if let Some(variant) = &into {
            edits.push(Edit::PutCell(
                variant.clone(),
                Cell {
                    socket: socket.id.clone(),
                    seats: vec![Seat::straight(id.clone())],
                    may_be_empty: false,
                },
            ));
        }
    } else {
        edits.push(Edit::PutPart(Box::new(part)));
    }
    Some(NewPart {
        id,
        variant: into,
        edits,
    })
}

/// The part's own contact, where it does not cover the socket's.
fn patch(part: &Part, socket: &Socket, mark: &Mark, axes: [Vec3; 3], off: Vec3) -> Option<Patch> {
    let [x, y, n] = mark.frame.axes;
    let along = |a: Vec3| -> f64 {
        (0..3)
            .map(|k| dot(axes[k], a).abs() * part.size_mm[k])
            .sum()
    };
    let (w, h) = (tenth(along(x)), tenth(along(y)));
    let at = [dot(off, x), dot(off, y)];
    let corners: Vec<[f64; 2]> = [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)]
        .into_iter()
        .map(|(a, b)| [tenth(at[0] + a * w), tenth(at[1] + b * h)])
        .collect();
    let long = axes[(0..3).fold(0, |b, k| {
        if part.size_mm[k] > part.size_mm[b] {
            k
        } else {
            b
        }
    })];
    let upright = part.drawn == Drawn::Barrel && dot(long, n).abs() > 0.9;
    let middle = off.iter().all(|d| d.abs() < 1e-9);
    let covers = !upright
        && socket.patch.outline_mm().iter().all(|p| {
            // A hair inside, so that equal outlines count as covered.
            within(&corners, [p[0] * 0.999, p[1] * 0.999])
        });
    match (covers, upright && middle, middle) {
        (true, ..) => None,
        (_, true, _) => Some(Patch::Disc {
            diameter_mm: w.min(h),
        }),
        (_, _, true) => Some(Patch::Rectangle {
            width_mm: w,
            height_mm: h,
        }),
        _ => Some(Patch::Points(corners)),
    }
}

/// A body's part with its far corner drawn to a place: it stays on its socket.
pub fn resized(plan: &Plan, scene: &Scene, body: &Body, corner: [f64; 2]) -> Option<Part> {
    let old = plan.parts.get(body.part)?;
    let mark = body
        .seat
        .and_then(|(socket, _)| scene.marks.iter().find(|m| m.socket == socket));
    let n = mark.map(|m| scene.look.flat(m.frame.axes[2]));
    let wide: [f64; 2] = std::array::from_fn(|k| {
        let middle = (body.low[k] + body.high[k]) / 2.0;
        match (mark, n) {
            (Some(mark), Some(n)) if n[k].abs() > 0.7 => (corner[k] - mark.at[k]).abs(),
            _ => 2.0 * (corner[k] - middle).abs(),
        }
    });
    let mut part = old.clone();
    for k in 0..3 {
        let a = body.frame.axes[k];
        for (across, wide) in scene.look.axes.iter().zip(wide) {
            if dot(a, *across).abs() > 0.9 {
                part.size_mm[k] = tenth(wide).max(LEAST_MM);
            }
        }
    }
    refitted(old, part)
}

/// A part after its size was changed: mass, mounting faces and box follow.
pub fn refitted(old: &Part, mut part: Part) -> Option<Part> {
    if old.mass == old.drawn.mass(old.size_mm) {
        part.mass = part.drawn.mass(part.size_mm);
    }
    for plug in &mut part.plugs {
        let (Some(out), Some(at)) = (plug.facing.or(face_under(old, plug)), plug.at_mm) else {
            continue;
        };
        let grown = out.half_extent_mm(part.size_mm) - out.half_extent_mm(old.size_mm);
        plug.at_mm = Some(hundredth(add(at, scale(out.normal(), grown))));
    }
    (part != *old).then_some(part)
}

/// The face of the part's box that a plug's given place lies on.
fn face_under(part: &Part, plug: &Plug) -> Option<Facing> {
    let at = sub(plug.at_mm?, part.box_middle_mm);
    Facing::ALL
        .into_iter()
        .find(|f| (dot(at, f.normal()) - f.half_extent_mm(part.size_mm)).abs() < 0.02)
}

/// A part moved over its socket: its mounting face goes to another place on it.
pub fn shifted(plan: &Plan, scene: &Scene, body: &Body, by: [f64; 2]) -> Option<Part> {
    let (socket, _) = body.seat?;
    let mark = scene.marks.iter().find(|m| m.socket == socket)?;
    let facing = plan.sockets.get(socket)?.facing;
    let mut part = plan.parts.get(body.part)?.clone();
    let d = body
        .frame
        .inverse()
        .direction_to_outer(mark.slide(&scene.look, by));
    let plug = part.plugs.first()?;
    let at = part.plug_frame(plug, facing).origin_mm;
    let there = hundredth(sub(at, d));
    if let Some(plug) = part.plugs.first_mut()
        && (there != hundredth(at))
    {
        plug.at_mm = Some(there);
        return Some(part);
    }
    None
}

/// The edits that remove what is selected.
pub fn removed(parts: &[PartId], sockets: &[SocketId]) -> Vec<Edit> {
    let sockets = sockets.iter().cloned().map(Edit::DropSocket);
    sockets
        .chain(parts.iter().cloned().map(Edit::DropPart))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn made(plan: &Plan, edits: &[Edit]) -> Plan {
        edits.iter().fold(plan.clone(), |p, e| p.edited(e).unwrap())
    }

    fn scene(plan: &Plan, variant: Option<&VariantId>, side: Facing) -> Scene {
        Scene::of(plan, variant, Look::from(side))
    }

    /// A base of 80 by 40 by 30 mm with a socket on the middle of its top.
    fn with_socket(at: [f64; 2]) -> (Plan, SocketId) {
        let plan = Plan::empty("t");
        let scene = scene(&plan, None, Facing::Left);
        let (body, face) = scene.face_at(at, 3.0).unwrap();
        let (id, edits) = put_socket(&plan, &scene.look, body, face, at).unwrap();
        (made(&plan, &edits), id)
    }

    #[test]
    fn a_tap_on_the_edge_puts_a_socket_on_the_face_there() {
        let (plan, id) = with_socket([0.0, 15.5]);
        let socket = plan.socket(&id).unwrap();
        assert_eq!((socket.facing, socket.at_mm), (Facing::Up, None));
        let (plan, id) = with_socket([-20.0, 15.5]);
        // From the left, the front is at the left hand.
        assert_eq!(plan.socket(&id).unwrap().at_mm, Some([20.0, 0.0, 15.0]));
        let (plan, id) = with_socket([-20.0, 5.0]);
        let socket = plan.socket(&id).unwrap();
        assert_eq!(
            (socket.facing, socket.at_mm),
            (Facing::Left, Some([20.0, 20.0, 5.0]))
        );
    }

    #[test]
    fn a_socket_is_moved_on_its_face_and_caught_in_its_middle() {
        let (plan, id) = with_socket([-20.0, 15.5]);
        let scene = scene(&plan, None, Facing::Left);
        let there = made(
            &plan,
            &move_sockets(&plan, &scene, std::slice::from_ref(&id), [20.0, 9.0]),
        );
        assert_eq!(there.socket(&id).unwrap().at_mm, None);
    }

    #[test]
    fn a_part_drawn_over_a_socket_stands_where_it_was_drawn() {
        let (plan, id) = with_socket([-20.0, 15.5]);
        for (side, low, high) in [
            (Facing::Left, [-30.0, 14.0], [-10.0, 45.0]),
            (Facing::Left, [-25.0, 17.0], [5.0, 40.0]),
            (Facing::Up, [10.0, -10.0], [40.0, 8.0]),
        ] {
            let seen = scene(&plan, None, side);
            let new = draw_part(&plan, &seen, Drawn::Box, (low, high), Some(&id), None).unwrap();
            let after = made(&plan, &new.edits);
            assert!(after.problems().is_empty(), "{:?}", after.problems());
            let seen = scene(&after, new.variant.as_ref(), side);
            let body = seen.body(&new.id).unwrap();
            for k in 0..2 {
                // On the socket's plane it begins at the socket, not where the finger began.
                let begins = if side == Facing::Left && k == 1 {
                    15.0
                } else {
                    low[k]
                };
                assert!((body.low[k] - begins).abs() < 0.06, "{side:?} {body:?}");
                assert!((body.high[k] - high[k]).abs() < 0.06, "{side:?} {body:?}");
            }
        }
    }

    #[test]
    fn a_smaller_part_says_where_it_touches() {
        let (plan, id) = with_socket([0.0, 15.5]);
        let seen = scene(&plan, None, Facing::Up);
        let of = |drawn, low, high| {
            let new = draw_part(&plan, &seen, drawn, (low, high), Some(&id), None).unwrap();
            made(&plan, &new.edits).part(&new.id).unwrap().plugs[0]
                .patch
                .clone()
        };
        assert_eq!(of(Drawn::Box, [-10.0, -10.0], [10.0, 10.0]), None);
        assert_eq!(
            of(Drawn::Plate, [-4.0, -3.0], [4.0, 3.0]),
            Some(Patch::Rectangle {
                width_mm: 8.0,
                height_mm: 6.0
            })
        );
        assert!(matches!(
            of(Drawn::Box, [2.0, -3.0], [8.0, 3.0]),
            Some(Patch::Points(_))
        ));
    }

    #[test]
    fn a_part_resized_stays_on_its_socket_and_weighs_more() {
        let (plan, id) = with_socket([0.0, 15.5]);
        let seen = scene(&plan, None, Facing::Left);
        let new = draw_part(
            &plan,
            &seen,
            Drawn::Box,
            ([-15.0, 15.0], [5.0, 35.0]),
            Some(&id),
            None,
        )
        .unwrap();
        let plan = made(&plan, &new.edits);
        let seen = scene(&plan, new.variant.as_ref(), Facing::Left);
        let body = seen.body(&new.id).unwrap();
        let part = resized(&plan, &seen, body, [15.0, 55.0]).unwrap();
        let plan = made(&plan, &[Edit::PutPart(Box::new(part))]);
        let seen = scene(&plan, new.variant.as_ref(), Facing::Left);
        let body = seen.body(&new.id).unwrap();
        assert_eq!((body.low, body.high), ([-25.0, 15.0], [15.0, 55.0]));
        let moved = shifted(&plan, &seen, body, [3.0, 9.0]).unwrap();
        let plan = made(&plan, &[Edit::PutPart(Box::new(moved))]);
        let seen = scene(&plan, new.variant.as_ref(), Facing::Left);
        assert_eq!(seen.body(&new.id).unwrap().low, [-22.0, 15.0]);
    }

    #[test]
    fn too_small_is_nothing() {
        let plan = Plan::empty("t");
        let seen = scene(&plan, None, Facing::Left);
        let tiny = ([0.0; 2], [0.2, 9.0]);
        assert_eq!(draw_part(&plan, &seen, Drawn::Box, tiny, None, None), None);
    }
}
