//! What is done on the drawing, as edits of the plan. No web types.

use lodewright_planner::geometry::{Vec3, add, dot, scale, sub};
use lodewright_planner::kit::{
    Cell, Drawn, DrawnAt, Edit, Facing, LEAST_DRAWN_MM, Part, PartId, Plan, Seat, Socket, SocketId,
    VariantId, slug,
};

use crate::projection::look::Look;
use crate::projection::scene::{Body, Scene};

/// So near a middle, the middle is meant, mm.
const MIDDLE_MM: f64 = 0.25;

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

/// The place on a face of a body that a place of the drawing means, in the part's axes, mm: the middle catches.
pub fn place_on(host: &Part, look: &Look, body: &Body, face: Facing, at: [f64; 2]) -> Vec3 {
    // The depth, which the drawing does not show, is the body's middle.
    let world = look.solid(at, look.near(body.middle));
    let mut there = body.frame.to_inner(world);
    let middle = face_middle(host, face);
    there[axis(face)] = middle[axis(face)];
    let is_middle = sub(there, middle).iter().all(|d| d.abs() <= MIDDLE_MM);
    hundredth(if is_middle { middle } else { there })
}

/// A further socket on a face of a body, at a place of the drawing.
pub fn put_socket(
    plan: &Plan,
    look: &Look,
    body: &Body,
    face: Facing,
    at: [f64; 2],
) -> Option<(SocketId, Vec<Edit>)> {
    let host = &plan.parts[body.part];
    let name = (plan.sockets.len() + 1..)
        .map(|n| format!("Socket {n}"))
        .find(|name| plan.sockets.iter().all(|s| s.name != *name))?;
    let id = SocketId::new(slug(&name, plan.sockets.iter().map(|s| s.id.as_str())));
    let mut socket = Socket::plain(id.clone(), name.clone(), host.id.clone());
    socket.facing = face;
    socket.at_mm = Some(place_on(host, look, body, face, at));
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
        let host = &plan.parts[body.part];
        let d = body
            .frame
            .inverse()
            .direction_to_outer(mark.slide(&scene.look, by));
        let there = hundredth(add(socket.frame(host).origin_mm, d));
        let next = Socket {
            at_mm: Some(there),
            ..socket.clone()
        };
        (next != *socket).then(|| Edit::PutSocket(Box::new(next)))
    });
    moved.collect()
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
    (low_mm, high_mm): ([f64; 2], [f64; 2]),
    socket: Option<&SocketId>,
    variant: Option<&VariantId>,
) -> Option<NewPart> {
    let mark = socket.and_then(|id| scene.mark(id));
    let on = mark.map(|m| (&plan.sockets[m.socket], m.frame));
    let name = (1..)
        .map(|n| format!("{} {n}", drawn.word()))
        .find(|name| plan.parts.iter().all(|p| p.name != *name))?;
    let id = PartId::new(slug(&name, plan.parts.iter().map(|p| p.id.as_str())));
    let at = DrawnAt {
        view: scene.look.axes,
        low_mm,
        high_mm,
        on,
    };
    let part = Part::drawn_at(id.clone(), name.clone(), drawn, &at)?;
    let mut edits = vec![Edit::AddPart(name), Edit::PutPart(Box::new(part))];
    let mut into = None;
    if let Some((socket, _)) = on {
        let first = plan.variants.is_empty();
        if first {
            edits.push(Edit::AddVariant("Variant 1".to_owned()));
        }
        into = variant
            .cloned()
            .or_else(|| first.then(|| VariantId::new("variant-1")));
        edits.extend(into.clone().map(|variant| {
            let cell = Cell {
                socket: socket.id.clone(),
                seats: vec![Seat::straight(id.clone())],
                may_be_empty: false,
            };
            Edit::PutCell(variant, cell)
        }));
    }
    Some(NewPart {
        id,
        variant: into,
        edits,
    })
}

/// A body's part with its far corner drawn to a place: it stays on its socket.
pub fn resized(plan: &Plan, scene: &Scene, body: &Body, corner: [f64; 2]) -> Option<Part> {
    let old = &plan.parts[body.part];
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
    let mut size_mm = old.size_mm;
    for (size_mm, a) in size_mm.iter_mut().zip(body.frame.axes) {
        for (across, wide) in scene.look.axes.iter().zip(wide) {
            if dot(a, *across).abs() > 0.9 {
                *size_mm = tenth(wide).max(LEAST_DRAWN_MM);
            }
        }
    }
    old.sized(size_mm)
}

/// A part moved over its socket: its mounting face goes to another place on it.
pub fn shifted(plan: &Plan, scene: &Scene, body: &Body, by: [f64; 2]) -> Option<Part> {
    let (socket, _) = body.seat?;
    let mark = scene.marks.iter().find(|m| m.socket == socket)?;
    let facing = plan.sockets[socket].facing;
    let mut part = plan.parts[body.part].clone();
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
        assert_eq!(
            (socket.facing, socket.at_mm),
            (Facing::Up, Some([0.0, 0.0, 15.0]))
        );
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
        assert_eq!(there.socket(&id).unwrap().at_mm, Some([0.0, 0.0, 15.0]));
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
