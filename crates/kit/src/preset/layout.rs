//! Contact, pegs and sites of each usual joint, fitted to the face that it lies on.

use crate::{
    Facing, JointPreset, Part, Patch, PegFit, PegKind, Site, SiteId, Socket, SocketSiteRef,
};

/// A site: its place, its largest hole's diameter and depth, mm.
type Hole = ([f64; 2], f64, f64);

/// Lays a socket of this host out.
pub(super) fn lay_out(preset: JointPreset, socket: &mut Socket, host: &Part) {
    let (patch, kind, length_mm, holes) = layout(preset, socket.facing, host.size_mm);
    socket.patch = patch;
    socket.peg = PegFit {
        kind,
        length_mm,
        ..PegFit::default()
    };
    socket.sites = ["a", "b", "c", "d"]
        .into_iter()
        .zip(holes)
        .map(|(id, hole)| site(id, hole))
        .collect();
}

/// Contact, kind and length of the peg, holes.
fn layout(
    preset: JointPreset,
    facing: Facing,
    size_mm: [f64; 3],
) -> (Patch, PegKind, f64, Vec<Hole>) {
    let [wide, high] = face_mm(facing, size_mm);
    let fit = |want: f64, there: f64| want.min((there - 1.0).max(1.0));
    let middle = |diameter, depth| vec![([0.0; 2], diameter, depth)];
    match preset {
        JointPreset::NoseTool => {
            let (w, h) = (fit(14.0, wide), fit(12.0, high));
            let holes = pair((w / 2.0 - 3.5).max(0.0));
            (rectangle(w, h), PegKind::Keyed, 4.0, holes)
        }
        JointPreset::Plate => {
            let (w, h) = (fit(40.0, wide), fit(30.0, high));
            let holes = pair((w / 2.0 - 5.0).max(0.0));
            (rectangle(w, h), PegKind::Two, 3.0, holes)
        }
        JointPreset::Roof => {
            let (w, h) = (fit(wide, wide - 3.0), fit(high, high - 3.0));
            let (x, y) = ((w / 2.0 - 4.0).max(0.0), (h / 2.0 - 4.0).max(0.0));
            let corners = [[x, y], [-x, y], [-x, -y], [x, -y]];
            let holes = corners.map(|at| (at, 5.0, 3.0)).to_vec();
            (rectangle(w, h), PegKind::Two, 2.0, holes)
        }
        JointPreset::Locker => {
            let contact = rectangle(fit(16.0, wide), fit(10.0, high));
            // A hole through a thin wall is as deep as the wall.
            let wall_mm = (2.0 * facing.half_extent_mm(size_mm)).clamp(0.5, 3.0);
            (contact, PegKind::Keyed, 1.0, middle(5.0, wall_mm))
        }
        JointPreset::Waist => (disc(8.0), PegKind::None, 3.0, middle(4.0, 3.0)),
        JointPreset::Antenna => (disc(5.0), PegKind::Round, 1.5, middle(3.0, 2.0)),
    }
}

/// Width and height of a face in its own axes, mm.
fn face_mm(facing: Facing, [x, y, z]: [f64; 3]) -> [f64; 2] {
    match facing {
        Facing::Up | Facing::Down => [x, y],
        Facing::Front | Facing::Back => [y, z],
        Facing::Left | Facing::Right => [x, z],
    }
}

fn rectangle(width_mm: f64, height_mm: f64) -> Patch {
    Patch::Rectangle {
        width_mm,
        height_mm,
    }
}

fn disc(diameter_mm: f64) -> Patch {
    Patch::Disc { diameter_mm }
}

/// One on each side of the middle.
fn pair(x: f64) -> Vec<Hole> {
    [x, -x].map(|x| ([x, 0.0], 6.0, 3.0)).to_vec()
}

fn site(id: &str, (at_mm, max_diameter_mm, max_depth_mm): Hole) -> Site<SocketSiteRef> {
    Site {
        at_mm,
        max_diameter_mm,
        max_depth_mm,
        ..Site::plain(SiteId::new(id))
    }
}
