//! Where millimetres of a mating plane lie on the drawing of a face.

use super::draw::points;

/// Width of the drawing.
pub const WIDTH: f64 = 360.0;
const ROOM: [f64; 2] = [300.0, 210.0];
/// Room above the face, for words.
pub const TOP: f64 = 30.0;
/// Room below it, for the scale.
pub const BOTTOM: f64 = 46.0;
/// No drawing is larger than this, so that a 3 mm face does not fill the page.
const MOST_PX_PER_MM: f64 = 22.0;

/// Where millimetres of a mating plane lie on the drawing; y points up in the plane and down on the screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaneView {
    /// What is in the middle.
    pub middle_mm: [f64; 2],
    /// Pixels of the drawing for a millimetre.
    pub scale: f64,
    /// Height of the drawing.
    pub height: f64,
}

impl PlaneView {
    /// The largest at which all points fit; `None` where there are none.
    pub fn around(all: &[[f64; 2]]) -> Option<Self> {
        let first = all.iter().find(|p| p.iter().all(|v| v.is_finite()))?;
        let (mut low, mut high) = (*first, *first);
        for p in all.iter().filter(|p| p.iter().all(|v| v.is_finite())) {
            for k in 0..2 {
                low[k] = low[k].min(p[k]);
                high[k] = high[k].max(p[k]);
            }
        }
        let size = [high[0] - low[0], high[1] - low[1]];
        let fit = |k: usize| ROOM[k] / size[k].max(0.1);
        let scale = fit(0).min(fit(1)).min(MOST_PX_PER_MM);
        Some(Self {
            middle_mm: [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0],
            scale,
            height: TOP + (size[1] * scale).max(80.0) + BOTTOM,
        })
    }

    /// A point on the drawing.
    pub fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [
            WIDTH / 2.0 + (x - self.middle_mm[0]) * self.scale,
            TOP + (self.height - TOP - BOTTOM) / 2.0 - (y - self.middle_mm[1]) * self.scale,
        ]
    }

    /// The point of the mating plane under a point of the drawing.
    pub fn from(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [
            self.middle_mm[0] + (x - WIDTH / 2.0) / self.scale,
            self.middle_mm[1] - (y - TOP - (self.height - TOP - BOTTOM) / 2.0) / self.scale,
        ]
    }

    /// Points on the drawing, for a polygon.
    pub fn polygon(&self, list: &[[f64; 2]]) -> String {
        points(&list.iter().map(|p| self.at(*p)).collect::<Vec<_>>())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_fits_and_lengths_are_to_scale() {
        let corners = [[-30.0, -5.0], [30.0, 5.0], [0.0, 40.0]];
        let view = PlaneView::around(&corners).unwrap();
        for p in corners {
            let [x, y] = view.at(p);
            assert!(
                (0.0..=WIDTH).contains(&x) && (0.0..=view.height).contains(&y),
                "{x} {y}"
            );
        }
        let (a, b) = (view.at([0.0, 0.0]), view.at([3.0, 4.0]));
        let long = ((a[0] - b[0]).powi(2) + (a[1] - b[1]).powi(2)).sqrt();
        assert!((long - 5.0 * view.scale).abs() < 1e-9);
        assert!(b[1] < a[1], "up in the plane is up on the screen");
        let back = view.from(view.at([3.0, 4.0]));
        assert!((back[0] - 3.0).abs() < 1e-9 && (back[1] - 4.0).abs() < 1e-9);
        assert_eq!(PlaneView::around(&[]), None);
    }
}
