//! Magnets as they lie in space, and the force between two of them.

use lodewright_assembly::JointIx;
use lodewright_field::{Disc, Magnet, Pose, force};
use lodewright_geometry::{add, cross, dot, norm, scale, sub};
use lodewright_kit::{Frame, MagnetIx, SocketIx, Vec3};

use crate::context::Context;
use crate::holes::HoleIx;
use crate::pull::{End, disc};

/// Farther apart than this many of their sizes magnets are not looked at: the force falls with the fourth power.
const REACH: f64 = 6.0;
/// A magnet in space, in some part's axes.
#[derive(Clone, Copy)]
pub(crate) struct Placed {
    pub hole: HoleIx,
    /// Where its first face looks.
    axis: Vec3,
    pub centre_mm: Vec3,
    disc: Disc,
    pub face_normal: Vec3,
    /// The socket that it is on or that its part sits in, as long as nobody has placed that.
    pub adrift: Option<SocketIx>,
}

/// A magnet from stock in a hole, in the axes of the hole's part.
pub(crate) fn placed(context: &Context, hole: HoleIx, magnet: MagnetIx) -> Option<Placed> {
    let plan = context.plan();
    let stock = &plan.stock.magnets[magnet];
    let run = context.holes.holes[hole].run?;
    let wall_mm = context.holes.face_of(hole, false)?.wall_mm;
    let normal = scale(run.inward, -1.0);
    Some(Placed {
        hole,
        axis: normal,
        face_normal: normal,
        centre_mm: run.at_depth_mm(wall_mm + stock.height_mm / 2.0),
        adrift: run.adrift,
        disc: disc(plan, stock, End::Strong).ok()?,
    })
}

impl Placed {
    /// The same magnet in the axes of the part that its own sits on, by this joint. Magnets on an unplaced socket of its own part
    /// are somewhere.
    pub(crate) fn on_host(
        self,
        context: &Context,
        joint: JointIx,
        on_host: &Frame,
    ) -> Option<Self> {
        let socket = context.board.joints[joint].socket;
        let adrift = (!context.board.socket(socket).is_placed()).then_some(socket);
        self.adrift.is_none().then(|| Self {
            adrift,
            axis: on_host.direction_to_outer(self.axis),
            face_normal: on_host.direction_to_outer(self.face_normal),
            centre_mm: on_host.to_outer(self.centre_mm),
            ..self
        })
    }

    /// Whether it is known how the two lie to each other.
    pub(crate) fn is_comparable(&self, other: &Self) -> bool {
        self.adrift == other.adrift
    }

    /// Whether two magnets draw or push each other with more than the limit, or their bodies share space.
    pub(crate) fn is_too_near(&self, other: &Self, limit_n: f64) -> bool {
        let between = sub(other.centre_mm, self.centre_mm);
        let apart_mm = norm(between);
        self.is_comparable(other)
            && apart_mm <= reach_mm(self, other)
            && pair_force(self, other, between, apart_mm).is_none_or(|n| norm(n) >= limit_n)
    }
}

/// Farther apart two magnets are not looked at.
pub(super) fn reach_mm(a: &Placed, b: &Placed) -> f64 {
    REACH * (a.disc.diameter_mm.max(b.disc.diameter_mm) + a.disc.height_mm.max(b.disc.height_mm))
}

/// Force on the second magnet, N, in the part's axes, both showing N, with the centres `mm` apart along the line between
/// them; `None` where the bodies overlap.
pub(super) fn pair_force(a: &Placed, b: &Placed, between: Vec3, mm: f64) -> Option<Vec3> {
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
