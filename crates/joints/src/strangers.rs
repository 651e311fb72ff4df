//! Magnets that are not meant to meet: side by side or across a wall in one part, where they jump together while the glue
//! is wet, and between a seated part and the rest of its host.

use std::collections::BTreeSet;

use lodewright_field::{Disc, Magnet, Pose, force};
use lodewright_geometry::{Frame, Vec3, add, cross, dot, norm, scale, sub};
use lodewright_kit::Pole;
use serde::Serialize;
use tiny_sort::stable::sort_by;

use crate::holes::Face;
use crate::pull::{End, Filling, disc};
use crate::scene::Scene;

/// Farther apart than this many of their sizes magnets are not looked at: the force falls with the fourth power.
const REACH: f64 = 6.0;
/// Farthest that a spacing is looked for, mm.
const FARTHEST_MM: f64 = 100.0;

/// How two magnets come near each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Meeting {
    /// In one face of one part.
    SideBySide,
    /// In one part, through plastic between faces that look different ways.
    ThroughThePart,
    /// One in a part that sits in its socket, the other in the host beside it.
    PartAndHost,
}

/// Two magnets that feel each other though nobody wants it.
#[derive(Clone, Debug, PartialEq)]
pub struct Stranger {
    /// Indices of the two holes, the lower first.
    pub holes: [usize; 2],
    /// How they meet.
    pub meeting: Meeting,
    /// Index of the joint that brings them together, for [`Meeting::PartAndHost`].
    pub joint: Option<usize>,
    /// Force between them at the strong end, N.
    pub force_n: f64,
    /// Whether they draw together with the poles as planned; `None` where a pole is open.
    pub attract: Option<bool>,
    /// Distance of their centres, mm.
    pub apart_mm: f64,
    /// Distance along the same line at which the force is below the plan's limit, mm.
    pub enough_mm: Option<f64>,
    /// Whether their bodies would share space.
    pub overlap: bool,
}

/// A magnet in space, in some part's axes.
#[derive(Clone, Copy)]
pub(crate) struct Placed {
    hole: usize,
    /// Where its first face looks.
    axis: Vec3,
    centre_mm: Vec3,
    disc: Disc,
    face_normal: Vec3,
}

/// Every pair whose force passes the plan's limit (or whose bodies overlap), strongest first.
pub fn strangers(
    scene: &Scene<'_, '_>,
    fillings: &[Filling],
    poles: &[Option<Pole>],
) -> Vec<Stranger> {
    let mut found: Vec<Stranger> = Vec::new();
    let parts = scene.board.counts().0;
    let own: Vec<Vec<Placed>> = (0..parts).map(|p| in_part(scene, p, fillings)).collect();
    for list in &own {
        for (i, a) in list.iter().enumerate() {
            for b in &list[i + 1..] {
                let meeting = if dot(a.face_normal, b.face_normal) > 0.999 {
                    Meeting::SideBySide
                } else {
                    Meeting::ThroughThePart
                };
                found.extend(stranger(scene, a, b, meeting, None, poles));
            }
        }
    }
    for joint in 0..scene.board.joints.len() {
        seated(scene, joint, &own, poles, &mut found);
    }
    sort_by(&mut found, |a, b| {
        b.force_n
            .total_cmp(&a.force_n)
            .then(a.holes.cmp(&b.holes))
            .then(a.meeting.cmp(&b.meeting))
    });
    // A part that sits in several sockets of one kind meets the same stranger each time: the strongest stands for all.
    let mut seen = BTreeSet::new();
    found.retain(|s| seen.insert((s.holes, s.meeting)));
    found
}

