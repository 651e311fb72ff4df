//! Pull of a disc magnet on soft steel: thick plate by its mirror image, finite steel discs by a careful derating.
//!
//! The finite disc is bounded twice. As long as the steel is not full, it pulls a share of the plate's force that depends on
//! its size and the gap. Once full, it pulls what a disc magnetised to saturation, radially, feels in the magnet's field:
//! `F = Ms * integral of dBr/dz over the steel`. The smaller of the two, rounded off at the corner, is the answer. Shares and
//! rounding were chosen to stay below the finite-element table in `tests/reference` (see the test for the distribution).

use core::f64::consts::PI;

use crate::coaxial::coaxial_attraction_n;
use crate::demag::factor_with_image;
use crate::disc::{Disc, MAX_SIZE_MM, MIN_SIZE_MM};
use crate::error::{FieldError, checked, checked_recoil};
use crate::field_disc::end_field;
use crate::gauss::{Rule, integrate, rule};
use crate::units::N_PER_T2_MM2;

const PANEL: Rule<6> = rule();

/// Attraction in N between a disc and a thick, wide plate of soft steel, `gap_mm` from its face.
///
/// The plate is a magnetic mirror: the force is that between the disc and its like at twice the gap.
/// `d.polarization_t` is here the material's REMANENCE; with `recoil_mu_r` above 1 the mean polarisation in the presence of
/// the mirror image follows from it, `J = Br / (1 + N' (mu_r - 1))`. Give 1 for a disc whose polarisation is already known.
///
/// # Errors
/// [`FieldError::OutOfRange`] for a disc, gap (0 to 5000 mm) or permeability (1 to 2) outside the limits.
pub fn plate_attraction_n(d: &Disc, gap_mm: f64, recoil_mu_r: f64) -> Result<f64, FieldError> {
    let d = loaded(d, gap_mm, recoil_mu_r)?;
    coaxial_attraction_n(&d, &d, 2.0 * gap_mm)
}

/// The disc with the polarisation that its remanence leaves it before a thick plate.
fn loaded(d: &Disc, gap_mm: f64, recoil_mu_r: f64) -> Result<Disc, FieldError> {
    let (d, mu_r) = (d.checked()?, checked_recoil(recoil_mu_r)?);
    checked("gap", gap_mm, 0.0, 5000.0, "mm")?;
    let n = factor_with_image(d.diameter_mm, d.height_mm, 2.0 * gap_mm);
    Ok(Disc {
        polarization_t: d.polarization_t / (1.0 + n * (mu_r - 1.0)),
        ..d
    })
}

/// Saturation polarisation in T at which low-carbon steel is taken to be full; true values are 2.0 to 2.15 T.
const FULL_STEEL_T: f64 = 1.8;
/// Sharpness of the corner between the unsaturated and the full state.
const CORNER: f64 = 4.0;
/// Steel wider than this many magnet diameters adds nothing to the force of a full disc.
const USEFUL_WIDTH: f64 = 1.5;

/// Attraction in N between a disc and a coaxial disc of mild steel of finite diameter and thickness; errs low.
///
/// `d.polarization_t` is the remanence, as in [`plate_attraction_n`]. Against non-linear finite elements (magnets 3 to 10 mm,
/// steel of 1 to 3 diameters, 0.2 to 2 mm thick, gaps 0 to 1 mm) the result is 0.73 to 0.99 of the true force, 0.91 in the
/// median. Steel narrower than the magnet lies outside that table: there the force falls with the cube of the width.
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
    let d = loaded(d, gap_mm, recoil_mu_r)?;
    let plate_n = coaxial_attraction_n(&d, &d, 2.0 * gap_mm)?;
    if plate_n <= 0.0 {
        return Ok(0.0);
    }
    let true_width = steel_d / d.diameter_mm;
    let (width, narrow) = (true_width.max(1.0), libm::pow(true_width.min(1.0), 3.0));
    let share = unsaturated_share(width, steel_t / d.diameter_mm, gap_mm / d.diameter_mm);
    let useful_mm = 0.5 * d.diameter_mm * width.min(USEFUL_WIDTH);
    let full = full_steel_n(&d, useful_mm, steel_t, gap_mm) / plate_n;
    let full_share = full * wide_sheet(width, full);
    let corner = libm::pow(
        1.0 + libm::pow(share / full_share.max(1e-30), CORNER),
        1.0 / CORNER,
    );
    Ok(plate_n * narrow * share / corner)
}

/// Share of the plate's force that unsaturated steel keeps; arguments in magnet diameters, the width at least 1.
fn unsaturated_share(width: f64, thickness: f64, gap: f64) -> f64 {
    let level = 0.71 * libm::pow(thickness / (thickness + 0.9), 0.33) * libm::exp(-0.4 * gap);
    let half_wider = 0.94 * libm::exp(-(0.8 + 0.14 / (thickness + 0.1)) * gap);
    let wide = 0.97 * libm::exp(-0.2 * gap);
    let half_wider = half_wider.max(level);
    let wide = wide.max(half_wider);
    let between = |low: f64, high: f64, part: f64| low + (high - low) * part;
    if width < 1.5 {
        between(level, half_wider, (width - 1.0) / 0.5)
    } else {
        between(half_wider, wide, ((width - 1.5) / 1.5).min(1.0))
    }
}

/// Correction of the full force of sheets wider than the useful width: more when hardly full, less when deeply so, since
/// a wide sheet leads away what little it carries.
fn wide_sheet(width: f64, full: f64) -> f64 {
    let part = ((width - USEFUL_WIDTH) / 1.5).clamp(0.0, 1.0);
    (1.0 + 0.25 * part) * libm::pow(full.clamp(1e-9, 1.0), 0.3 * part)
}

/// Force in N on steel magnetised radially to saturation out to `radius_mm`: the difference of the radial field between its
/// two faces.
fn full_steel_n(d: &Disc, radius_mm: f64, thickness_mm: f64, gap_mm: f64) -> f64 {
    let radial = |rho: f64, z: f64| {
        (end_field(d.radius_mm(), rho, z + d.height_mm).0 - end_field(d.radius_mm(), rho, z).0) / PI
    };
    let f = |rho: f64| rho * (radial(rho, gap_mm) - radial(rho, gap_mm + thickness_mm)).abs();
    let sum = towards_rim(d.radius_mm(), radius_mm, gap_mm, f);
    2.0 * PI * FULL_STEEL_T * d.polarization_t.abs() * sum * N_PER_T2_MM2
}

/// Integral over `0..end` in panels that shrink towards the magnet's rim, where the field peaks.
fn towards_rim(rim: f64, end: f64, gap: f64, f: impl Fn(f64) -> f64) -> f64 {
    let peak = rim.min(end);
    let mut sum = 0.0;
    for mut far in [0.0, end] {
        // Halve the part next to the peak until it is as short as the gap.
        for _ in 0..12 {
            if (far - peak).abs() <= 0.5 * gap.max(1e-3 * rim) {
                break;
            }
            let near = 0.5 * (peak + far);
            sum += integrate(&PANEL, near.min(far), near.max(far), &f);
            far = near;
        }
        sum += integrate(&PANEL, peak.min(far), peak.max(far), &f);
    }
    sum
}
