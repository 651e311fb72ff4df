//! The shapes of magnet this crate knows: disc, ring, bar; all polarised along their own z axis.

use crate::disc::{Disc, MAX_POLARIZATION_T, MAX_SIZE_MM, MIN_SIZE_MM};
use crate::error::{FieldError, checked};
use crate::field_bar::bar_field;
use crate::field_disc::disc_field;
use crate::units::{MU0_T_M_PER_A, NDFEB_DENSITY_G_PER_CM3};
use lodewright_geometry::{Vec3, scale, sub};

/// A ring magnet polarised along its axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Outer diameter in mm.
    pub outer_diameter_mm: f64,
    /// Diameter of the bore in mm, less than the outer one.
    pub inner_diameter_mm: f64,
    /// Height along the axis in mm.
    pub height_mm: f64,
    /// Signed polarisation J in T.
    pub polarization_t: f64,
}

impl Ring {
    /// The solid disc of the ring's outline.
    pub(crate) fn solid(&self) -> Disc {
        Disc {
            diameter_mm: self.outer_diameter_mm,
            height_mm: self.height_mm,
            polarization_t: self.polarization_t,
        }
    }

    /// The disc that would fill the bore.
    pub(crate) fn core(&self) -> Disc {
        Disc {
            diameter_mm: self.inner_diameter_mm,
            ..self.solid()
        }
    }
}

/// A rectangular bar or cube, polarised along its own z axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar {
    /// Edge lengths along x, y and z in mm.
    pub size_mm: [f64; 3],
    /// Signed polarisation J in T.
    pub polarization_t: f64,
}

/// A magnet of any known shape, centred on the origin of its own frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Magnet {
    /// A disc.
    Disc(Disc),
    /// A ring.
    Ring(Ring),
    /// A rectangular bar.
    Bar(Bar),
}

impl From<Disc> for Magnet {
    fn from(d: Disc) -> Self {
        Self::Disc(d)
    }
}

impl Magnet {
    /// A disc with checked sizes.
    ///
    /// # Errors
    /// As [`Disc::new`].
    pub fn disc(diameter_mm: f64, height_mm: f64, polarization_t: f64) -> Result<Self, FieldError> {
        Disc::new(diameter_mm, height_mm, polarization_t).map(Self::Disc)
    }

    /// `count` like discs of `height_mm` each, stuck together: one taller disc.
    ///
    /// # Errors
    /// As [`Disc::new`], for the whole stack; [`FieldError::BadShape`] for an empty one.
    pub fn stack(
        diameter_mm: f64,
        height_mm: f64,
        count: u32,
        polarization_t: f64,
    ) -> Result<Self, FieldError> {
        if count == 0 {
            return Err(FieldError::BadShape {
                what: "a stack needs at least one disc",
            });
        }
        checked("height", height_mm, MIN_SIZE_MM, MAX_SIZE_MM, "mm")?;
        Self::disc(diameter_mm, height_mm * f64::from(count), polarization_t)
    }

    /// A ring with checked sizes.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] as [`Disc::new`]; [`FieldError::BadShape`] if the bore is not inside the rim.
    pub fn ring(
        outer_diameter_mm: f64,
        inner_diameter_mm: f64,
        height_mm: f64,
        polarization_t: f64,
    ) -> Result<Self, FieldError> {
        Self::Ring(Ring {
            outer_diameter_mm,
            inner_diameter_mm,
            height_mm,
            polarization_t,
        })
        .checked()
    }

    /// A rectangular bar with checked sizes, polarised along z.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] unless every edge is from 0.001 to 200 mm and the polarisation from -3 to 3 T.
    pub fn bar(size_mm: [f64; 3], polarization_t: f64) -> Result<Self, FieldError> {
        Self::Bar(Bar {
            size_mm,
            polarization_t,
        })
        .checked()
    }

