//! The curved or flat walls of a magnet as sheets of surface current, which is where its force is summed.
//!
//! A uniformly polarised body is equivalent to a current sheet J / mu0 around its wall. Unlike the charged pole faces, the
//! wall meets the singular rims of another magnet in points, not along curves, which is kind to quadrature.

use core::f64::consts::{PI, TAU};

use crate::magnet::Magnet;
use lodewright_geometry::Vec3;

/// One wall, parametrised by `s` (around) and `t` (along the axis).
#[derive(Debug, Clone, Copy)]
pub(crate) enum Sheet {
    /// A cylinder of that radius; `sign` is -1 for the wall of a bore.
    Round {
        radius: f64,
        half_height: f64,
        sign: f64,
        half_turn: bool,
    },
    /// A flat wall with outward normal `n`, `out` from the axis.
    Flat {
        n: Vec3,
        out: f64,
        half_width: f64,
        half_height: f64,
    },
}

/// A point of a sheet: where it is, which way the current flows, and the area per unit of `s` and `t`.
pub(crate) struct Spot {
    pub p: Vec3,
    pub current: Vec3,
    pub area: f64,
}

impl Sheet {
    /// Ranges of `s` and `t`.
    pub(crate) fn ranges(&self) -> ((f64, f64), (f64, f64)) {
        match *self {
            Self::Round {
                half_height,
                half_turn,
                ..
            } => (
                (0.0, if half_turn { PI } else { TAU }),
                (-half_height, half_height),
            ),
            Self::Flat {
                half_width,
                half_height,
                ..
            } => ((-half_width, half_width), (-half_height, half_height)),
        }
    }

    /// Panels to begin with, in `s`.
    pub(crate) fn first_panels(&self) -> u32 {
        match self {
            Self::Round {
                half_turn: true, ..
            }
            | Self::Flat { .. } => 1,
            Self::Round {
                half_turn: false, ..
            } => 2,
        }
    }

    /// The point at `(s, t)`.
    pub(crate) fn at(&self, s: f64, t: f64) -> Spot {
        match *self {
            Self::Round { radius, sign, .. } => {
                let (sin, cos) = libm::sincos(s);
                Spot {
                    p: [radius * cos, radius * sin, t],
                    current: [-sign * sin, sign * cos, 0.0],
                    area: radius,
                }
            }
            Self::Flat { n, out, .. } => {
                let along = [-n[1], n[0], 0.0];
                let p = [n[0] * out + along[0] * s, n[1] * out + along[1] * s, t];
                Spot {
                    p,
                    current: along,
                    area: 1.0,
                }
            }
        }
    }
}

/// All walls of a magnet; of round ones only the half with positive y if `half_turn`.
pub(crate) fn walls(m: &Magnet, half_turn: bool) -> Vec<Sheet> {
    let half_height = 0.5 * m.height_mm();
    let round = |diameter: f64, sign: f64| Sheet::Round {
        radius: 0.5 * diameter,
        half_height,
        sign,
        half_turn,
    };
    match m {
        Magnet::Disc(d) => vec![round(d.diameter_mm, 1.0)],
        Magnet::Ring(r) => vec![
            round(r.outer_diameter_mm, 1.0),
            round(r.inner_diameter_mm, -1.0),
        ],
        Magnet::Bar(b) => {
            let (x, y) = (0.5 * b.size_mm[0], 0.5 * b.size_mm[1]);
            let wall = |n: Vec3, out: f64, half_width: f64| Sheet::Flat {
                n,
                out,
                half_width,
                half_height,
            };
            vec![
                wall([1.0, 0.0, 0.0], x, y),
                wall([-1.0, 0.0, 0.0], x, y),
                wall([0.0, 1.0, 0.0], y, x),
                wall([0.0, -1.0, 0.0], y, x),
            ]
        }
    }
}
