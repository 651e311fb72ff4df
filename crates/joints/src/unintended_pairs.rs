//! Magnets that are not meant to meet: side by side or across a wall in one part, where they jump together while the glue
//! is wet, and between a seated part and the rest of its host.

use std::collections::BTreeSet;

use lodewright_assembly::JointIx;
use lodewright_field::{Disc, Magnet, Pose, force};
use lodewright_geometry::{add, cross, dot, norm, scale, sub};
use lodewright_kit::{Frame, Ix, MagnetIx, PartIx, Pole, Table, Vec3};
use serde::Serialize;
use tiny_sort::stable::sort_by;

use crate::context::Context;
use crate::holes::{Face, HoleIx, Owner};
use crate::pull::{End, Filling, Fillings, disc};

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
pub struct UnintendedPair {
    /// The two holes, the lower first.
    pub holes: [HoleIx; 2],
    /// How they meet.
    pub meeting: Meeting,
    /// The joint that brings them together, for [`Meeting::PartAndHost`].
    pub joint: Option<JointIx>,
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
    hole: HoleIx,
    /// Where its first face looks.
    axis: Vec3,
    centre_mm: Vec3,
    disc: Disc,
    face_normal: Vec3,
}

/// Every pair whose force passes the plan's limit (or whose bodies overlap), strongest first.
pub fn unintended_pairs(
    context: &Context,
    fillings: &Fillings,
    poles: &Table<HoleIx, Option<Pole>>,
) -> Vec<UnintendedPair> {
    let mut found: Vec<UnintendedPair> = Vec::new();
    let own = Table::of(&context.plan().parts, |p, _| in_part(context, p, fillings));
    for list in own.values() {
        for (i, a) in list.iter().enumerate() {
            for b in &list[i + 1..] {
                let meeting = if dot(a.face_normal, b.face_normal) > 0.999 {
                    Meeting::SideBySide
                } else {
                    Meeting::ThroughThePart
                };
                found.extend(unintended(context, a, b, meeting, None, poles));
            }
        }
    }
    for joint in context.board.all_joints() {
        seated(context, joint, &own, poles, &mut found);
    }
    sort_by(&mut found, |a, b| {
        b.force_n
            .total_cmp(&a.force_n)
            .then(a.holes.cmp(&b.holes))
            .then(a.meeting.cmp(&b.meeting))
    });
    // A part that sits in several sockets of one kind meets the same one each time: the strongest stands for all.
    let mut seen = BTreeSet::new();
    found.retain(|s| seen.insert((s.holes, s.meeting)));
    found
}

/// The part of a joint against its host, but for the pairs that are meant to meet.
fn seated(
    context: &Context,
    joint: JointIx,
    own: &Table<PartIx, Vec<Placed>>,
    poles: &Table<HoleIx, Option<Pole>>,
    found: &mut Vec<UnintendedPair>,
) {
    let j = context.board.joints[joint];
    let on_host = context.board.part_on_host(joint);
    let meant = meant(context, joint);
    for guest in &own[j.part] {
        let guest = guest.on_host(&on_host);
        for host in &own[context.board.host(j.socket)] {
            if !meant.contains(&[host.hole, guest.hole]) {
                let pair = unintended(
                    context,
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
pub(crate) fn meant(context: &Context, joint: JointIx) -> Vec<[HoleIx; 2]> {
    let mates = context.mates[joint].iter();
    mates.map(|m| m.holes(&context.holes)).collect()
}

/// The magnets of a part, in its axes.
fn in_part(context: &Context, part: PartIx, fillings: &Fillings) -> Vec<Placed> {
    let holes = HoleIx::each(&context.holes.holes);
    let mine = holes.filter(|(_, h)| h.part == part);
    mine.filter_map(|(hole, _)| match fillings[hole] {
        Filling::Magnet(magnet) => placed(context, hole, magnet),
        _ => None,
    })
    .collect()
}

/// A magnet from stock in a hole, in the axes of the hole's part.
pub(crate) fn placed(context: &Context, hole: HoleIx, magnet: MagnetIx) -> Option<Placed> {
    let plan = context.plan();
    let stock = &plan.stock.magnets[magnet];
    let face = context.holes.face_of(hole, false)?;
    let frame = face_frame(context, face)?;
    let out = if face.owner.is_socket() { 1.0 } else { -1.0 };
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

fn face_frame(context: &Context, face: &Face) -> Option<Frame> {
    let board = &context.board;
    match face.owner {
        Owner::Socket(socket) => {
            let host = board.part(board.host(socket));
            Some(board.socket(socket).frame(host))
        }
        Owner::Plug(part, plug) => {
            // Where the plug's own side is not said it adapts to the socket it meets: the first one stands for all.
            let mut joints = board.joints.iter();
            let meets = joints.find(|j| j.part == part && j.plug == plug)?;
            let part = board.part(part);
            Some(part.plug_frame(&part.plugs[plug], board.socket(meets.socket).facing))
        }
    }
}

fn unintended(
    context: &Context,
    a: &Placed,
    b: &Placed,
    meeting: Meeting,
    joint: Option<JointIx>,
    poles: &Table<HoleIx, Option<Pole>>,
) -> Option<UnintendedPair> {
    let limit_n = context.board.plan.settings.stranger_limit_n;
    let between = sub(b.centre_mm, a.centre_mm);
    let apart_mm = norm(between);
    if apart_mm > reach_mm(a, b) {
        return None;
    }
    let sign = |hole: HoleIx| poles[hole].map(|p| if p == Pole::N { 1.0 } else { -1.0 });
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
    Some(UnintendedPair {
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
