//! Sockets by themselves, and what plugs have too: contact and sites.

use super::check::At;
use crate::{Attach, Patch, Site, Socket, limits};

use limits::MM;

pub(super) fn socket(at: &mut At<'_>, socket: &Socket) {
    at.label("name", &socket.name, limits::LABEL);
    at.each("at_mm", socket.at_mm.into_iter().flatten(), -MM, MM);
    at.number("spin_deg", socket.spin_deg, -360.0, 360.0);
    patch(&mut at.within("patch"), &socket.patch);
    at.each("peg.at_mm", socket.peg.at_mm, -MM, MM);
    at.number("peg.diameter_mm", socket.peg.diameter_mm, 0.2, 50.0);
    at.number("peg.length_mm", socket.peg.length_mm, 0.1, MM);
    at.number("peg.clearance_mm", socket.peg.clearance_mm, 0.0, 10.0);
    if let Attach::Friction(pull_n) = socket.attach {
        at.number("attach.friction", pull_n, 0.0, 1_000.0);
    }
    at.each("may_pin_n", socket.may_pin_n, 0.0, 1_000.0);
    sites(at, &socket.sites);
}

pub(super) fn patch(at: &mut At<'_>, patch: &Patch) {
    match patch {
        Patch::Rectangle {
            width_mm,
            height_mm,
        } => {
            at.number("width_mm", *width_mm, 0.1, MM);
            at.number("height_mm", *height_mm, 0.1, MM);
        }
        Patch::Disc { diameter_mm } => at.number("diameter_mm", *diameter_mm, 0.1, MM),
        Patch::Points(points) => outline(at, points),
    }
}

pub(super) fn outline(at: &mut At<'_>, points_mm: &[[f64; 2]]) {
    at.count("", points_mm.len(), limits::POINTS);
    at.each("points", points_mm.iter().flatten().copied(), -MM, MM);
}

pub(super) fn sites<Far>(at: &mut At<'_>, list: &[Site<Far>]) {
    at.list("sites", list, limits::SITES, |s| s.id.as_str(), site);
}

fn site<Far>(at: &mut At<'_>, site: &Site<Far>) {
    at.each("at_mm", site.at_mm, -MM, MM);
    at.number("max_diameter_mm", site.max_diameter_mm, 0.1, 100.0);
    at.number("max_depth_mm", site.max_depth_mm, 0.1, 100.0);
    at.each("measured_mm", site.measured_mm, 0.1, MM);
    at.number("wall_mm", site.wall_mm, 0.0, 50.0);
}
