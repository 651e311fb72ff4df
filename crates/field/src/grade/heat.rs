//! Whether heat takes strength from a magnet for good.

use crate::demag::{REFERENCE_TEMP_C, br_at_temperature_t, effective_polarization_t};
use crate::error::{FieldError, checked};
use crate::grade::Grade;
use crate::{demagnetizing_factor, units::MU0_T_M_PER_A};

/// Strength that a magnet loses for good, which no later cooling brings back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum LastingLoss {
    /// None is expected.
    None,
    /// Its own field drives a disc of this shape past the knee of its demagnetisation curve.
    PastKnee,
    /// It is warmer than the grade's working limit.
    AboveLimit,
}

/// The knee's field as a share of the coercivity: a squareness Hk / HcJ of 0.9, from memory.
const SQUARENESS: f64 = 0.9;

impl Grade {
    /// Remanence in T at its low and its high end at a temperature; see [`br_at_temperature_t`].
    #[must_use]
    pub fn br_range_t(&self, temp_c: f64) -> [f64; 2] {
        [self.br_min_t, self.br_max_t]
            .map(|br_t| br_at_temperature_t(br_t, self.temp_coeff_per_k, temp_c).max(0.0))
    }

    /// Whether a lone disc of this grade loses strength for good when it gets as warm as `warmest_c`.
    ///
    /// Beyond the working limit it does. Below it a flat disc may: its own field, `N J / mu0` on the load line of its shape,
    /// is strong, while the coercivity falls with heat. The strongest remanence and the lowest coercivity of the grade are
    /// taken, at 20 degrees and at the warmest. A disc before steel or an attracting magnet stands more.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] for sizes outside 0.001 to 200 mm or a temperature outside -273.15 to 1000 degrees.
    pub fn lasting_loss(
        &self,
        diameter_mm: f64,
        height_mm: f64,
        warmest_c: f64,
    ) -> Result<LastingLoss, FieldError> {
        let warmest_c = checked("temperature", warmest_c, -273.15, 1000.0, "degrees Celsius")?;
        let factor = demagnetizing_factor(diameter_mm, height_mm)?;
        let past_knee = |temp_c: f64| {
            let br_t = self.br_range_t(temp_c)[1];
            let j_t =
                effective_polarization_t(br_t, self.recoil_permeability, diameter_mm, height_mm)?;
            let own_ka_per_m = factor * j_t / MU0_T_M_PER_A / 1000.0;
            let hcj = self.hcj_min_ka_per_m
                * (1.0 + self.hcj_coeff_per_k * (temp_c - REFERENCE_TEMP_C)).max(0.0);
            Ok::<bool, FieldError>(own_ka_per_m > SQUARENESS * hcj)
        };
        Ok(if warmest_c > self.max_temp_c {
            LastingLoss::AboveLimit
        } else if past_knee(warmest_c)? || past_knee(REFERENCE_TEMP_C)? {
            LastingLoss::PastKnee
        } else {
            LastingLoss::None
        })
    }
}
