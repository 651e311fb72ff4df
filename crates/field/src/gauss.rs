//! Gauss-Legendre rules, worked out by the compiler: the same bits everywhere, and no table to mistype.

use core::f64::consts::PI;

/// Nodes on -1..1 with their weights.
pub(crate) type Rule<const N: usize> = [(f64, f64); N];

/// Cosine for 0..pi by its Taylor series; good enough to start Newton's method.
const fn rough_cos(x: f64) -> f64 {
    let y = x - 0.5 * PI;
    let (mut term, mut sum, mut k) = (y, y, 1.0);
    while k < 12.0 {
        term *= -y * y / ((2.0 * k) * (2.0 * k + 1.0));
        sum += term;
        k += 1.0;
    }
    -sum
}

/// Legendre polynomial of degree `n` at `x` and its derivative.
const fn legendre(n: usize, x: f64) -> (f64, f64) {
    let (mut p0, mut p1, mut k) = (1.0, x, 2);
    while k <= n {
        let kf = k as f64;
        (p0, p1) = (p1, ((2.0 * kf - 1.0) * x * p1 - (kf - 1.0) * p0) / kf);
        k += 1;
    }
    (p1, n as f64 * (x * p1 - p0) / (x * x - 1.0))
}

/// The `N`-point rule, exact for polynomials up to degree `2 N - 1`.
pub(crate) const fn rule<const N: usize>() -> Rule<N> {
    let mut out = [(0.0, 0.0); N];
    let mut i = 0;
    while i < N {
        let mut x = rough_cos(PI * (i as f64 + 0.75) / (N as f64 + 0.5));
        let mut round = 0;
        while round < 8 {
            let (p, dp) = legendre(N, x);
            x -= p / dp;
            round += 1;
        }
        let (_, dp) = legendre(N, x);
        out[i] = (x, 2.0 / ((1.0 - x * x) * dp * dp));
        i += 1;
    }
    out
}

/// The integral of `f` over `a..b` by one rule.
pub(crate) fn integrate<const N: usize>(
    rule: &Rule<N>,
    a: f64,
    b: f64,
    mut f: impl FnMut(f64) -> f64,
) -> f64 {
    let (mid, half) = (0.5 * (a + b), 0.5 * (b - a));
    rule.iter()
        .map(|&(x, w)| w * f(mid + half * x))
        .sum::<f64>()
        * half
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nodes_match_the_published_five_point_rule() {
        // Abramowitz & Stegun table 25.4, n = 5.
        let r = rule::<5>();
        assert!((r[0].0 - 0.906_179_845_938_664).abs() < 1e-15);
        assert!((r[0].1 - 0.236_926_885_056_189).abs() < 1e-15);
        assert!((r[1].0 - 0.538_469_310_105_683).abs() < 1e-15);
        assert!((r[2].1 - 0.568_888_888_888_889).abs() < 1e-15);
    }

    #[test]
    fn integrates_the_highest_exact_power() {
        let got = integrate(&rule::<12>(), 0.0, 1.0, |x| x.powi(23));
        assert!((got - 1.0 / 24.0).abs() < 1e-15);
    }
}
