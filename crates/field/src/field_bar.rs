//! Flux density around a rectangular bar polarised along z: the closed form of two charged rectangles.
//!
//! The logarithms and arctangents are those of any text on rectangular magnets (G. Akoun and J.-P. Yonnet, IEEE Trans. Magn.
//! 20 (1984) 1962-1964; E. P. Furlani 2001). Far away, where the eight corners cancel, the bar is summed as point dipoles at
//! Gauss nodes.

use core::f64::consts::PI;

use crate::gauss::{Rule, rule};
use lodewright_geometry::{Vec3, add, dot, scale};

const FAR: f64 = 30.0;
const CUBATURE: Rule<4> = rule();

/// Flux density per tesla of polarisation at `p` from the centre, all in mm.
pub(crate) fn bar_field(size: Vec3, p: Vec3) -> Vec3 {
    let half = scale(size, 0.5);
    if dot(p, p) > FAR * FAR * dot(half, half) {
        return dipoles(half, p);
    }
    let mut b = [0.0; 3];
    for (pole, w) in [(1.0, p[2] - half[2]), (-1.0, p[2] + half[2])] {
        b = add(b, scale(rectangle(half, p[0], p[1], w), pole));
    }
    let inside = p[0].abs() < half[0] && p[1].abs() < half[1] && p[2] < half[2] && p[2] >= -half[2];
    let polarised = if inside { 1.0 } else { 0.0 };
    add(scale(b, 0.25 / PI), [0.0, 0.0, polarised])
}

/// Field of one rectangle of unit charge, `w` above it, times 4 pi. In its plane the value is that just above it.
fn rectangle(half: Vec3, x: f64, y: f64, w: f64) -> Vec3 {
    let mut b = [0.0; 3];
    for (su, u) in [(1.0, x + half[0]), (-1.0, x - half[0])] {
        for (sv, v) in [(1.0, y + half[1]), (-1.0, y - half[1])] {
            let s = su * sv;
            let r = (u * u + v * v + w * w).sqrt();
            b[0] -= s * log_term(v, u * u + w * w);
            b[1] -= s * log_term(u, v * v + w * w);
            b[2] += s * angle_term(u * v, w, r);
        }
    }
    b
}

/// `ln(v + r)` less a part that its partner at the other end of the edge cancels; keeps its digits for negative `v`.
fn log_term(v: f64, rest_sq: f64) -> f64 {
    libm::asinh(v / rest_sq.sqrt().max(1e-30))
}

fn angle_term(uv: f64, w: f64, r: f64) -> f64 {
    if w == 0.0 {
        return if uv == 0.0 {
            0.0
        } else {
            (0.5 * PI).copysign(uv)
        };
    }
    libm::atan(uv / (w * r))
}

/// The bar as 64 dipoles along z.
fn dipoles(half: Vec3, p: Vec3) -> Vec3 {
    let volume = half[0] * half[1] * half[2];
    let mut b = [0.0; 3];
    for (x, wx) in CUBATURE {
        for (y, wy) in CUBATURE {
            for (z, wz) in CUBATURE {
                let d = [p[0] - half[0] * x, p[1] - half[1] * y, p[2] - half[2] * z];
                let r_sq = dot(d, d);
                let k = wx * wy * wz * volume / (4.0 * PI * r_sq * r_sq.sqrt());
                b = add(b, scale(d, 3.0 * k * d[2] / r_sq));
                b[2] -= k;
            }
        }
    }
    b
}
