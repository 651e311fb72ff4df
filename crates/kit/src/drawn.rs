//! How a part is drawn: a simple shape that fills its box, and the mass that it is estimated by.

use lodewright_geometry::{Vec3, dot, perimeter_mm, polygon_area_mm2};
use serde::{Deserialize, Serialize};
use tiny_sort::stable::sort_by;

use crate::{Facing, Mass, Shape};

/// A simple shape that fills a part's box.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum Drawn {
    /// The box itself.
    #[default]
    Box,
    /// A thin box, solid.
    Plate,
    /// A barrel along the longest side.
    Barrel,
    /// A flat frame: four bars around the largest face of the box.
    Frame,
    /// A standing figure.
    Figure,
    /// An outline drawn by hand, as thick as the box; it is stretched to fill the box.
    Outline {
        /// The side from which it was drawn.
        seen_from: Facing,
        /// Its corners in the axes of that side, mm.
        points_mm: Vec<[f64; 2]>,
    },
}

/// Wall taken for hollow shapes, mm (moulded styrene walls run from 1 to 3 mm; from memory).
const WALL_MM: f64 = 1.2;
/// Thicker than this, a plate or outline is taken as hollow, mm (common practice, no source).
const SOLID_TO_MM: f64 = 3.0;
/// What a standing figure fills of its box (common practice, no source).
const FIGURE_FILL: f64 = 0.3;
/// A bar of a frame, as a fraction of the frame's shorter side.
pub(crate) const BAR: f64 = 0.2;

impl Drawn {
    #[doc(hidden)]
    pub fn is_box(&self) -> bool {
        *self == Self::Box
    }

    /// The word for people.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Box => "Box",
            Self::Plate => "Plate",
            Self::Barrel => "Barrel",
            Self::Frame => "Frame",
            Self::Figure => "Figure",
            Self::Outline { .. } => "Outline",
        }
    }

    /// The mass that a part of this shape and outer size (mm) is estimated by.
    pub fn mass(&self, size_mm: Vec3) -> Mass {
        let [x, y, z] = size_mm;
        let thinnest = x.min(y).min(z);
        let wall_mm = (thinnest > SOLID_TO_MM).then_some(WALL_MM);
        let cm3 = |mm3: f64| Mass::Volume {
            // Two figures after the point are more than the estimate is worth.
            volume_cm3: (mm3 / 10.0).round() / 100.0,
        };
        let shaped = |shape, wall_mm| Mass::Shaped { shape, wall_mm };
        match self {
            Self::Box => shaped(Shape::Box, wall_mm),
            Self::Plate => shaped(Shape::Box, None),
            Self::Barrel => shaped(Shape::Barrel, wall_mm),
            Self::Frame => cm3(frame_mm3(size_mm)),
            Self::Figure => cm3(FIGURE_FILL * x * y * z),
            Self::Outline { seen_from, .. } => cm3(outline_mm3(
                &self.flat(size_mm),
                2.0 * seen_from.half_extent_mm(size_mm),
            )),
        }
    }

    /// An outline's corners, stretched to a box of this size, about its middle, in the axes of the side it was drawn from.
    pub(crate) fn flat(&self, size_mm: Vec3) -> Vec<[f64; 2]> {
        let Self::Outline {
            seen_from,
            points_mm,
        } = self
        else {
            return Vec::new();
        };
        let axes = seen_from.frame([0.0; 3], 0.0).axes;
        let mut flat = points_mm.clone();
        for (k, axis) in axes.iter().enumerate().take(2) {
            let along = || points_mm.iter().map(|p| p[k]);
            let low = along().fold(f64::INFINITY, f64::min);
            let high = along().fold(f64::NEG_INFINITY, f64::max);
            let wide = dot(size_mm, axis.map(f64::abs));
            for (to, from) in flat.iter_mut().zip(points_mm) {
                to[k] = if high > low {
                    ((from[k] - low) / (high - low) - 0.5) * wide
                } else {
                    0.0
                };
            }
        }
        flat
    }
}

/// Volume of four bars around the largest face of a box.
fn frame_mm3(mut size_mm: Vec3) -> f64 {
    sort_by(&mut size_mm, f64::total_cmp);
    let [low, middle, high] = size_mm;
    let bar = BAR * middle;
    low * (middle * high - (middle - 2.0 * bar) * (high - 2.0 * bar))
}

/// Volume of an outline so deep: full where it is thin, else a shell.
fn outline_mm3(flat: &[[f64; 2]], deep_mm: f64) -> f64 {
    let area = polygon_area_mm2(flat).abs();
    let full = area * deep_mm;
    if deep_mm <= SOLID_TO_MM {
        full
    } else {
        full.min(WALL_MM * (2.0 * area + perimeter_mm(flat) * deep_mm))
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    pub(crate) fn l_shape() -> Drawn {
        Drawn::Outline {
            seen_from: Facing::Left,
            points_mm: vec![
                [0.0, 0.0],
                [10.0, 0.0],
                [10.0, 5.0],
                [5.0, 5.0],
                [5.0, 10.0],
                [0.0, 10.0],
            ],
        }
    }

    #[test]
    fn masses_follow_from_volumes_known_by_hand() {
        // An L of three 5 mm squares, stretched to 20 by 20 mm: 300 mm², 2 mm thick: 0.6 cm³.
        let volume = |drawn: &Drawn, size| match drawn.mass(size) {
            Mass::Volume { volume_cm3 } => volume_cm3,
            other => panic!("{other:?}"),
        };
        assert_eq!(volume(&l_shape(), [20.0, 2.0, 20.0]), 0.6);
        // A frame of 30 by 20 by 5 mm with bars of 4 mm: 5 (600 - 22 * 12) = 1680 mm³.
        assert_eq!(volume(&Drawn::Frame, [30.0, 20.0, 5.0]), 1.68);
        let solid = Drawn::Plate.mass([20.0, 10.0, 5.0]);
        assert!((solid.estimate([20.0, 10.0, 5.0], 1.0).mass_g - 1.0).abs() < 1e-12);
    }

    #[test]
    fn an_outline_without_extent_is_no_trouble() {
        let none = Drawn::Outline {
            seen_from: Facing::Up,
            points_mm: vec![[1.0, 1.0]; 3],
        };
        assert_eq!(none.mass([5.0; 3]), Mass::Volume { volume_cm3: 0.0 });
        assert_eq!(none.flat([5.0; 3]), [[0.0; 2]; 3]);
    }
}
