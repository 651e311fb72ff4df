//! Complete elliptic integrals by Bulirsch's `cel`: arithmetic and square roots only, so every machine gives the same bits.
//!
//! Source: R. Bulirsch, "Numerical calculation of elliptic integrals and elliptic functions III", Numer. Math. 13 (1969)
//! 305-315. The modulus enters through its complement `kc`, which keeps all digits where the modulus nears one.

use core::f64::consts::FRAC_PI_2;

/// Agreement of the two means at which the quadratically converging iteration is exact to rounding.
const TOLERANCE: f64 = 1e-8;

/// More steps than any finite argument needs; it only bounds the loop for non-finite input.
const MAX_STEPS: usize = 64;

/// Bulirsch's general complete elliptic integral for `p > 0`:
/// the integral over 0..pi/2 of `(a cos^2 + b sin^2) / ((cos^2 + p sin^2) sqrt(cos^2 + kc^2 sin^2))`.
///
/// Infinite or not a number at `kc = 0`; callers treat that singular case themselves.
pub(crate) fn cel(kc: f64, p: f64, a: f64, b: f64) -> f64 {
    let mut k = kc.abs();
    let mut kk = k;
    let mut em = 1.0;
    let root_p = p.sqrt();
    let mut pp = root_p;
    let mut ss = b / root_p;
    let mut f = a;
    let mut cc = a + ss / pp;
    let mut g = k / pp;
    ss = 2.0 * (ss + f * g);
    pp += g;
    g = em;
    em += k;
    for _ in 0..MAX_STEPS {
        if (g - k).abs() <= g * TOLERANCE {
            break;
        }
        k = 2.0 * kk.sqrt();
        kk = k * em;
        f = cc;
        cc += ss / pp;
        g = kk / pp;
        ss = 2.0 * (ss + f * g);
        pp += g;
        g = em;
        em += k;
    }
    FRAC_PI_2 * (ss + cc * em) / (em * (em + pp))
}

/// Three integrals over 0..pi/2 that belong to one ring and one point, found in one run of the iteration.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Joint {
    /// K, the integral of `1 / sqrt(cos^2 + kc^2 sin^2)`.
    pub k: f64,
    /// The second one asked for: `D` or the radial integral.
    pub second: f64,
    /// The integral of `sin^2 / ((cos^2 + p sin^2) sqrt(cos^2 + kc^2 sin^2))`.
    pub third: f64,
}

/// K, `D = (K - E) / m` and the third integral, for several moduli at once.
pub(crate) fn joint_d<const N: usize>(kc: [f64; N], p: f64) -> [Joint; N] {
    joints(kc, [1.0; N], [2.0; N], p)
}

/// K, the integral of `(cos^2 - sin^2) / sqrt(cos^2 + kc^2 sin^2)` and the third integral.
///
/// The second is `cel` at (1, 1, -1), which falls with `m`; in its first step the difference `kc - 1` appears, which `m`
/// gives without loss of digits.
pub(crate) fn joint_radial(kc: f64, m: f64, p: f64) -> Joint {
    joint(kc, 0.0, -2.0 * m / (1.0 + kc), p)
}

fn joint(kc: f64, cc: f64, ss: f64, p: f64) -> Joint {
    let [only] = joints([kc], [cc], [ss], p);
    only
}

/// Bulirsch's iteration for two integrals with the same `kc`, both past their first step: one with `p = 1` that starts
/// from `cc` and `ss`, and the third of [`Joint`]. With `p = 0`, where that one is infinite, it is given as 0. Several such
/// pairs run in step until the last has converged: independent of each other, none makes the processor wait.
fn joints<const N: usize>(kc: [f64; N], mut cc: [f64; N], mut ss: [f64; N], p: f64) -> [Joint; N] {
    let (mut k, mut kk, mut g) = (kc, kc, [1.0; N]);
    let mut em = kc.map(|kc| 1.0 + kc);
    let mut pp = em;
    let has_third = p > 1e-280;
    let root_p = if has_third { p.sqrt() } else { 1.0 };
    let (mut cc3, mut ss3) = ([1.0 / (root_p * root_p); N], [2.0 / root_p; N]);
    let mut pp3 = kc.map(|kc| root_p + kc / root_p);
    let mut scale = 1.0;
    for _ in 0..MAX_STEPS {
        if (0..N).all(|i| (g[i] - k[i]).abs() <= g[i] * TOLERANCE) {
            break;
        }
        for i in 0..N {
            k[i] = 2.0 * kk[i].sqrt();
            kk[i] = k[i] * em[i];
        }
        step(&mut cc, &mut ss, &mut pp, &kk);
        if has_third {
            step(&mut cc3, &mut ss3, &mut pp3, &kk);
        }
        g = em;
        for i in 0..N {
            em[i] += k[i];
        }
        scale *= 2.0;
    }
    core::array::from_fn(|i| Joint {
        k: 2.0 * FRAC_PI_2 * scale / em[i],
        second: FRAC_PI_2 * (ss[i] + cc[i] * em[i]) / (em[i] * (em[i] + pp[i])),
        third: if has_third {
            FRAC_PI_2 * (ss3[i] + cc3[i] * em[i]) / (em[i] * (em[i] + pp3[i]))
        } else {
            0.0
        },
    })
}

