//! Scalar and vector potential of a disc, as sums over its two ends; closed forms in complete elliptic integrals.
//!
//! The flux of one end through a coaxial circle is the face term of the coaxial force formula (Robertson, Cazzolato and
//! Zander 2011); over the circumference it is the vector potential. The scalar potential follows from the fields by Euler's
//! theorem, since it is homogeneous of degree one: `psi = rho psi_rho + z psi_z + R psi_R`.

use core::f64::consts::PI;

use crate::elliptic::joint_d;

/// What one end does at distance `rho` from its axis and height `z`.
pub(crate) struct EndTerms {
    /// The coaxial face term over `rho`, odd in `z`, in mm; finite on the axis.
    pub flux: f64,
    /// Potential of unit charge in its current-sheet gauge, even in `z`, in mm: it jumps by `|z| / 2` at the cylinder
    /// `rho = r1`, below that of the charged disc inside.
    pub potential: f64,
}

/// For several heights at once, see [`joint_d`].
pub(crate) fn end_terms<const N: usize>(r1: f64, rho: f64, z: [f64; N]) -> [EndTerms; N] {
    let (sum, diff) = (r1 + rho, r1 - rho);
    let gamma = diff / sum;
    let a3_sq = z.map(|z| sum * sum + z * z);
    let kc: [f64; N] =
        core::array::from_fn(|i| ((z[i] * z[i] + diff * diff) / a3_sq[i]).sqrt().max(1e-100));
    let integrals = joint_d(kc, gamma * gamma);
    core::array::from_fn(|i| {
        let (z, a3, j) = (z[i], a3_sq[i].sqrt(), &integrals[i]);
        let flat = sum * j.k - 2.0 * rho * j.second;
        let lifted = j.k + gamma * (1.0 - gamma) * j.third;
        EndTerms {
            flux: 4.0 * r1 * z / a3 * (j.second - gamma * gamma * j.third),
            potential: r1 / (PI * a3) * (flat + z * z / sum * lifted),
        }
    })
}

/// Potentials of a disc per J1 (the field is minus the gradient of the scalar one and the curl of the vector one), in mm.
pub(crate) struct Potentials {
    /// Scalar potential of the charged faces.
    pub scalar: f64,
    /// Vector potential around the axis.
    pub vector: f64,
    /// Size of the terms that cancel in either.
    pub size: f64,
}

/// At distance `rho` from the axis and height `z` from the centre, outside the disc or on its surface.
pub(crate) fn potentials(radius: f64, height: f64, rho: f64, z: f64) -> Potentials {
    let (over_top, over_low) = (z - 0.5 * height, z + 0.5 * height);
    let [top, low] = end_terms(radius, rho, [over_top, over_low]);
    let k = 0.25 / PI;
    // From the gauge of the current sheets to that of the charged faces.
    let under_face = if rho < radius {
        0.5 * (over_low.abs() - over_top.abs())
    } else if rho > radius {
        0.0
    } else {
        0.25 * (over_low.abs() - over_top.abs())
    };
    Potentials {
        scalar: top.potential - low.potential + under_face,
        vector: k * (low.flux - top.flux),
        size: top.potential.abs() + low.potential.abs() + k * (low.flux.abs() + top.flux.abs()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::field_disc::disc_field;

    /// Both potentials against the exact field (Derby and Olbert 2010, a form of its own) by central differences, above,
    /// beside and under a disc, on either side of its rim.
    #[test]
    fn derivatives_are_the_field() {
        let (r, h, d) = (1.5, 1.0, 1e-4);
        for rho in [0.3, 1.2, 1.49, 1.51, 2.0, 4.0] {
            for z in [-3.0, -0.8, -0.55, 0.55, 0.8, 2.0, 5.0] {
                let (b_rho, b_z) = disc_field(r, h, rho, z);
                let at = |rho, z| potentials(r, h, rho, z);
                let scalar_rho = (at(rho + d, z).scalar - at(rho - d, z).scalar) / (2.0 * d);
                let scalar_z = (at(rho, z + d).scalar - at(rho, z - d).scalar) / (2.0 * d);
                let flux = |rho: f64| rho * at(rho, z).vector;
                let curl_z = (flux(rho + d) - flux(rho - d)) / (2.0 * d * rho);
                let curl_rho = -(at(rho, z + d).vector - at(rho, z - d).vector) / (2.0 * d);
                for (what, got, want) in [
                    ("scalar along rho", -scalar_rho, b_rho),
                    ("scalar along z", -scalar_z, b_z),
                    ("vector, axial", curl_z, b_z),
                    ("vector, radial", curl_rho, b_rho),
                ] {
                    assert!(
                        (got - want).abs() < 2e-6,
                        "{what} at {rho}, {z}: {got} {want}"
                    );
                }
            }
        }
    }

    #[test]
    fn the_scalar_potential_runs_on_over_the_rim() {
        for z in [0.6, 1.0, -0.7] {
            let at = |rho| potentials(1.5, 1.0, rho, z).scalar;
            assert!((at(1.5 - 1e-9) - at(1.5 + 1e-9)).abs() < 1e-7);
            assert!((at(1.5) - at(1.5 + 1e-9)).abs() < 1e-7);
        }
    }
}
