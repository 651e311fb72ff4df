//! How a magnet weakens itself: demagnetising factors of cylinders, recoil permeability, temperature.

use core::f64::consts::PI;

use crate::disc::{MAX_POLARIZATION_T, MAX_SIZE_MM, MIN_SIZE_MM};
use crate::elliptic::{ellip_d, ellip_e};
use crate::error::{FieldError, checked, checked_recoil};

/// Room temperature to which grade tables refer, in degrees Celsius.
pub const REFERENCE_TEMP_C: f64 = 20.0;

/// Demagnetising factor times length of a uniformly polarised cylinder, in mm: the self-energy of its two faces.
///
/// The magnetometric factor is one minus Nagaoka's coefficient of the current sheet of the same shape, for which
/// L. Lorenz (1879) gave the closed form in K and E.
pub(crate) fn factor_times_length_mm(diameter_mm: f64, length_mm: f64) -> f64 {
    if length_mm <= 0.0 {
        return 0.0;
    }
    let diagonal_mm = (diameter_mm * diameter_mm + length_mm * length_mm).sqrt();
    let (k, kc) = (diameter_mm / diagonal_mm, length_mm / diagonal_mm);
    length_mm - 4.0 / (3.0 * PI) * diagonal_mm * (kc * kc * ellip_d(kc) + ellip_e(kc) - k)
}

/// Magnetometric (volume-averaged) demagnetising factor of a uniformly polarised cylinder along its axis.
///
/// Agrees with the tables of D.-X. Chen, J. A. Brug and R. B. Goldfarb, IEEE Trans. Magn. 27 (1991) 3601-3619.
///
/// # Errors
/// [`FieldError::OutOfRange`] for sizes outside 0.001 to 200 mm.
pub fn demagnetizing_factor(diameter_mm: f64, height_mm: f64) -> Result<f64, FieldError> {
    checked("diameter", diameter_mm, MIN_SIZE_MM, MAX_SIZE_MM, "mm")?;
    checked("height", height_mm, MIN_SIZE_MM, MAX_SIZE_MM, "mm")?;
    Ok(factor_times_length_mm(diameter_mm, height_mm) / height_mm)
}

/// Mean demagnetising factor of a disc that faces its own mirror image across `image_gap_mm`.
///
/// The image's field works against the disc's own, so the factor falls from that of the lone disc (far away) to that of a
/// disc of twice the height (in contact).
pub(crate) fn factor_with_image(diameter_mm: f64, height_mm: f64, image_gap_mm: f64) -> f64 {
    let w = |length_mm| factor_times_length_mm(diameter_mm, length_mm);
    let own = w(height_mm);
    let mutual =
        0.5 * (w(2.0 * height_mm + image_gap_mm) + w(image_gap_mm)) - w(height_mm + image_gap_mm);
    ((own + mutual.min(0.0)) / height_mm).clamp(0.0, 1.0)
}

/// Mean polarisation in T of a free disc of remanence `br_t`: `J = Br / (1 + N (mu_r - 1))`, with the magnetometric
/// factor N of the cylinder.
///
/// # Errors
/// [`FieldError::OutOfRange`] for sizes outside 0.001 to 200 mm, a remanence beyond 3 T or a permeability outside 1 to 2.
pub fn effective_polarization_t(
    br_t: f64,
    recoil_mu_r: f64,
    diameter_mm: f64,
    height_mm: f64,
) -> Result<f64, FieldError> {
    let br_t = checked(
        "remanence",
        br_t,
        -MAX_POLARIZATION_T,
        MAX_POLARIZATION_T,
        "T",
    )?;
    let mu_r = checked_recoil(recoil_mu_r)?;
    Ok(br_t / (1.0 + demagnetizing_factor(diameter_mm, height_mm)? * (mu_r - 1.0)))
}

/// Remanence in T at a temperature, by the linear coefficient (per kelvin, negative for NdFeB) from 20 degrees Celsius.
///
/// Holds below the grade's working limit; above it strength is lost for good, which no coefficient describes.
#[must_use]
pub fn br_at_temperature_t(br_t: f64, coeff_per_k: f64, temp_c: f64) -> f64 {
    br_t * (1.0 + coeff_per_k * (temp_c - REFERENCE_TEMP_C))
}
