//! Whether two magnets share space: alternating projections between their convex outlines.

use crate::magnet::Magnet;
use crate::pose::Pose;
use lodewright_geometry::{Vec3, dot, sub};

/// How deep two bodies may interpenetrate, in mm, and still count as touching: rounding of sizes typed in mm.
const TOUCH_MM: f64 = 1e-6;
const MAX_ROUNDS: usize = 400;

/// A convex outline: a cylinder or a box, by its half sizes.
#[derive(Clone, Copy)]
struct Outline {
    half: Vec3,
    round: bool,
}

impl Outline {
    fn of(m: &Magnet, shrink_mm: f64) -> Self {
        Self {
            half: m.outline_mm().map(|e| (0.5 * e - shrink_mm).max(0.0)),
            round: !matches!(m, Magnet::Bar(_)),
        }
    }

    /// The outline's point nearest to `p`.
    fn nearest(&self, p: Vec3) -> Vec3 {
        let z = p[2].clamp(-self.half[2], self.half[2]);
        if !self.round {
            return [
                p[0].clamp(-self.half[0], self.half[0]),
                p[1].clamp(-self.half[1], self.half[1]),
                z,
            ];
        }
        let rho = (p[0] * p[0] + p[1] * p[1]).sqrt();
        let k = if rho > self.half[0] {
            self.half[0] / rho
        } else {
            1.0
        };
        [p[0] * k, p[1] * k, z]
    }

    /// The largest `dot(d, point)` over the outline.
    fn reach(&self, d: Vec3) -> f64 {
        let flat = if self.round {
            self.half[0] * (d[0] * d[0] + d[1] * d[1]).sqrt()
        } else {
            self.half[0] * d[0].abs() + self.half[1] * d[1].abs()
        };
        flat + self.half[2] * d[2].abs()
    }
}

/// Whether `second`, at `pose` in the frame of `first`, shares more than a touch of space with it.
pub(crate) fn overlap(first: &Magnet, second: &Magnet, pose: &Pose) -> bool {
    if !outlines_overlap(first, second, pose) {
        return false;
    }
    !(in_bore(first, second, pose) || in_bore(second, first, &pose.inverse()))
}

fn outlines_overlap(first: &Magnet, second: &Magnet, pose: &Pose) -> bool {
    let (a, b) = (
        Outline::of(first, 0.5 * TOUCH_MM),
        Outline::of(second, 0.5 * TOUCH_MM),
    );
    let mut on_b = pose.offset_mm();
    for _ in 0..MAX_ROUNDS {
        let on_a = a.nearest(on_b);
        let in_b = pose.point_in_mm(on_a);
        let nearest_b = b.nearest(in_b);
        on_b = pose.point_out_mm(nearest_b);
        let d = sub(on_b, on_a);
        if dot(d, d) < 0.01 * TOUCH_MM * TOUCH_MM {
            return true;
        }
        // The direction between the nearest points found so far separates the bodies as soon as it can.
        if dot(d, pose.offset_mm()) - a.reach(d) - b.reach(pose.direction_in(d)) > 0.0 {
            return false;
        }
    }
    false
}

/// Whether `guest` stands wholly inside the endless bore of `host`.
fn in_bore(host: &Magnet, guest: &Magnet, pose: &Pose) -> bool {
    let Magnet::Ring(ring) = host else {
        return false;
    };
    let outline = Outline::of(guest, 0.0);
    let corners: Vec<Vec3> = if outline.round {
        rim_points(&outline)
    } else {
        let [x, y, z] = outline.half;
        [-1.0, 1.0]
            .iter()
            .flat_map(|i| [-1.0, 1.0].map(|j| (i, j)))
            .flat_map(|(i, j)| [[i * x, j * y, z], [i * x, j * y, -z]])
            .collect()
    };
    let limit = 0.5 * ring.inner_diameter_mm + TOUCH_MM;
    corners.iter().all(|&c| {
        let p = pose.point_out_mm(c);
        (p[0] * p[0] + p[1] * p[1]).sqrt() <= limit
    })
}

/// Points around both rims; between them a rim bulges by less than 0.03 % of its radius.
fn rim_points(o: &Outline) -> Vec<Vec3> {
    let mut points = Vec::new();
    for i in 0..128_u32 {
        let (s, c) = libm::sincos(f64::from(i) * core::f64::consts::TAU / 128.0);
        for z in [-o.half[2], o.half[2]] {
            points.push([o.half[0] * c, o.half[0] * s, z]);
        }
    }
    points
}
