//! Rigid placement of one part's axes in another's, exact for quarter turns.

use crate::Facing;

/// x, y, z in mm (or a direction, without unit).
pub type Vec3 = [f64; 3];

/// Sum of two vectors.
pub fn add(a: Vec3, b: Vec3) -> Vec3 {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

/// Difference `a - b`.
pub fn sub(a: Vec3, b: Vec3) -> Vec3 {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

/// A vector times a number.
pub fn scale(a: Vec3, k: f64) -> Vec3 {
    [a[0] * k, a[1] * k, a[2] * k]
}

/// Scalar product.
pub fn dot(a: Vec3, b: Vec3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Vector product.
pub fn cross(a: Vec3, b: Vec3) -> Vec3 {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// Length.
pub fn norm(a: Vec3) -> f64 {
    dot(a, a).sqrt()
}

/// A right-handed set of unit axes with an origin, seen from some outer frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Where the origin lies in the outer frame, mm.
    pub origin_mm: Vec3,
    /// The unit axes x, y, z in the outer frame.
    pub axes: [Vec3; 3],
}

impl Frame {
    /// The outer frame itself.
    pub const WORLD: Self = Self {
        origin_mm: [0.0; 3],
        axes: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
    };

    /// A frame on a face: z out of it, in-plane axes by the rule of [`Facing`], then spun about z.
    pub fn on_face(origin_mm: Vec3, z: Facing, spin_deg: f64) -> Self {
        let n = z.normal();
        let x = z.first_axis();
        Self {
            origin_mm,
            axes: [x, cross(n, x), n],
        }
        .turned(spin_deg)
    }

    /// The same origin, axes turned about z (x towards y).
    pub fn turned(self, deg: f64) -> Self {
        let (s, c) = sin_cos_deg(deg);
        let [x, y, z] = self.axes;
        Self {
            axes: [
                add(scale(x, c), scale(y, s)),
                add(scale(y, c), scale(x, -s)),
                z,
            ],
            ..self
        }
    }

    /// Turned over about its x axis, origin moved `thickness_mm` along the old z: the far face of a plate that thick
    /// then lies where the near face was.
    pub fn turned_over(self, thickness_mm: f64) -> Self {
        let [x, y, z] = self.axes;
        Self {
            origin_mm: add(self.origin_mm, scale(z, thickness_mm)),
            axes: [x, scale(y, -1.0), scale(z, -1.0)],
        }
    }

    /// A point given in this frame, in the outer frame, mm.
    pub fn to_outer(&self, p_mm: Vec3) -> Vec3 {
        add(self.origin_mm, self.direction_to_outer(p_mm))
    }

    /// A direction given in this frame, in the outer frame.
    pub fn direction_to_outer(&self, v: Vec3) -> Vec3 {
        let [x, y, z] = self.axes;
        add(scale(x, v[0]), add(scale(y, v[1]), scale(z, v[2])))
    }

    /// A point of the outer frame, in this frame, mm.
    pub fn to_inner(&self, p_mm: Vec3) -> Vec3 {
        let d = sub(p_mm, self.origin_mm);
        [
            dot(d, self.axes[0]),
            dot(d, self.axes[1]),
            dot(d, self.axes[2]),
        ]
    }

    /// This frame (given in `outer`'s axes) seen from where `outer` is seen from.
    pub fn within(&self, outer: &Self) -> Self {
        Self {
            origin_mm: outer.to_outer(self.origin_mm),
            axes: self.axes.map(|a| outer.direction_to_outer(a)),
        }
    }

    /// The outer frame as seen from this one.
    pub fn inverse(&self) -> Self {
        let [x, y, z] = self.axes;
        Self {
            origin_mm: self.to_inner([0.0; 3]),
            axes: [[x[0], y[0], z[0]], [x[1], y[1], z[1]], [x[2], y[2], z[2]]],
        }
    }
}

/// Sine and cosine of an angle in degrees, exact at quarter turns; zero turn for what is not finite.
fn sin_cos_deg(deg: f64) -> (f64, f64) {
    let d = deg.rem_euclid(360.0);
    if d == 0.0 || d == 360.0 || !d.is_finite() {
        (0.0, 1.0)
    } else if d == 90.0 {
        (1.0, 0.0)
    } else if d == 180.0 {
        (0.0, -1.0)
    } else if d == 270.0 {
        (-1.0, 0.0)
    } else {
        libm::sincos(d.to_radians())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn face_frames_are_right_handed() {
        for f in Facing::ALL {
            let axes = Frame::on_face([0.0; 3], f, 0.0).axes;
            assert_eq!(cross(axes[0], axes[1]), axes[2], "{f:?}");
        }
    }

    #[test]
    fn upright_faces_carry_their_second_axis_up() {
        for f in [Facing::Front, Facing::Back, Facing::Left, Facing::Right] {
            assert_eq!(
                Frame::on_face([0.0; 3], f, 0.0).axes[1],
                [0.0, 0.0, 1.0],
                "{f:?}"
            );
        }
    }

    #[test]
    fn inverse_undoes() {
        let f = Frame::on_face([3.0, -2.0, 5.0], Facing::Left, 37.0).turned_over(2.0);
        let p = [1.0, 2.0, 3.0];
        let back = f.inverse().to_outer(f.to_outer(p));
        assert!(norm(sub(back, p)) < 1e-12);
        let there = f.within(&f.inverse());
        assert!(norm(sub(there.to_outer(p), p)) < 1e-12);
    }

    #[test]
    fn four_quarter_turns_are_none() {
        let f = Frame::on_face([0.0; 3], Facing::Up, 0.0);
        assert_eq!(f.turned(90.0).turned(90.0).turned(90.0).turned(90.0), f);
    }
}
