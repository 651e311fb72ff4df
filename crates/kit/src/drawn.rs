//! How a part is drawn: a simple shape that fills its box, as solids to be looked at from any side.

use lodewright_geometry::{Vec3, add, dot, perimeter_mm, polygon_area_mm2, scale};
use serde::{Deserialize, Serialize};
use tiny_sort::stable::sort_by;

use crate::{Facing, Mass, Part, Shape};

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

/// A piece of what is drawn, in the part's axes, mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Solid {
    /// The convex hull of points.
    Hull(Vec<Vec3>),
    /// Between two equal outlines, which need not be convex.
    Between {
        /// The outline that is nearer to who drew it.
        near: Vec<Vec3>,
        /// The other.
        far: Vec<Vec3>,
    },
}

/// Wall taken for hollow shapes, mm (moulded styrene walls run from 1 to 3 mm; from memory).
const WALL_MM: f64 = 1.2;
/// Thicker than this, a plate or outline is taken as hollow, mm (common practice, no source).
const SOLID_TO_MM: f64 = 3.0;
/// What a standing figure fills of its box (common practice, no source).
const FIGURE_FILL: f64 = 0.3;
/// A bar of a frame, as a fraction of the frame's shorter side.
const BAR: f64 = 0.2;

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
        match self {
            Self::Box => Mass::Shaped {
                shape: Shape::Box,
                wall_mm,
            },
            Self::Plate => Mass::Shaped {
                shape: Shape::Box,
                wall_mm: None,
            },
            Self::Barrel => Mass::Shaped {
                shape: Shape::Barrel,
                wall_mm,
            },
            Self::Frame => {
                let [low, middle, high] = sorted(size_mm);
                let bar = BAR * middle;
                cm3(low * (middle * high - (middle - 2.0 * bar) * (high - 2.0 * bar)))
            }
            Self::Figure => cm3(FIGURE_FILL * x * y * z),
            Self::Outline { seen_from, .. } => {
                let flat = self.flat(size_mm);
                let (area, around) = (polygon_area_mm2(&flat).abs(), perimeter_mm(&flat));
                let deep = 2.0 * seen_from.half_extent_mm(size_mm);
                let full = area * deep;
                cm3(if deep <= SOLID_TO_MM {
                    full
                } else {
                    full.min(WALL_MM * (2.0 * area + around * deep))
                })
            }
        }
    }

    /// An outline's corners, stretched to a box of this size, about its middle, in the axes of the side it was drawn from.
    fn flat(&self, size_mm: Vec3) -> Vec<[f64; 2]> {
        let Self::Outline {
            seen_from,
            points_mm,
        } = self
        else {
            return Vec::new();
        };
        let axes = seen_from.frame([0.0; 3], 0.0).axes;
        let stretch: [(f64, f64, f64); 2] = std::array::from_fn(|k| {
            let along = || points_mm.iter().map(|p| p[k]);
            let low = along().fold(f64::INFINITY, f64::min);
            let high = along().fold(f64::NEG_INFINITY, f64::max);
            (low, high, dot(size_mm, axes[k].map(f64::abs)))
        });
        let to = |v: f64, (low, high, wide): (f64, f64, f64)| {
            if high > low {
                ((v - low) / (high - low) - 0.5) * wide
            } else {
                0.0
            }
        };
        points_mm
            .iter()
            .map(|p| [to(p[0], stretch[0]), to(p[1], stretch[1])])
            .collect()
    }
}