/// One step for one integral of each pair.
fn step<const N: usize>(cc: &mut [f64; N], ss: &mut [f64; N], pp: &mut [f64; N], kk: &[f64; N]) {
    for i in 0..N {
        let f = cc[i];
        let inverse = 1.0 / pp[i];
        cc[i] += ss[i] * inverse;
        let g = kk[i] * inverse;
        ss[i] = 2.0 * (ss[i] + f * g);
        pp[i] += g;
    }
}

/// Complete integral of the first kind K, from the complementary modulus.
pub(crate) fn ellip_k(kc: f64) -> f64 {
    cel(kc, 1.0, 1.0, 1.0)
}

/// Complete integral of the second kind E, from the complementary modulus. At `kc = 0` it is 1.
pub(crate) fn ellip_e(kc: f64) -> f64 {
    if kc == 0.0 {
        1.0
    } else {
        cel(kc, 1.0, 1.0, kc * kc)
    }
}

/// `D = (K - E) / m`, the integral of `sin^2 / sqrt(1 - m sin^2)`, without the cancellation of that quotient.
pub(crate) fn ellip_d(kc: f64) -> f64 {
    cel(kc, 1.0, 0.0, 1.0)
}

/// The integral over 0..pi/2 of `sin^4 / (1 - m sin^2)^(3/2)`, which is `((2 - m) E / (1 - m) - 2 K) / m^2`.
///
/// For small `m` that quotient cancels, so there the equal series `(3 pi / 16) F(3/2, 5/2; 3; m)` is summed after a
/// quadratic transformation (Abramowitz & Stegun 15.3.16), which squares the argument.
pub(crate) fn sin4_over_cubed(kc: f64, m: f64) -> f64 {
    if m > 0.4 {
        let kc2 = kc * kc;
        return ((1.0 + kc2) / kc2 * ellip_e(kc) - 2.0 * ellip_k(kc)) / (m * m);
    }
    let x = m / (2.0 - m);
    let x2 = x * x;
    let (mut term, mut sum) = (1.0, 1.0);
    for j in 0..40_u32 {
        let j = f64::from(j);
        term *= (1.25 + j) * (1.75 + j) / ((2.0 + j) * (1.0 + j)) * x2;
        sum += term;
        if term < 1e-17 {
            break;
        }
    }
    let w = 1.0 - 0.5 * m;
    3.0 / 8.0 * FRAC_PI_2 * sum / (w * w * w.sqrt())
}

#[cfg(test)]
#[allow(clippy::approx_constant)] // the table's own digits
mod tests {
    use super::*;

    #[test]
    fn joint_integrals_are_their_general_forms() {
        for kc in [1e-9, 0.01, 0.3, 0.9, 0.999, 1.0] {
            for p in [1e-12, 0.04, 0.5, 1.0, 3.0, 1e6] {
                let [d] = joint_d([kc], p);
                close(d.k, cel(kc, 1.0, 1.0, 1.0), 1e-14);
                close(d.second, cel(kc, 1.0, 0.0, 1.0), 1e-14);
                close(d.third, cel(kc, p, 0.0, 1.0), 1e-13);
            }
            let r = joint_radial(kc, 1.0 - kc * kc, 0.5);
            assert!((r.second - cel(kc, 1.0, 1.0, -1.0)).abs() < 1e-13 * r.k);
        }
        // Small m: -pi m / 16.
        let r = joint_radial(1.0, 1e-20, 0.5);
        close(r.second, -core::f64::consts::PI * 1e-20 / 16.0, 1e-12);
    }

