//! Figures by which magnets are judged for safety: flux index, reach of the field, freight limits.

use core::f64::consts::TAU;

use crate::disc::Disc;
use crate::error::{FieldError, checked};
use crate::field_disc::disc_field;
use crate::gauss::{Rule, rule};

/// Limit of the flux index in kG^2 mm^2 for a magnet small enough to be swallowed: 16 CFR 1262 (US), EN 71-1 (EU toys).
pub const FLUX_INDEX_LIMIT_KG2MM2: f64 = 50.0;

/// Diameter of the axial probe's active area and its distance from the face, in mm: Canada, Toys Regulations SOR/2011-17,
/// Schedule 10 (each +-0.13 mm).
const PROBE_DIAMETER_MM: f64 = 0.76;
const PROBE_DISTANCE_MM: f64 = 0.38;
const ACROSS: Rule<5> = rule();
const AROUND: u32 = 8;

/// What the toy-safety method reads on a disc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FluxIndex {
    /// Square of the largest reading times the area of a pole face, in kG^2 mm^2.
    pub index_kg2mm2: f64,
    /// Largest reading over the face in T.
    pub largest_t: f64,
    /// Distance of that spot from the centre of the face in mm.
    pub spot_mm: f64,
}

/// Flux index of a disc: square of the largest flux density that the prescribed probe finds over a pole face, times the
/// area of that face. Above [`FLUX_INDEX_LIMIT_KG2MM2`] a magnet that fits a child's throat counts as hazardous.
///
/// # Errors
/// [`FieldError::OutOfRange`] for a disc outside its limits.
pub fn flux_index(d: &Disc) -> Result<FluxIndex, FieldError> {
    let d = d.checked()?;
    const STEPS: u32 = 60;
    let step = d.radius_mm() / f64::from(STEPS);
    let at = |i: u32| f64::from(i) * step;
    let start = (0..=STEPS)
        .max_by(|&a, &b| probe_t(&d, at(a)).total_cmp(&probe_t(&d, at(b))))
        .unwrap_or(0);
    // Around the best of the coarse spots the reading is a smooth hill.
    let (mut low, mut high) = (
        (at(start) - step).max(0.0),
        (at(start) + step).min(d.radius_mm()),
    );
    for _ in 0..30 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if probe_t(&d, a) < probe_t(&d, b) {
            low = a
        } else {
            high = b
        }
    }
    let spot_mm = [at(start), 0.5 * (low + high)]
        .into_iter()
        .fold(0.0, |best, r| {
            if probe_t(&d, r) > probe_t(&d, best) {
                r
            } else {
                best
            }
        });
    let largest_t = probe_t(&d, spot_mm);
    let kilogauss = 10.0 * largest_t;
    Ok(FluxIndex {
        index_kg2mm2: kilogauss * kilogauss * d.face_area_mm2(),
        largest_t,
        spot_mm,
    })
}

/// Mean axial flux density over the probe, whose centre is `from_axis_mm` from the axis.
fn probe_t(d: &Disc, from_axis_mm: f64) -> f64 {
    let height = 0.5 * d.height_mm + PROBE_DISTANCE_MM;
    let mut sum = 0.0;
    for (x, w) in ACROSS {
        // Gauss nodes in the square of the radius weigh equal areas equally.
        let r = 0.5 * PROBE_DIAMETER_MM * (0.5 * (1.0 + x)).sqrt();
        for k in 0..AROUND {
            let cos = libm::cos(TAU * (f64::from(k) + 0.5) / f64::from(AROUND));
            let rho = (from_axis_mm * from_axis_mm + r * r + 2.0 * from_axis_mm * r * cos)
                .max(0.0)
                .sqrt();
            sum += 0.5 * w * disc_field(d.radius_mm(), d.height_mm, rho, height).1;
        }
    }
    (sum / f64::from(AROUND) * d.polarization_t).abs()
}

/// Distance in mm from the face, along the axis, beyond which a disc's field stays below `field_t`; 0 if it is below already
/// at the face.
///
/// # Errors
/// [`FieldError::OutOfRange`] for a disc outside its limits or a field outside 1e-9 to 3 T.
pub fn distance_to_field_mm(d: &Disc, field_t: f64) -> Result<f64, FieldError> {
    let d = d.checked()?;
    let field_t = checked("field", field_t, 1e-9, 3.0, "T")?;
    let stronger = |z: f64| d.axial_field_t(z).is_ok_and(|b| b.abs() > field_t);
    let (mut low, mut high) = (0.0, 10_000.0);
    if !stronger(low) {
        return Ok(0.0);
    }
    for _ in 0..80 {
        let mid = 0.5 * (low + high);
        if stronger(mid) { low = mid } else { high = mid }
    }
    Ok(high)
}

/// Dipole field in T on the axis of a moment, far away: `mu0 m / (2 pi r^3)`.
#[must_use]
pub fn far_axial_field_t(moment_a_m2: f64, distance_m: f64) -> f64 {
    2e-7 * moment_a_m2 / (distance_m * distance_m * distance_m)
}

/// How many like discs, all aligned, make a field of `field_t` at `distance_m`.
///
/// Air freight: below 200 nT (0.159 A/m) at 2.1 m a package is not restricted, above 525 nT at 4.6 m it is forbidden (IATA
/// packing instruction 953, read second-hand).
///
/// # Errors
/// [`FieldError::OutOfRange`] for a disc or number outside its limits, or a disc without polarisation.
pub fn aligned_discs_for_field(d: &Disc, field_t: f64, distance_m: f64) -> Result<f64, FieldError> {
    let d = d.checked()?;
    checked(
        "size of the polarisation",
        d.polarization_t.abs(),
        1e-6,
        3.0,
        "T",
    )?;
    checked("field", field_t, 1e-12, 3.0, "T")?;
    checked("distance", distance_m, 0.1, 100.0, "m")?;
    Ok(field_t / far_axial_field_t(d.moment_a_m2(), distance_m).abs())
}