/// The part of a joint against its host, but for the pairs that are meant to meet.
fn seated(
    scene: &Scene<'_, '_>,
    joint: usize,
    own: &[Vec<Placed>],
    poles: &[Option<Pole>],
    found: &mut Vec<Stranger>,
) {
    let j = scene.board.joints[joint];
    let on_host = scene.board.part_on_host(joint);
    let meant = meant(scene, joint);
    for guest in &own[j.part] {
        let guest = guest.on_host(&on_host);
        for host in &own[scene.board.host(j.socket)] {
            if !meant.contains(&[host.hole, guest.hole]) {
                let pair = stranger(
                    scene,
                    host,
                    &guest,
                    Meeting::PartAndHost,
                    Some(joint),
                    poles,
                );
                found.extend(pair);
            }
        }
    }
}

/// The pairs of holes that are meant to meet in a joint, the host's first.
pub(crate) fn meant(scene: &Scene<'_, '_>, joint: usize) -> Vec<[usize; 2]> {
    scene.mates[joint]
        .iter()
        .map(|m| [m.socket_face, m.plug_face].map(|f| scene.holes.faces[f].hole))
        .collect()
}

/// The magnets of a part, in its axes.
fn in_part(scene: &Scene<'_, '_>, part: usize, fillings: &[Filling]) -> Vec<Placed> {
    let holes = &scene.holes;
    let mine = (0..holes.holes.len()).filter(|h| holes.holes[*h].part == part);
    mine.filter_map(|hole| match fillings[hole] {
        Filling::Magnet(magnet) => placed(scene, hole, magnet),
        _ => None,
    })
    .collect()
}

/// A magnet from stock in a hole, in the axes of the hole's part.
pub(crate) fn placed(scene: &Scene<'_, '_>, hole: usize, magnet: usize) -> Option<Placed> {
    let plan = scene.board.plan;
    let stock = plan.stock.magnets.get(magnet)?;
    let mut faces = scene.holes.faces.iter();
    let face = faces.find(|f| f.hole == hole && !f.far)?;
    let frame = face_frame(scene, face)?;
    let out = if face.on_socket { 1.0 } else { -1.0 };
    // A socket's z points out of the part, a plug's into it.
    let normal = scale(frame.axes[2], out);
    let deep_mm = face.wall_mm + stock.height_mm / 2.0;
    let mouth = frame.to_outer([face.at_mm[0], face.at_mm[1], 0.0]);
    Some(Placed {
        hole,
        axis: normal,
        face_normal: normal,
        centre_mm: sub(mouth, scale(normal, deep_mm)),
        disc: disc(plan, stock, End::Strong).ok()?,
    })
}

impl Placed {
    /// The same magnet in the axes of the part that its own sits on.
    pub(crate) fn on_host(self, on_host: &Frame) -> Self {
        Self {
            axis: on_host.direction_to_outer(self.axis),
            face_normal: on_host.direction_to_outer(self.face_normal),
            centre_mm: on_host.to_outer(self.centre_mm),
            ..self
        }
    }

    /// Whether two magnets draw or push each other with more than the limit, or their bodies share space.
    pub(crate) fn is_too_near(&self, other: &Self, limit_n: f64) -> bool {
        let between = sub(other.centre_mm, self.centre_mm);
        let apart_mm = norm(between);
        apart_mm <= reach_mm(self, other)
            && pair_force(self, other, between, apart_mm).is_none_or(|n| norm(n) >= limit_n)
    }
}

/// Farther apart two magnets are not looked at.
fn reach_mm(a: &Placed, b: &Placed) -> f64 {
    REACH * (a.disc.diameter_mm.max(b.disc.diameter_mm) + a.disc.height_mm.max(b.disc.height_mm))
}

fn face_frame(scene: &Scene<'_, '_>, face: &Face) -> Option<Frame> {
    if face.on_socket {
        let host = scene.board.part(scene.board.host(face.owner));
        return Some(scene.board.socket(face.owner).frame(host));
    }
    let part = scene.board.part(face.owner);
    let plug = part.plugs.get(face.plug)?;
    // Where the plug's own side is not said it adapts to the socket it meets: the first one stands for all.
    let meets = scene
        .board
        .joints
        .iter()
        .find(|j| j.part == face.owner && j.plug == face.plug)?;
    Some(part.plug_frame(plug, scene.board.socket(meets.socket).facing))
}

