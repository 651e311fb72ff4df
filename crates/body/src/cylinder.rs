//! Holes as finite cylinders, and how far two of them lie apart.

use lodewright_geometry::{Vec3, add, distance, dot, norm, scale, sub};

/// A finite cylinder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cylinder {
    /// Middle of the end where it begins, mm.
    pub mouth_mm: Vec3,
    /// The way that it runs, a unit vector.
    pub axis: Vec3,
    /// How long it is, mm.
    pub long_mm: f64,
    /// Its radius, mm.
    pub radius_mm: f64,
}

impl Cylinder {
    /// A distance that another is at least away, mm: between the balls that hold them.
    fn at_least_apart_mm(&self, other: &Self) -> f64 {
        let ball = |c: &Self| {
            let middle = add(c.mouth_mm, scale(c.axis, c.long_mm / 2.0));
            (middle, libm::hypot(c.long_mm / 2.0, c.radius_mm))
        };
        let ((a, ra), (b, rb)) = (ball(self), ball(other));
        distance(a, b) - ra - rb
    }

    /// Whether two cylinders come nearer than this, mm.
    pub fn is_nearer(&self, other: &Self, than_mm: f64) -> bool {
        self.at_least_apart_mm(other) < than_mm && cylinders_apart_mm(self, other) < than_mm
    }

    /// The nearest of its points.
    fn nearest(&self, p_mm: Vec3) -> Vec3 {
        let from = sub(p_mm, self.mouth_mm);
        let along = dot(from, self.axis);
        let out = sub(from, scale(self.axis, along));
        let far = norm(out);
        let out = if far > self.radius_mm {
            scale(out, self.radius_mm / far)
        } else {
            out
        };
        let along = along.clamp(0.0, self.long_mm);
        add(self.mouth_mm, add(scale(self.axis, along), out))
    }
}

/// Least distance of two cylinders, mm; 0 where they meet.
pub fn cylinders_apart_mm(a: &Cylinder, b: &Cylinder) -> f64 {
    let mut p = a.nearest(b.nearest(a.mouth_mm));
    for _ in 0..500 {
        let next = a.nearest(b.nearest(p));
        if distance(next, p) < 1e-9 {
            break;
        }
        p = next;
    }
    distance(p, b.nearest(p))
}
