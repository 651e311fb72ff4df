//! Where one body stands relative to another.

use crate::error::{FieldError, checked};
use lodewright_geometry::{Frame, Vec3, add, cross, dot, scale, unit};

/// Largest distance between two bodies that is taken, in mm.
pub const MAX_DISTANCE_MM: f64 = 10_000.0;

/// Place and attitude of a body in the frame of another, whose centroid is the origin and whose axis is z.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose(Frame);

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
        Ok(Self(Frame {
            origin_mm: offset_mm,
            ..Frame::WORLD
        }))
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
        let turn = |v: Vec3| {
            add(
                add(scale(v, c), scale(cross(u, v), s)),
                scale(u, dot(u, v) * (1.0 - c)),
            )
        };
        Ok(Self(Frame {
            axes: self.0.axes.map(turn),
            ..self.0
        }))
    }

    /// Place of the body's centroid in mm.
    #[must_use]
    pub fn offset_mm(&self) -> [f64; 3] {
        self.0.origin_mm
    }

    /// The body's own z axis as a unit vector of the other's frame.
    #[must_use]
    pub fn axis(&self) -> [f64; 3] {
        self.0.axes[2]
    }

    /// A direction of the body's frame, seen from the other's.
    #[must_use]
    pub fn direction_out(&self, v: [f64; 3]) -> [f64; 3] {
        self.0.direction_to_outer(v)
    }

    /// A direction of the other's frame, seen from the body's.
    #[must_use]
    pub fn direction_in(&self, v: [f64; 3]) -> [f64; 3] {
        self.0.direction_to_inner(v)
    }

    /// A point of the body's frame, seen from the other's, in mm.
    #[must_use]
    pub fn point_out_mm(&self, p: [f64; 3]) -> [f64; 3] {
        self.0.to_outer(p)
    }

    /// A point of the other's frame, seen from the body's, in mm.
    #[must_use]
    pub fn point_in_mm(&self, p: [f64; 3]) -> [f64; 3] {
        self.0.to_inner(p)
    }

    /// The other body's pose, seen from this one.
    #[must_use]
    pub fn inverse(&self) -> Self {
        Self(self.0.inverse())
    }

    /// The same place and z axis, with the y axis laid along `normal`, which must be square to the z axis.
    pub(crate) fn rolled(&self, normal: Vec3) -> Self {
        let z = self.axis();
        Self(Frame {
            axes: [cross(normal, z), normal, z],
            ..self.0
        })
    }
}
