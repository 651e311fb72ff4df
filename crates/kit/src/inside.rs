//! What a part is inside, and the body that follows from its drawn shape.

use lodewright_body::{Body, Prism};
use lodewright_geometry::{Vec3, add, dot, scale};
use serde::{Deserialize, Serialize};
use tiny_sort::stable::sort_by;

use crate::drawn::Drawn;
use crate::{Facing, Part};

/// Whether a part is full of material.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum Inside {
    /// Not said: its mass is guessed as a moulded shell's, and a hole may be as deep as its site says within the outer size.
    #[default]
    Unsaid,
    /// Full of material.
    Solid,
    /// Hollow within an even wall.
    Shell {
        /// The wall, mm.
        wall_mm: f64,
    },
}

/// Wall taken for hollow shapes where nothing is said, mm (moulded styrene walls run from 1 to 3 mm; from memory).
const GUESSED_WALL_MM: f64 = 1.2;
/// Thicker than this a part is taken to be hollow where nothing is said, mm (common practice, no source).
const SOLID_TO_MM: f64 = 3.0;
/// A bar of a frame, as a fraction of the frame's shorter side.
const BAR: f64 = 0.2;
/// Corners of the outline of a barrel: its volume is 1.1 % less than the round one's.
const CORNERS: u32 = 24;

impl Inside {
    #[doc(hidden)]
    pub fn is_unsaid(&self) -> bool {
        *self == Self::Unsaid
    }
}

impl Part {
    /// The part as a solid in its own axes; where nothing is said of its inside it is taken as full.
    pub fn body(&self) -> Body {
        match self.inside {
            Inside::Unsaid | Inside::Solid => Body::solid(self.prisms()),
            Inside::Shell { wall_mm } => Body::shell(self.prisms(), wall_mm),
        }
    }

    /// Volume of its material, mm³.
    pub(crate) fn volume_mm3(&self) -> f64 {
        let thinnest_mm = self.size_mm.into_iter().fold(f64::INFINITY, f64::min);
        match self.inside {
            Inside::Unsaid if thinnest_mm > SOLID_TO_MM => {
                Body::shell(self.prisms(), GUESSED_WALL_MM).volume_mm3()
            }
            _ => self.body().volume_mm3(),
        }
    }

    fn prisms(&self) -> Vec<Prism> {
        match &self.drawn {
            Drawn::Box | Drawn::Plate => vec![self.block([-0.5; 3], [0.5; 3])],
            Drawn::Barrel => vec![self.barrel()],
            Drawn::Frame => self.frame(),
            Drawn::Figure => self.figure(),
            Drawn::Outline { seen_from, .. } => vec![self.outline(*seen_from)],
        }
    }

    /// A box within the part's box, by fractions of its size from the middle.
    fn block(&self, low: Vec3, high: Vec3) -> Prism {
        let corner = |fractions: Vec3| {
            let from_middle: Vec3 = std::array::from_fn(|k| fractions[k] * self.size_mm[k]);
            add(self.box_middle_mm, from_middle)
        };
        Prism::block(corner(low), corner(high))
    }

    /// The part's box along one of its axes, mm.
    fn ends_mm(&self, axis: usize) -> [f64; 2] {
        [-0.5, 0.5].map(|side: f64| self.box_middle_mm[axis] + side * self.size_mm[axis])
    }

    fn barrel(&self) -> Prism {
        let [.., long] = self.axes_by_size();
        let (a, b) = ((long + 1) % 3, (long + 2) % 3);
        let corner = |i: u32| {
            let (s, c) = libm::sincos(f64::from(i) * std::f64::consts::TAU / f64::from(CORNERS));
            [
                self.box_middle_mm[a] + c / 2.0 * self.size_mm[a],
                self.box_middle_mm[b] + s / 2.0 * self.size_mm[b],
            ]
        };
        Prism::pulled(long, (0..CORNERS).map(corner).collect(), self.ends_mm(long))
    }

    /// Four bars around the largest face: two as long as the frame, two between them.
    fn frame(&self) -> Vec<Prism> {
        let [_, short, long] = self.axes_by_size();
        let [along, across] = [long, short].map(|k| BAR * self.size_mm[short] / self.size_mm[k]);
        let bar = |axis: usize, from: f64, to: f64, between: f64| {
            let (mut low, mut high) = ([-0.5; 3], [0.5; 3]);
            (low[axis], high[axis]) = (from, to);
            if axis == long {
                (low[short], high[short]) = (between - 0.5, 0.5 - between);
            }
            self.block(low, high)
        };
        vec![
            bar(short, -0.5, across - 0.5, 0.0),
            bar(short, 0.5 - across, 0.5, 0.0),
            bar(long, -0.5, along - 0.5, across),
            bar(long, 0.5 - along, 0.5, across),
        ]
    }

