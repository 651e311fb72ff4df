//! Where one body stands relative to another.

use crate::error::{FieldError, checked};
use crate::vec3::{V3, add, cross, dot, scale, sub, unit};

/// Largest distance between two bodies that is taken, in mm.
pub const MAX_DISTANCE_MM: f64 = 10_000.0;

/// Place and attitude of a body in the frame of another, whose centroid is the origin and whose axis is z.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    offset_mm: V3,
    /// The body's own x, y, z axes, as unit vectors of the other's frame.
    axes: [V3; 3],
}

impl Pose {
    /// Centroid at `offset_mm`, axes parallel.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] for a coordinate beyond 10 m or not a number.
    pub fn shifted(offset_mm: [f64; 3]) -> Result<Self, FieldError> {
        for (what, given) in ["x offset", "y offset", "z offset"]
            .into_iter()
            .zip(offset_mm)
        {
            checked(what, given, -MAX_DISTANCE_MM, MAX_DISTANCE_MM, "mm")?;
        }
        Ok(Self {
            offset_mm,
            axes: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
        })
    }

    /// The same place, turned right-handed by `angle_deg` about the direction `about` of the other body's frame.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] for an angle beyond 3600 degrees; [`FieldError::BadShape`] for a direction of no length.
    pub fn turned(self, about: [f64; 3], angle_deg: f64) -> Result<Self, FieldError> {
        let angle = checked("turning angle", angle_deg, -3600.0, 3600.0, "degrees")?.to_radians();
        let Some(u) = unit(about) else {
            return Err(FieldError::BadShape {
                what: "the direction to turn about has no length",
            });
        };
        if angle_deg == 0.0 {
            return Ok(self);
        }
        let (s, c) = libm::sincos(angle);
        // Rodrigues' rotation formula.
        let turn = |v: V3| {
            add(
                add(scale(v, c), scale(cross(u, v), s)),
                scale(u, dot(u, v) * (1.0 - c)),
            )
        };
        Ok(Self {
            axes: self.axes.map(turn),
            ..self
        })
    }

    /// Place of the body's centroid in mm.
    #[must_use]
    pub fn offset_mm(&self) -> [f64; 3] {
        self.offset_mm
    }

    /// The body's own z axis as a unit vector of the other's frame.
    #[must_use]
    pub fn axis(&self) -> [f64; 3] {
        self.axes[2]
    }

    /// A direction of the body's frame, seen from the other's.
    #[must_use]
    pub fn direction_out(&self, v: [f64; 3]) -> [f64; 3] {
        let [x, y, z] = self.axes;
        add(add(scale(x, v[0]), scale(y, v[1])), scale(z, v[2]))
    }

    /// A direction of the other's frame, seen from the body's.
    #[must_use]
    pub fn direction_in(&self, v: [f64; 3]) -> [f64; 3] {
        self.axes.map(|a| dot(a, v))
    }

    /// A point of the body's frame, seen from the other's, in mm.
    #[must_use]
    pub fn point_out_mm(&self, p: [f64; 3]) -> [f64; 3] {
        add(self.offset_mm, self.direction_out(p))
    }

    /// A point of the other's frame, seen from the body's, in mm.
    #[must_use]
    pub fn point_in_mm(&self, p: [f64; 3]) -> [f64; 3] {
        self.direction_in(sub(p, self.offset_mm))
    }

    /// The other body's pose, seen from this one.
    #[must_use]
    pub fn inverse(&self) -> Self {
        let [x, y, z] = self.axes;
        let axes = [0, 1, 2].map(|i| [x[i], y[i], z[i]]);
        Self {
            offset_mm: self.point_in_mm([0.0; 3]),
            axes,
        }
    }

    /// The same place and z axis, with the y axis laid along `normal`, which must be square to the z axis.
    pub(crate) fn rolled(&self, normal: V3) -> Self {
        let z = self.axes[2];
        Self {
            offset_mm: self.offset_mm,
            axes: [cross(normal, z), normal, z],
        }
    }
}