    /// Complete elliptic integrals by parameter m: J. Burkardt's elliptic test values, which cite Abramowitz & Stegun
    /// (1964) table 17.1.
    const TABLE: [(f64, f64, f64); 11] = [
        (0.0, 1.570796326794897, 1.570796326794897),
        (0.1, 1.612441348720219, 1.530757636897763),
        (0.2, 1.659623598610528, 1.489035058095853),
        (0.3, 1.713889448178791, 1.445363064412665),
        (0.4, 1.777519371491253, 1.399392138897432),
        (0.5, 1.854074677301372, 1.350643881047676),
        (0.6, 1.949567749806026, 1.298428035046913),
        (0.7, 2.075363135292469, 1.241670567945823),
        (0.8, 2.257205326820854, 1.178489924327839),
        (0.9, 2.578092113348173, 1.104774732704073),
        (0.95, 2.908337248444552, 1.060473727766278),
    ];

    fn close(got: f64, want: f64, rel: f64) {
        assert!(
            (got - want).abs() <= rel * want.abs(),
            "got {got}, want {want}"
        );
    }

    #[test]
    fn matches_the_published_table() {
        for (m, k, e) in TABLE {
            let kc = (1.0 - m).sqrt();
            close(ellip_k(kc), k, 1e-14);
            close(ellip_e(kc), e, 1e-14);
        }
    }

    #[test]
    fn matches_fifty_digit_values_near_one() {
        // WarpX unit test of its elliptic integrals (50-digit mpmath values).
        close(ellip_k(0.01_f64.sqrt()), 3.695_637_362_989_875, 1e-14);
        close(ellip_e(0.01_f64.sqrt()), 1.015_993_545_025_224, 1e-14);
        close(ellip_k(1e-6_f64.sqrt()), 8.294_051_463_6, 1e-11);
        close(ellip_e(1e-6_f64.sqrt()), 1.000_003_897_026_17, 1e-13);
    }

    #[test]
    fn obeys_the_legendre_relation() {
        // Legendre's relation, Abramowitz & Stegun 17.3.13.
        for i in 1..100 {
            let m = f64::from(i) / 100.0;
            let (kc, kc1) = ((1.0 - m).sqrt(), m.sqrt());
            let got = ellip_e(kc) * ellip_k(kc1) + ellip_e(kc1) * ellip_k(kc)
                - ellip_k(kc) * ellip_k(kc1);
            close(got, FRAC_PI_2, 1e-14);
        }
    }

    #[test]
    fn third_kind_equals_its_definition_by_midpoint_sums() {
        // The midpoint rule converges geometrically on a smooth periodic integrand.
        for (kc, p, a, b) in [
            (0.3, 0.2, 1.0, 0.7),
            (0.8, 5.0, 1.0, 0.0),
            (0.5, 1.0, 0.0, 1.0),
            (1.0, 9.0, 1.0, 0.0),
        ] {
            let n = 400;
            let step = FRAC_PI_2 / f64::from(n);
            let sum: f64 = (0..n)
                .map(|i| {
                    let s2 = libm::sin((f64::from(i) + 0.5) * step).powi(2);
                    let c2 = 1.0 - s2;
                    (a * c2 + b * s2) / ((c2 + p * s2) * (c2 + kc * kc * s2).sqrt())
                })
                .sum();
            close(cel(kc, p, a, b), sum * step, 1e-13);
        }
    }

    #[test]
    fn fourth_power_integral_is_smooth_across_its_two_forms() {
        for m in [0.4 - 1e-12, 0.4 + 1e-12, 0.9, 0.1, 0.001, 0.0] {
            let n = 2000;
            let step = FRAC_PI_2 / f64::from(n);
            let sum: f64 = (0..n)
                .map(|i| {
                    let s2 = libm::sin((f64::from(i) + 0.5) * step).powi(2);
                    s2 * s2 / ((1.0 - m * s2) * (1.0 - m * s2).sqrt())
                })
                .sum();
            close(sin4_over_cubed((1.0_f64 - m).sqrt(), m), sum * step, 1e-12);
        }
    }
}