    /// Feet, legs, body with arms, head: upright, by common proportions.
    fn figure(&self) -> Vec<Prism> {
        vec![
            self.block([-0.5, -0.3, -0.5], [0.5, -0.04, -0.44]),
            self.block([-0.5, 0.04, -0.5], [0.5, 0.3, -0.44]),
            self.block([-0.3, -0.3, -0.44], [0.3, -0.04, 0.0]),
            self.block([-0.3, 0.04, -0.44], [0.3, 0.3, 0.0]),
            self.block([-0.35, -0.5, 0.0], [0.35, 0.5, 0.32]),
            self.block([-0.3, -0.2, 0.32], [0.3, 0.2, 0.5]),
        ]
    }

    fn outline(&self, seen_from: Facing) -> Prism {
        let [x, y, n] = seen_from.frame([0.0; 3], 0.0).axes;
        let axis = (0..3).find(|k| n[*k] != 0.0).unwrap_or(2);
        let flat = self.drawn.flat(self.size_mm).into_iter();
        let corner = |[u, v]: [f64; 2]| {
            let p = add(self.box_middle_mm, add(scale(x, u), scale(y, v)));
            [p[(axis + 1) % 3], p[(axis + 2) % 3]]
        };
        Prism::pulled(axis, flat.map(corner).collect(), self.ends_mm(axis))
    }

    /// The axes of its box, the shortest first.
    fn axes_by_size(&self) -> [usize; 3] {
        let mut axes = [0, 1, 2];
        sort_by(&mut axes, |a: &usize, b| {
            self.size_mm[*a].total_cmp(&self.size_mm[*b])
        });
        axes
    }
}

impl Drawn {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::PartId;

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

    fn part(drawn: Drawn, size_mm: Vec3) -> Part {
        Part {
            drawn,
            size_mm,
            box_middle_mm: [1.0, 2.0, 3.0],
            ..Part::plain(PartId::new("p"), "p".to_owned())
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
            let body = part.body();
            let corners = body.prisms().iter().flat_map(|p| {
                let flat = p.outline_mm().iter();
                flat.flat_map(|c| p.ends_mm().map(|end| p.point_mm(*c, end)))
            });
            let corners: Vec<Vec3> = corners.collect();
            for k in 0..3 {
                let along = || corners.iter().map(|p| p[k] - part.box_middle_mm[k]);
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
    fn volumes_known_by_hand() {
        let volume = |drawn: Drawn, inside, size| {
            let part = Part {
                inside,
                ..part(drawn, size)
            };
            part.volume_mm3()
        };
        let near =
            |found: f64, known: f64| assert!((found - known).abs() < 1e-9, "{found} {known}");
        // An L of three 5 mm squares, stretched to 20 by 20 mm: 300 mm², 2 mm thick.
        near(volume(l_shape(), Inside::Solid, [20.0, 2.0, 20.0]), 600.0);
        // A frame of 30 by 20 by 5 mm with bars of 4 mm: 5 (600 - 22 * 12).
        near(
            volume(Drawn::Frame, Inside::Solid, [30.0, 20.0, 5.0]),
            1680.0,
        );
        near(
            volume(Drawn::Plate, Inside::Solid, [20.0, 10.0, 5.0]),
            1000.0,
        );
        let shell = Inside::Shell { wall_mm: 1.0 };
        near(
            volume(Drawn::Box, shell, [20.0, 10.0, 6.0]),
            1200.0 - 18.0 * 8.0 * 4.0,
        );
        // Not said: thin is full, thick a shell of 1.2 mm.
        near(volume(Drawn::Box, Inside::Unsaid, [20.0, 10.0, 3.0]), 600.0);
        near(
            volume(Drawn::Box, Inside::Unsaid, [10.0; 3]),
            1000.0 - 7.6 * 7.6 * 7.6,
        );
    }

    #[test]
    fn an_outline_without_extent_is_no_trouble() {
        let none = Drawn::Outline {
            seen_from: Facing::Up,
            points_mm: vec![[1.0, 1.0]; 3],
        };
        let part = part(none, [5.0; 3]);
        assert_eq!((part.volume_mm3(), part.body().centre_mm()), (0.0, None));
        assert_eq!(part.centre_of_mass_mm(), part.box_middle_mm);
    }
}
