//! Parts as solids to be looked at from any side.

use lodewright_geometry::{Vec3, add, scale};

use crate::drawn::{BAR, Drawn};
use crate::{Facing, Part};

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

impl Part {
    /// What is drawn of the part, in its axes, mm.
    pub fn solids(&self) -> Vec<Solid> {
        match &self.drawn {
            Drawn::Box | Drawn::Plate => vec![self.block([-0.5; 3], [0.5; 3])],
            Drawn::Barrel => vec![self.barrel()],
            Drawn::Frame => self.frame(),
            Drawn::Figure => self.figure(),
            Drawn::Outline { seen_from, .. } => vec![self.outline(*seen_from)],
        }
    }

    /// A point of the part's box, by fractions of its size from the middle.
    fn at(&self, fractions: Vec3) -> Vec3 {
        let from_middle: Vec3 = std::array::from_fn(|k| fractions[k] * self.size_mm[k]);
        add(self.box_middle_mm, from_middle)
    }

    /// A box within the part's box.
    fn block(&self, low: Vec3, high: Vec3) -> Solid {
        let corner = |n: usize| {
            self.at(std::array::from_fn(|k| {
                if n >> k & 1 == 0 { low[k] } else { high[k] }
            }))
        };
        Solid::Hull((0..8).map(corner).collect())
    }

    fn barrel(&self) -> Solid {
        let size = self.size_mm;
        let long = (0..3).fold(0, |best, k| if size[k] > size[best] { k } else { best });
        let (a, b) = ((long + 1) % 3, (long + 2) % 3);
        let ring = |end: f64| {
            (0..24).map(move |i| {
                let (s, c) = libm::sincos(f64::from(i) * std::f64::consts::PI / 12.0);
                let mut f = [0.0; 3];
                (f[long], f[a], f[b]) = (end, c / 2.0, s / 2.0);
                f
            })
        };
        let points = ring(-0.5).chain(ring(0.5));
        Solid::Hull(points.map(|f| self.at(f)).collect())
    }

    fn frame(&self) -> Vec<Solid> {
        let size = self.size_mm;
        let thin = (0..3).fold(0, |best, k| if size[k] < size[best] { k } else { best });
        let (a, b) = ((thin + 1) % 3, (thin + 2) % 3);
        let bar_mm = BAR * size[a].min(size[b]);
        let (fa, fb) = (bar_mm / size[a], bar_mm / size[b]);
        let bars = [
            (-0.5, fa - 0.5, -0.5, 0.5),
            (0.5 - fa, 0.5, -0.5, 0.5),
            (-0.5, 0.5, -0.5, fb - 0.5),
            (-0.5, 0.5, 0.5 - fb, 0.5),
        ];
        let bar = |(low_a, high_a, low_b, high_b)| {
            let (mut low, mut high) = ([-0.5; 3], [0.5; 3]);
            (low[a], high[a], low[b], high[b]) = (low_a, high_a, low_b, high_b);
            self.block(low, high)
        };
        bars.map(bar).to_vec()
    }

    /// Legs, body with arms, head: upright, by common proportions.
    fn figure(&self) -> Vec<Solid> {
        vec![
            self.block([-0.3, -0.3, -0.5], [0.3, -0.04, 0.0]),
            self.block([-0.3, 0.04, -0.5], [0.3, 0.3, 0.0]),
            self.block([-0.5, -0.5, -0.02], [0.5, 0.5, 0.32]),
            self.block([-0.3, -0.2, 0.34], [0.3, 0.2, 0.5]),
        ]
    }

    fn outline(&self, seen_from: Facing) -> Solid {
        let [x, y, n] = seen_from.frame([0.0; 3], 0.0).axes;
        let half = seen_from.half_extent_mm(self.size_mm);
        let lift = |deep: f64| {
            move |p: &[f64; 2]| {
                let flat = add(scale(x, p[0]), scale(y, p[1]));
                add(self.box_middle_mm, add(flat, scale(n, deep)))
            }
        };
        let flat = self.drawn.flat(self.size_mm);
        Solid::Between {
            near: flat.iter().map(lift(half)).collect(),
            far: flat.iter().map(lift(-half)).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::PartId;
    use crate::drawn::tests::l_shape;

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
}