impl Part {
    /// What is drawn of the part, in its axes, mm.
    pub fn solids(&self) -> Vec<Solid> {
        let size = self.size_mm;
        let middle = self.box_middle_mm;
        let at = |f: Vec3| add(middle, [f[0] * size[0], f[1] * size[1], f[2] * size[2]]);
        // A box within the part's box, by fractions of its size from the middle.
        let block = |low: Vec3, high: Vec3| {
            let corner = |n: usize| {
                at(std::array::from_fn(|k| {
                    if n >> k & 1 == 0 { low[k] } else { high[k] }
                }))
            };
            Solid::Hull((0..8).map(corner).collect())
        };
        match &self.drawn {
            Drawn::Box | Drawn::Plate => vec![block([-0.5; 3], [0.5; 3])],
            Drawn::Barrel => {
                let long = longest(size);
                let (a, b) = ((long + 1) % 3, (long + 2) % 3);
                let ring = |end: f64| {
                    (0..24).map(move |i| {
                        let (s, c) = libm::sincos(f64::from(i) * std::f64::consts::PI / 12.0);
                        let mut f = [0.0; 3];
                        f[long] = end;
                        f[a] = c / 2.0;
                        f[b] = s / 2.0;
                        f
                    })
                };
                vec![Solid::Hull(ring(-0.5).chain(ring(0.5)).map(at).collect())]
            }
            Drawn::Frame => {
                let thin = shortest(size);
                let (a, b) = ((thin + 1) % 3, (thin + 2) % 3);
                let bar_mm = BAR * size[a].min(size[b]);
                let (fa, fb) = (bar_mm / size[a], bar_mm / size[b]);
                let bar = |la: f64, ha: f64, lb: f64, hb: f64| {
                    let (mut low, mut high) = ([-0.5; 3], [0.5; 3]);
                    (low[a], high[a], low[b], high[b]) = (la, ha, lb, hb);
                    block(low, high)
                };
                vec![
                    bar(-0.5, fa - 0.5, -0.5, 0.5),
                    bar(0.5 - fa, 0.5, -0.5, 0.5),
                    bar(-0.5, 0.5, -0.5, fb - 0.5),
                    bar(-0.5, 0.5, 0.5 - fb, 0.5),
                ]
            }
            Drawn::Figure => vec![
                // Legs, body with arms, head: upright, by common proportions.
                block([-0.3, -0.3, -0.5], [0.3, -0.04, 0.0]),
                block([-0.3, 0.04, -0.5], [0.3, 0.3, 0.0]),
                block([-0.5, -0.5, -0.02], [0.5, 0.5, 0.32]),
                block([-0.3, -0.2, 0.34], [0.3, 0.2, 0.5]),
            ],
            Drawn::Outline { seen_from, .. } => {
                let [x, y, n] = seen_from.frame([0.0; 3], 0.0).axes;
                let half = seen_from.half_extent_mm(size);
                let lift = |deep: f64| {
                    move |p: &[f64; 2]| {
                        let flat = add(scale(x, p[0]), scale(y, p[1]));
                        add(middle, add(flat, scale(n, deep)))
                    }
                };
                let flat = self.drawn.flat(size);
                vec![Solid::Between {
                    near: flat.iter().map(lift(half)).collect(),
                    far: flat.iter().map(lift(-half)).collect(),
                }]
            }
        }
    }
}

fn sorted(mut v: Vec3) -> Vec3 {
    sort_by(&mut v, f64::total_cmp);
    v
}

fn longest(v: Vec3) -> usize {
    (0..3).fold(0, |best, k| if v[k] > v[best] { k } else { best })
}

fn shortest(v: Vec3) -> usize {
    (0..3).fold(0, |best, k| if v[k] < v[best] { k } else { best })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::PartId;

    fn part(drawn: Drawn, size_mm: Vec3) -> Part {
        Part {
            drawn,
            size_mm,
            box_middle_mm: [1.0, 2.0, 3.0],
            ..Part::plain(PartId::new("p"), "p".to_owned())
        }
    }

    fn l_shape() -> Drawn {
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
    fn every_shape_fills_its_box_and_no_more() {
        let size = [30.0, 12.0, 20.0];
        for drawn in [
            Drawn::Box,
            Drawn::Plate,
            Drawn::Barrel,
            Drawn::Frame,
            Drawn::Figure,
            l_shape(),
        ] {
            let part = part(drawn, size);
            let points: Vec<Vec3> = part
                .solids()
                .into_iter()
                .flat_map(|s| match s {
                    Solid::Hull(points) => points,
                    Solid::Between { mut near, far } => {
                        near.extend(far);
                        near
                    }
                })
                .collect();
            for k in 0..3 {
                let along = || points.iter().map(|p| p[k] - part.box_middle_mm[k]);
                let (low, high) = (
                    along().fold(f64::INFINITY, f64::min),
                    along().fold(f64::NEG_INFINITY, f64::max),
                );
                assert!((high - size[k] / 2.0).abs() < 1e-9, "{:?} {k}", part.drawn);
                assert!((low + size[k] / 2.0).abs() < 1e-9, "{:?} {k}", part.drawn);
            }
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
        assert_eq!(part(none, [5.0; 3]).solids().len(), 1);
    }
}
