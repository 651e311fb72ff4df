//! How millimetres lie on the drawing: the side that is looked at, and what of it is seen. No web types.

pub use lodewright_planner::geometry::distance as apart;
use lodewright_planner::geometry::{Vec3, add, convex_hull, dot, outline, scale};
use lodewright_planner::kit::Facing;

/// The model seen from one of its sides, without perspective.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// The side that is looked at.
    pub from: Facing,
    /// To the right on the drawing, up on it, and towards the eye.
    pub axes: [Vec3; 3],
}

impl Look {
    /// From a side.
    pub fn from(side: Facing) -> Self {
        Self {
            from: side,
            axes: side.frame([0.0; 3], 0.0).axes,
        }
    }

    /// Where a point of the base's axes lies: to the right and up, mm.
    pub fn flat(&self, p: Vec3) -> [f64; 2] {
        [dot(p, self.axes[0]), dot(p, self.axes[1])]
    }

    /// How near the eye a point is, mm.
    pub fn near(&self, p: Vec3) -> f64 {
        dot(p, self.axes[2])
    }

    /// The point of the base's axes at a place of the drawing and a nearness.
    pub fn solid(&self, [u, v]: [f64; 2], near: f64) -> Vec3 {
        let flat = add(scale(self.axes[0], u), scale(self.axes[1], v));
        add(flat, scale(self.axes[2], near))
    }

    /// What the directions right, up, left and down of the drawing are on the model.
    pub fn sides(&self) -> [Facing; 4] {
        let [x, y, _] = self.axes;
        [x, y, scale(x, -1.0), scale(y, -1.0)].map(Facing::nearest)
    }
}

/// What is seen: its middle, and how many millimetres fit the shorter side of the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// Middle, mm to the right and up.
    pub middle: [f64; 2],
    /// Millimetres across the shorter side.
    pub span: f64,
}

/// Least and most that can be seen across, mm.
const SPAN: (f64, f64) = (4.0, 20_000.0);
/// Room around what is fitted, as a fraction of it.
const ROOM: f64 = 1.35;

impl Camera {
    /// Everything in sight, with room around it.
    pub fn around(points: impl Iterator<Item = [f64; 2]>, aspect: f64) -> Self {
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for p in points {
            for k in 0..2 {
                low[k] = low[k].min(p[k]);
                high[k] = high[k].max(p[k]);
            }
        }
        if low[0] > high[0] {
            return Self {
                middle: [0.0; 2],
                span: 100.0,
            };
        }
        let size = [high[0] - low[0], high[1] - low[1]];
        // A drawing that is wider than high has more room across.
        let span = if aspect >= 1.0 {
            (size[0] / aspect).max(size[1])
        } else {
            size[0].max(size[1] * aspect)
        };
        Self {
            middle: [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0],
            span: (span * ROOM).clamp(SPAN.0, SPAN.1),
        }
    }

    /// The square that is always in sight, for the drawing: down is positive there.
    pub fn view_box(&self) -> String {
        let [u, v] = self.middle;
        let half = self.span / 2.0;
        format!(
            "{:.4} {:.4} {span:.4} {span:.4}",
            u - half,
            -v - half,
            span = self.span
        )
    }

    /// Nearer or farther about a place that stays where it is.
    pub fn zoomed(&self, about: [f64; 2], factor: f64) -> Self {
        let span = (self.span * factor).clamp(SPAN.0, SPAN.1);
        let k = span / self.span;
        Self {
            middle: std::array::from_fn(|n| about[n] + (self.middle[n] - about[n]) * k),
            span,
        }
    }

    /// Moved along with a finger that went by so many millimetres.
    pub fn panned(&self, by: [f64; 2]) -> Self {
        Self {
            middle: [self.middle[0] - by[0], self.middle[1] - by[1]],
            ..*self
        }
    }
}

/// The drawing on the screen, in CSS pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screen {
    /// Its left upper corner.
    pub corner: [f64; 2],
    /// Width and height.
    pub size: [f64; 2],
}

impl Screen {
    /// Millimetres for a pixel.
    pub fn mm_per_px(&self, camera: &Camera) -> f64 {
        camera.span / self.size[0].min(self.size[1]).max(1.0)
    }

    /// The place under a pixel, mm to the right and up.
    pub fn place(&self, camera: &Camera, at_px: [f64; 2]) -> [f64; 2] {
        let k = self.mm_per_px(camera);
        let off: [f64; 2] = std::array::from_fn(|n| at_px[n] - self.corner[n] - self.size[n] / 2.0);
        [camera.middle[0] + off[0] * k, camera.middle[1] - off[1] * k]
    }
}

/// The convex hull of points, counterclockwise; nothing for points that no plan can hold.
pub fn hull(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    convex_hull(points).unwrap_or_default()
}

/// Whether a point lies within a closed outline (crossing count).
pub fn within(closed: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
    outline(closed)
        .filter(|(a, b)| {
            (a[1] > y) != (b[1] > y) && x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0]
        })
        .count()
        % 2
        == 1
}

/// Least and greatest of each coordinate; `None` without points.
pub fn bounds(points: impl Iterator<Item = [f64; 2]>) -> Option<([f64; 2], [f64; 2])> {
    points.fold(None, |found, p| {
        let (low, high) = found.unwrap_or((p, p));
        Some((
            [low[0].min(p[0]), low[1].min(p[1])],
            [high[0].max(p[0]), high[1].max(p[1])],
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_side_is_seen_as_one_stands_before_it() {
        // From the left the front is at the left hand; from the right it is at the right hand.
        assert_eq!(
            Look::from(Facing::Left).sides(),
            [Facing::Back, Facing::Up, Facing::Front, Facing::Down]
        );
        assert_eq!(Look::from(Facing::Right).sides()[0], Facing::Front);
        for side in Facing::ALL {
            let look = Look::from(side);
            let p = [3.0, -4.0, 5.0];
            assert_eq!(look.solid(look.flat(p), look.near(p)), p);
            assert!(look.near(side.normal()) > 0.9);
        }
    }

    #[test]
    fn a_zoom_keeps_the_place_under_the_finger() {
        let screen = Screen {
            corner: [10.0, 20.0],
            size: [600.0, 400.0],
        };
        let camera = Camera {
            middle: [5.0, 7.0],
            span: 100.0,
        };
        let finger = [123.0, 77.0];
        let before = screen.place(&camera, finger);
        let after = screen.place(&camera.zoomed(before, 0.5), finger);
        assert!((before[0] - after[0]).abs() < 1e-9 && (before[1] - after[1]).abs() < 1e-9);
        assert!((screen.mm_per_px(&camera) - 0.25).abs() < 1e-12);
        assert_eq!(screen.place(&camera, [310.0, 220.0]), [5.0, 7.0]);
        assert_eq!(camera.view_box(), "-45.0000 -57.0000 100.0000 100.0000");
    }

    #[test]
    fn hulls_and_insides() {
        let square = hull(&[
            [0.0, 0.0],
            [2.0, 0.0],
            [1.0, 1.0],
            [2.0, 2.0],
            [0.0, 2.0],
            [1.0, 0.0],
        ]);
        assert_eq!(square.len(), 4);
        assert!(within(&square, [1.0, 1.5]) && !within(&square, [3.0, 1.0]));
        assert_eq!(hull(&[[1.0, 1.0]; 5]).len(), 1);
    }
}