fn stranger(
    scene: &Scene<'_, '_>,
    a: &Placed,
    b: &Placed,
    meeting: Meeting,
    joint: Option<usize>,
    poles: &[Option<Pole>],
) -> Option<Stranger> {
    let limit_n = scene.board.plan.settings.stranger_limit_n;
    let between = sub(b.centre_mm, a.centre_mm);
    let apart_mm = norm(between);
    if apart_mm > reach_mm(a, b) {
        return None;
    }
    let sign = |hole: usize| poles[hole].map(|p| if p == Pole::N { 1.0 } else { -1.0 });
    let both = sign(a.hole).zip(sign(b.hole)).map(|(x, y)| x * y);
    let at = |mm: f64| pair_force(a, b, between, mm);
    let (force_n, attract, overlap) = match at(apart_mm) {
        Some(pull_n) => (
            norm(pull_n),
            both.map(|s| dot(pull_n, between) * s < 0.0),
            false,
        ),
        None => (f64::INFINITY, None, true),
    };
    if force_n < limit_n {
        return None;
    }
    Some(Stranger {
        holes: [a.hole.min(b.hole), a.hole.max(b.hole)],
        meeting,
        joint,
        force_n,
        attract,
        apart_mm,
        enough_mm: enough_mm(apart_mm, limit_n, |mm| at(mm).map(norm)),
        overlap,
    })
}

/// Force on the second magnet, N, in the part's axes, both showing N, with the centres `mm` apart along the line between
/// them; `None` where the bodies overlap.
fn pair_force(a: &Placed, b: &Placed, between: Vec3, mm: f64) -> Option<Vec3> {
    let apart = norm(between);
    let along = if apart > 0.0 {
        scale(between, mm / apart)
    } else {
        return None;
    };
    // Axes of the first magnet: any two square to its own.
    let z = a.axis;
    let helper = if z[0].abs() < 0.9 {
        [1.0, 0.0, 0.0]
    } else {
        [0.0, 1.0, 0.0]
    };
    let x = {
        let raw = cross(helper, z);
        scale(raw, 1.0 / norm(raw))
    };
    let y = cross(z, x);
    let seen = |v: Vec3| [dot(v, x), dot(v, y), dot(v, z)];
    let (offset, axis) = (seen(along), seen(b.axis));
    let about = cross([0.0, 0.0, 1.0], axis);
    let mut pose = Pose::shifted(offset).ok()?;
    let turn_deg = libm::acos(axis[2].clamp(-1.0, 1.0)).to_degrees();
    if norm(about) > 1e-9 {
        pose = pose.turned(about, turn_deg).ok()?;
    } else if axis[2] < 0.0 {
        pose = pose.turned([1.0, 0.0, 0.0], 180.0).ok()?;
    }
    let [fx, fy, fz] = force(&Magnet::from(a.disc), &Magnet::from(b.disc), &pose)
        .ok()?
        .force_n;
    Some(add(add(scale(x, fx), scale(y, fy)), scale(z, fz)))
}

/// Least distance beyond `from_mm` at which the force stays under the limit, to a tenth of a millimetre; `None` where
/// there is none within reach.
fn enough_mm(from_mm: f64, limit_n: f64, force_n: impl Fn(f64) -> Option<f64>) -> Option<f64> {
    let is_enough = |mm: f64| force_n(mm).is_some_and(|n| n <= limit_n);
    let (mut low, mut high) = (from_mm, from_mm.max(1.0));
    while !is_enough(high) {
        low = high;
        high *= 1.3;
        if high > FARTHEST_MM {
            return None;
        }
    }
    while high - low > 0.05 {
        let mid = (low + high) / 2.0;
        if is_enough(mid) {
            high = mid;
        } else {
            low = mid;
        }
    }
    Some((high * 10.0).ceil() / 10.0)
}
