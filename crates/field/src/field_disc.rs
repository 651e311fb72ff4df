//! Flux density around a disc, exact everywhere.
//!
//! Near: N. Derby and S. Olbert, "Cylindrical magnets and ideal solenoids", Am. J. Phys. 78 (2010) 229-235, with Bulirsch's
//! integral. Far, where the two faces nearly cancel: the multipole series that continues the field on the axis.

use core::f64::consts::PI;

use crate::elliptic::joint_radial;

/// Distance, in half diagonals of the disc, from which the series is used. It then converges by 1/9 per term.
const FAR: f64 = 3.0;
const SERIES_TERMS: u32 = 24;

/// Radial and axial flux density per tesla of polarisation at radius `rho` and height `z` from the centre, all lengths in
/// mm. Inside the disc this is B. On the rim it is infinite and left out; on the curved wall itself it is the mean of both sides.
pub(crate) fn disc_field(radius: f64, height: f64, rho: f64, z: f64) -> (f64, f64) {
    let half = 0.5 * height;
    let b_sq = radius * radius + half * half;
    if rho * rho + z * z > FAR * FAR * b_sq {
        return series(radius, half, b_sq.sqrt(), rho, z);
    }
    let (r_top, z_top) = end_field(radius, rho, z + half);
    let (r_low, z_low) = end_field(radius, rho, z - half);
    ((r_top - r_low) / PI, (z_top - z_low) / PI)
}

/// What one end of the solenoid contributes, `z` from its plane.
pub(crate) fn end_field(a: f64, rho: f64, z: f64) -> (f64, f64) {
    let (sum, diff) = (a + rho, a - rho);
    let a3_sq = z * z + sum * sum;
    let a3 = a3_sq.sqrt();
    let kc = ((z * z + diff * diff) / a3_sq).sqrt();
    if kc == 0.0 {
        return (0.0, 0.0);
    }
    let gamma = diff / sum;
    let j = joint_radial(kc, 4.0 * a * rho / a3_sq, gamma * gamma);
    // The axial integral, cel(kc, gamma^2, 1, gamma). On the cylinder itself (gamma 0) it jumps; K is the mean of both sides.
    let axial = j.k + gamma * (1.0 - gamma) * j.third;
    (a / a3 * j.second, a / sum * z / a3 * axial)
}

/// Multipole series. The potential on the axis is a generating function of Gegenbauer polynomials in the half diagonal `b`.
fn series(radius: f64, half: f64, b: f64, rho: f64, z: f64) -> (f64, f64) {
    let r = (rho * rho + z * z).sqrt();
    let (x, cos_t, sin_t) = (half / b, z / r, rho / r);
    let t = b / r;
    // Gegenbauer C_n^(-1/2)(x) of two neighbouring degrees, from n = 2, where it is (1 - x^2) / 2, and 3.
    let s2 = (radius / b) * (radius / b);
    let (mut c_even, mut c_odd) = (0.5 * s2, 0.5 * x * s2);
    // Legendre P_l and its derivative at the polar angle, from l = 1.
    let (mut p_before, mut p, mut dp_before, mut dp) = (1.0, cos_t, 0.0, 1.0);
    let mut power = t * t * t;
    let (mut b_r, mut b_t) = (0.0, 0.0);
    for k in 0..SERIES_TERMS {
        let l = f64::from(2 * k + 1);
        b_r += (l + 1.0) * c_odd * power * p;
        b_t += c_odd * power * sin_t * dp;
        power *= t * t;
        if power < 1e-19 * t * t * t {
            break;
        }
        for step in 0..2 {
            let m = l + f64::from(step);
            let next = ((2.0 * m + 1.0) * cos_t * p - m * p_before) / (m + 1.0);
            let dnext = dp_before + (2.0 * m + 1.0) * p;
            (p_before, p, dp_before, dp) = (p, next, dp, dnext);
            let n = m + 3.0;
            let c = (x * (2.0 * n - 3.0) * c_odd - (n - 3.0) * c_even) / n;
            (c_even, c_odd) = (c_odd, c);
        }
    }
    (b_r * sin_t + b_t * cos_t, b_r * cos_t - b_t * sin_t)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn series_meets_the_closed_form() {
        for (radius, height) in [(1.5, 1.0), (5.0, 0.5), (1.0, 8.0)] {
            let half = 0.5 * height;
            let b: f64 = radius * radius + half * half;
            let b = b.sqrt();
            for i in 0..=20 {
                let angle = PI * f64::from(i) / 20.0;
                let (rho, z) = (3.0 * b * libm::sin(angle), 3.0 * b * libm::cos(angle));
                let far = series(radius, half, b, rho, z);
                let (rt, zt) = end_field(radius, rho, z + half);
                let (rl, zl) = end_field(radius, rho, z - half);
                let near = ((rt - rl) / PI, (zt - zl) / PI);
                let size = (far.0 * far.0 + far.1 * far.1).sqrt();
                assert!(
                    (far.0 - near.0).abs() < 2e-13 * size.max(1e-3),
                    "{far:?} {near:?}"
                );
                assert!(
                    (far.1 - near.1).abs() < 2e-13 * size.max(1e-3),
                    "{far:?} {near:?}"
                );
            }
        }
    }
}
