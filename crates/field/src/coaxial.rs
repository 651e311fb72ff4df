//! Force between two discs on one axis, exact to rounding from contact to the far field.
//!
//! Near: the closed form of W. Robertson, B. Cazzolato and A. Zander, "A simplified force equation for coaxial cylindrical
//! magnets and thin coils", IEEE Trans. Magn. 47(8), 2011, 2045-2049, with its three integrals merged into two Bulirsch
//! integrals so that equal radii and touching faces need no limit. Far: its four terms cancel, so the force between
//! current loops, which is positive throughout, is summed over both heights instead.

use crate::disc::Disc;
use crate::elliptic::{joint_d, sin4_over_cubed};
use crate::error::{FieldError, checked_gap_mm};
use crate::gauss::{Rule, integrate, rule};
use crate::units::N_PER_T2_MM2;

const PANEL: Rule<12> = rule();

/// Largest rounding error, relative, that the closed form may suffer before the other form is used.
const MAX_CANCELLATION: f64 = 2e-12;

/// Attraction in N between two discs on one axis, `gap_mm` from face to face; negative is repulsion.
///
/// Polarisations of the same sign make unlike poles face each other, which attracts.
///
/// # Errors
/// [`FieldError::OutOfRange`] for a disc outside the limits of [`Disc::new`] or a gap outside 0 to 10 000 mm.
pub fn coaxial_attraction_n(a: &Disc, b: &Disc, gap_mm: f64) -> Result<f64, FieldError> {
    let (a, b, gap_mm) = (a.checked()?, b.checked()?, checked_gap_mm(gap_mm)?);
    let shape_mm2 = pair_shape_mm2(&Pair::new(&a, &b), gap_mm);
    Ok(a.polarization_t * b.polarization_t * N_PER_T2_MM2 * shape_mm2)
}

/// The sizes of two coaxial discs, in mm.
struct Pair {
    r1: f64,
    r2: f64,
    h1: f64,
    h2: f64,
}

impl Pair {
    fn new(a: &Disc, b: &Disc) -> Self {
        Self {
            r1: a.radius_mm(),
            r2: b.radius_mm(),
            h1: a.height_mm,
            h2: b.height_mm,
        }
    }
}

/// Force per J1 J2 / mu0, in mm^2.
fn pair_shape_mm2(p: &Pair, gap_mm: f64) -> f64 {
    let apart_mm = [gap_mm + p.h1, gap_mm + p.h2, gap_mm, gap_mm + p.h1 + p.h2];
    let [one, other, near, far] = face_terms_mm2(p.r1, p.r2, apart_mm);
    let terms = [one, other, -near, -far];
    let sum: f64 = terms.iter().sum();
    let size: f64 = terms.iter().map(|t| t.abs()).sum();
    // Touching rims have a singular loop kernel; there the closed form has lost no more than its heights are thin.
    let rims_touch = gap_mm == 0.0 && p.r1 == p.r2;
    if rims_touch || f64::EPSILON * size <= MAX_CANCELLATION * sum {
        return 0.5 * sum;
    }
    summed_loops_mm2(p, gap_mm)
}

/// Face pairs of the closed form, in mm^2, for faces `a1` apart: zero at contact, rising to pi min(r1, r2)^2.
///
/// Each is twice mu0 / J^2 times what two charged faces lose of their contact force when they are pulled apart.
pub(crate) fn face_terms_mm2<const N: usize>(r1: f64, r2: f64, a1: [f64; N]) -> [f64; N] {
    let (sum, diff) = (r1 + r2, r1 - r2);
    // The third integral of the closed form, cel(kc, (kc / gamma)^2, 1, 0), is gamma^2 times the one with gamma^2 itself.
    let gamma_sq = (diff / sum) * (diff / sum);
    let a3_sq = a1.map(|a| sum * sum + a * a);
    // Touching rims have no modulus, and no force term either.
    let kc: [f64; N] = core::array::from_fn(|i| {
        ((diff * diff + a1[i] * a1[i]) / a3_sq[i])
            .sqrt()
            .max(1e-100)
    });
    let integrals = joint_d(kc, gamma_sq);
    core::array::from_fn(|i| {
        if a1[i] == 0.0 {
            return 0.0;
        }
        4.0 * r1 * r2 * a1[i] / a3_sq[i].sqrt()
            * (integrals[i].second - gamma_sq * integrals[i].third)
    })
}

/// The same force from the loop kernel: heights enter through the weight of each distance between two thin slices.
fn summed_loops_mm2(p: &Pair, gap_mm: f64) -> f64 {
    let (low, high, top) = (p.h1.min(p.h2), p.h1.max(p.h2), p.h1 + p.h2);
    let weighted = |u: f64| u.min(low).min(top - u).max(0.0) * loop_kernel(p.r1, p.r2, gap_mm + u);
    [(0.0, low), (low, high), (high, top)]
        .iter()
        .map(|&(from, to)| graded(p, gap_mm, from, to, &weighted))
        .sum()
}

/// Integral over `from..to` in panels no longer than their distance from the kernel's singularity.
fn graded(p: &Pair, gap_mm: f64, from: f64, to: f64, f: &impl Fn(f64) -> f64) -> f64 {
    let diff = p.r1 - p.r2;
    let (mut at, mut sum) = (from, 0.0);
    while at < to {
        let z = gap_mm + at;
        let reach = (z * z + diff * diff).sqrt().max(1e-6 * (p.h1 + p.h2));
        let next = if at + 1.5 * reach >= to {
            to
        } else {
            at + reach
        };
        sum += integrate(&PANEL, at, next, f);
        at = next;
    }
    sum
}

/// Attraction between two coaxial current loops `z` apart, per mu0 i1 i2 (no unit).
///
/// The textbook form `z k / (4 sqrt(r1 r2)) [(2 - k^2) E / (1 - k^2) - 2 K]`, its bracket written as one positive integral.
pub(crate) fn loop_kernel(r1: f64, r2: f64, z: f64) -> f64 {
    let (sum, diff) = (r1 + r2, r1 - r2);
    let a3_sq = sum * sum + z * z;
    let m = 4.0 * r1 * r2 / a3_sq;
    let kc = ((diff * diff + z * z) / a3_sq).sqrt();
    z / (2.0 * a3_sq.sqrt()) * m * m * sin4_over_cubed(kc, m)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loops_attract_as_published() {
        // Two coaxial loops of 3.2 and 5.1 A, radii 1.2 and 2.3 m, 0.123 and 1.321 m up: the test data of magpylib's
        // tests/test_force.py (IEEE Trans. Magn. 49(8), 2013), worked out there to -8.97250945874e-6 N.
        let f = 4e-7 * core::f64::consts::PI * 3.2 * 5.1 * loop_kernel(1.2, 2.3, 1.321 - 0.123);
        assert!((f / 8.972_509_458_74e-6 - 1.0).abs() < 1e-11, "{f}");
    }

    #[test]
    fn closed_form_and_summed_loops_agree() {
        for (r1, h1, r2, h2, gap) in [
            (1.5, 1.0, 1.5, 1.0, 0.2),
            (1.5, 1.0, 2.5, 2.0, 0.0),
            (1.0, 0.5, 5.0, 5.0, 3.0),
            (2.0, 4.0, 1.9, 0.3, 0.01),
        ] {
            let p = Pair { r1, r2, h1, h2 };
            let (closed, summed) = (pair_shape_mm2(&p, gap), summed_loops_mm2(&p, gap));
            assert!((closed / summed - 1.0).abs() < 1e-12, "{closed} {summed}");
        }
    }
}