    /// The magnet if all its numbers, which are public, are within their limits.
    pub(crate) fn checked(self) -> Result<Self, FieldError> {
        match self {
            Self::Disc(d) => d.checked().map(Self::Disc),
            Self::Ring(r) => {
                r.solid().checked()?;
                r.core().checked()?;
                if r.inner_diameter_mm >= r.outer_diameter_mm {
                    return Err(FieldError::BadShape {
                        what: "the bore of a ring must be smaller than its outline",
                    });
                }
                Ok(self)
            }
            Self::Bar(b) => {
                for (what, edge) in ["x edge", "y edge", "z edge"].into_iter().zip(b.size_mm) {
                    checked(what, edge, MIN_SIZE_MM, MAX_SIZE_MM, "mm")?;
                }
                checked(
                    "polarisation",
                    b.polarization_t,
                    -MAX_POLARIZATION_T,
                    MAX_POLARIZATION_T,
                    "T",
                )?;
                Ok(self)
            }
        }
    }

    /// Signed polarisation in T.
    #[must_use]
    pub fn polarization_t(&self) -> f64 {
        match self {
            Self::Disc(d) => d.polarization_t,
            Self::Ring(r) => r.polarization_t,
            Self::Bar(b) => b.polarization_t,
        }
    }

    /// Height along the polarisation in mm.
    #[must_use]
    pub fn height_mm(&self) -> f64 {
        match self {
            Self::Disc(d) => d.height_mm,
            Self::Ring(r) => r.height_mm,
            Self::Bar(b) => b.size_mm[2],
        }
    }

    /// Area of one pole face in mm^2.
    #[must_use]
    pub fn face_area_mm2(&self) -> f64 {
        match self {
            Self::Disc(d) => d.face_area_mm2(),
            Self::Ring(r) => r.solid().face_area_mm2() - r.core().face_area_mm2(),
            Self::Bar(b) => b.size_mm[0] * b.size_mm[1],
        }
    }

    /// Volume in mm^3.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        self.face_area_mm2() * self.height_mm()
    }

    /// Signed dipole moment J V / mu0 in A m^2.
    #[must_use]
    pub fn moment_a_m2(&self) -> f64 {
        self.polarization_t() * self.volume_mm3() * 1e-9 / MU0_T_M_PER_A
    }

    /// Mass in g in sintered NdFeB.
    #[must_use]
    pub fn mass_g(&self) -> f64 {
        self.volume_mm3() * 1e-3 * NDFEB_DENSITY_G_PER_CM3
    }

    /// Half the body's longest diagonal in mm: no point of it is farther from its centre.
    #[must_use]
    pub fn half_diagonal_mm(&self) -> f64 {
        let [x, y, z] = self.outline_mm();
        let wide = if matches!(self, Self::Bar(_)) {
            x * x + y * y
        } else {
            x * x
        };
        0.5 * (wide + z * z).sqrt()
    }

    /// Edges of the smallest box around the magnet in its own frame.
    pub(crate) fn outline_mm(&self) -> Vec3 {
        match self {
            Self::Disc(d) => [d.diameter_mm, d.diameter_mm, d.height_mm],
            Self::Ring(r) => [r.outer_diameter_mm, r.outer_diameter_mm, r.height_mm],
            Self::Bar(b) => b.size_mm,
        }
    }

    /// Flux density B in T at a point of the magnet's own frame, in mm from its centre.
    ///
    /// Exact (closed forms; a convergent series far away). Inside the magnet it is B. On an edge, where the true field is
    /// infinite, the singular part is left out.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] for a magnet outside its limits or a coordinate beyond 10 m.
    pub fn field_t(&self, point_mm: [f64; 3]) -> Result<[f64; 3], FieldError> {
        let magnet = self.checked()?;
        for c in point_mm {
            checked("coordinate", c, -10_000.0, 10_000.0, "mm")?;
        }
        Ok(scale(magnet.unit_field(point_mm), magnet.polarization_t()))
    }

    /// Flux density per tesla of polarisation.
    pub(crate) fn unit_field(&self, p: Vec3) -> Vec3 {
        match self {
            Self::Disc(d) => round_field(d, p),
            Self::Ring(r) => sub(round_field(&r.solid(), p), round_field(&r.core(), p)),
            Self::Bar(b) => bar_field(b.size_mm, p),
        }
    }
}

fn round_field(d: &Disc, p: Vec3) -> Vec3 {
    let rho = (p[0] * p[0] + p[1] * p[1]).sqrt();
    let (radial, axial) = disc_field(d.radius_mm(), d.height_mm, rho, p[2]);
    if rho == 0.0 {
        return [0.0, 0.0, axial];
    }
    [radial * p[0] / rho, radial * p[1] / rho, axial]
}
