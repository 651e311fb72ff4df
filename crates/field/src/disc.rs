//! The disc magnet: a flat cylinder polarised along its axis.

use core::f64::consts::PI;

use crate::error::{FieldError, checked};
use crate::units::{MU0_T_M_PER_A, NDFEB_DENSITY_G_PER_CM3};

/// Smallest diameter, height or edge that is taken, in mm.
pub const MIN_SIZE_MM: f64 = 0.001;
/// Largest diameter, height or edge that is taken, in mm.
pub const MAX_SIZE_MM: f64 = 200.0;
/// Largest polarisation that is taken, in T; no known material reaches it.
pub const MAX_POLARIZATION_T: f64 = 3.0;

/// A disc magnet with uniform polarisation along its axis (relative permeability 1).
///
/// A positive polarisation points along the disc's own +z axis, which leaves the north-seeking pole on the +z face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disc {
    /// Diameter in mm.
    pub diameter_mm: f64,
    /// Height along the axis in mm.
    pub height_mm: f64,
    /// Signed polarisation J in T.
    pub polarization_t: f64,
}

impl Disc {
    /// A disc with checked sizes.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] unless diameter and height are from 0.001 to 200 mm and the polarisation from -3 to 3 T.
    pub fn new(diameter_mm: f64, height_mm: f64, polarization_t: f64) -> Result<Self, FieldError> {
        Self {
            diameter_mm,
            height_mm,
            polarization_t,
        }
        .checked()
    }

    /// The same disc if its fields, which are public, are still within the limits of [`Disc::new`].
    pub(crate) fn checked(self) -> Result<Self, FieldError> {
        checked("diameter", self.diameter_mm, MIN_SIZE_MM, MAX_SIZE_MM, "mm")?;
        checked("height", self.height_mm, MIN_SIZE_MM, MAX_SIZE_MM, "mm")?;
        checked(
            "polarisation",
            self.polarization_t,
            -MAX_POLARIZATION_T,
            MAX_POLARIZATION_T,
            "T",
        )?;
        Ok(self)
    }

    /// Half the diameter, in mm.
    #[must_use]
    pub fn radius_mm(&self) -> f64 {
        0.5 * self.diameter_mm
    }

    /// Area of one pole face in mm^2.
    #[must_use]
    pub fn face_area_mm2(&self) -> f64 {
        PI * self.radius_mm() * self.radius_mm()
    }

    /// Volume in mm^3.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        self.face_area_mm2() * self.height_mm
    }

    /// Signed dipole moment J V / mu0 in A m^2.
    #[must_use]
    pub fn moment_a_m2(&self) -> f64 {
        self.polarization_t * self.volume_mm3() * 1e-9 / MU0_T_M_PER_A
    }

    /// Mass in g of the disc in sintered NdFeB ([`NDFEB_DENSITY_G_PER_CM3`]).
    #[must_use]
    pub fn mass_g(&self) -> f64 {
        self.volume_mm3() * 1e-3 * NDFEB_DENSITY_G_PER_CM3
    }

    /// Flux density along the axis, in T, at `distance_mm` beyond the +z face (negative: inside or on the other side).
    ///
    /// Source: E. P. Furlani, Permanent Magnet and Electromechanical Devices (Academic Press 2001), the on-axis field of a
    /// cylinder. Inside the magnet the value is B, not mu0 H.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] for sizes outside the limits of [`Disc::new`] or a distance beyond 10 m.
    pub fn axial_field_t(&self, distance_mm: f64) -> Result<f64, FieldError> {
        let disc = self.checked()?;
        let near_mm = checked("distance", distance_mm, -10_000.0, 10_000.0, "mm")?;
        let far_mm = near_mm + disc.height_mm;
        let r2 = disc.radius_mm() * disc.radius_mm();
        let (near_hyp, far_hyp) = (
            (near_mm * near_mm + r2).sqrt(),
            (far_mm * far_mm + r2).sqrt(),
        );
        // On one side of both faces the two quotients nearly cancel far away: subtract them on a common denominator.
        let difference = if near_mm * far_mm > 0.0 {
            let num = r2 * disc.height_mm * (near_mm + far_mm);
            num / (near_hyp * far_hyp * (far_mm * near_hyp + near_mm * far_hyp))
        } else {
            far_mm / far_hyp - near_mm / near_hyp
        };
        Ok(0.5 * disc.polarization_t * difference)
    }
}
