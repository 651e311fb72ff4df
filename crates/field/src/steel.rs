//! Pull of a disc magnet on soft steel: thick plate by its mirror image, finite discs by a careful derating.

use crate::coaxial::coaxial_attraction_n;
use crate::demag::factor_with_image;
use crate::disc::{Disc, MAX_SIZE_MM, MIN_SIZE_MM};
use crate::error::{FieldError, checked, checked_gap_mm, checked_recoil};
use crate::units::MU0_T_M_PER_A;

/// Attraction in N between a disc and a thick, wide plate of soft steel, `gap_mm` from its face.
///
/// The plate is a magnetic mirror: the force is that between the disc and its like at twice the gap.
/// `d.polarization_t` is here the material's REMANENCE; with `recoil_mu_r` above 1 the mean polarisation in the presence of
/// the mirror image follows from it, `J = Br / (1 + N' (mu_r - 1))`. Give 1 for a disc whose polarisation is already known.
///
/// # Errors
/// [`FieldError::OutOfRange`] for a disc, gap (0 to 5000 mm) or permeability (1 to 2) outside the limits.
pub fn plate_attraction_n(d: &Disc, gap_mm: f64, recoil_mu_r: f64) -> Result<f64, FieldError> {
    let (d, mu_r) = (d.checked()?, checked_recoil(recoil_mu_r)?);
    let image_gap_mm = 2.0 * checked("gap", gap_mm, 0.0, 5000.0, "mm")?;
    let n = factor_with_image(d.diameter_mm, d.height_mm, image_gap_mm);
    let weakening = 1.0 / (1.0 + n * (mu_r - 1.0));
    Ok(coaxial_attraction_n(&d, &d, image_gap_mm)? * weakening * weakening)
}

/// Flux density in T at which low-carbon steel is taken to be full.
const FULL_STEEL_T: f64 = 1.7;

/// Attraction in N between a disc and a coaxial disc of mild steel of finite diameter and thickness; meant to err low.
///
/// `d.polarization_t` is the remanence, as in [`plate_attraction_n`].
///
/// # Errors
/// [`FieldError::OutOfRange`] for a disc, steel size (0.001 to 200 mm), gap or permeability outside the limits.
pub fn steel_disc_attraction_n(
    d: &Disc,
    steel_diameter_mm: f64,
    steel_thickness_mm: f64,
    gap_mm: f64,
    recoil_mu_r: f64,
) -> Result<f64, FieldError> {
    let steel_d = checked(
        "steel diameter",
        steel_diameter_mm,
        MIN_SIZE_MM,
        MAX_SIZE_MM,
        "mm",
    )?;
    let steel_t = checked(
        "steel thickness",
        steel_thickness_mm,
        MIN_SIZE_MM,
        MAX_SIZE_MM,
        "mm",
    )?;
    checked_gap_mm(gap_mm)?;
    let plate_n = plate_attraction_n(d, gap_mm, recoil_mu_r)?;
    let area_mm2 = d.face_area_mm2();
    let mean_t = (2.0 * MU0_T_M_PER_A * plate_n / (area_mm2 * 1e-6)).sqrt();
    let needed_mm = mean_t * d.diameter_mm / (4.0 * FULL_STEEL_T);
    let full = (steel_t / needed_mm.max(1e-9)).min(1.0);
    let ratio = steel_d / d.diameter_mm;
    let wide = if ratio < 1.0 {
        0.35 * ratio * ratio
    } else if ratio < 1.5 {
        0.35 + 0.6 * (ratio - 1.0)
    } else {
        (0.65 + 0.2 * (ratio - 1.5)).min(0.9)
    };
    Ok(plate_n * wide * full * full.sqrt())
}
