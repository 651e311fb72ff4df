//! Where a body can touch a plane that is laid on it.

use lodewright_geometry::{Edge, Frame, clip, convex_hull};

use crate::bore::DRESSED_MM;
use crate::{Body, Prism};

impl Body {
    /// What of a body can touch the plane of a frame (its z out of the body, square to the body's axes): the convex hull of all
    /// that comes within half a millimetre of the plane or reaches beyond it, in the frame's x and y, mm. Empty where nothing
    /// does.
    pub fn touching_mm(&self, plane: &Frame) -> Vec<[f64; 2]> {
        let corners = self.prisms().iter().flat_map(|p| touching(p, plane));
        convex_hull(&corners.collect::<Vec<_>>()).unwrap_or_default()
    }
}

/// Corners of what of a prism comes near the plane.
fn touching(prism: &Prism, plane: &Frame) -> Vec<[f64; 2]> {
    let hull = convex_hull(prism.outline_mm()).unwrap_or_default();
    let height = |c: [f64; 2], end: f64| plane.to_inner(prism.point_mm(c, end))[2];
    let [low, high] = prism.ends_mm();
    // How the height above the plane grows along the outline's two coordinates.
    let origin = height([0.0; 2], low);
    let grows = [height([1.0, 0.0], low), height([0.0, 1.0], low)].map(|h| h - origin);
    let near = if grows.iter().any(|g| g.abs() > 0.5) {
        let edge = Edge {
            from_mm: [0, 1].map(|k| (-DRESSED_MM - origin) * grows[k]),
            to_mm: [0.0; 2],
            inward: grows,
        };
        clip(&hull, &edge)
    } else if height([0.0; 2], low).max(height([0.0; 2], high)) >= -DRESSED_MM {
        hull
    } else {
        return Vec::new();
    };
    let flat = |c: &[f64; 2]| {
        [low, high].map(|end| {
            let [x, y, _] = plane.to_inner(prism.point_mm(*c, end));
            [x, y]
        })
    };
    near.iter().flat_map(flat).collect()
}

#[cfg(test)]
mod tests {
    use lodewright_geometry::polygon_area_mm2;

    use super::*;

    /// A plane at this height, z up.
    fn level(height_mm: f64) -> Frame {
        Frame {
            origin_mm: [0.0, 0.0, height_mm],
            ..Frame::WORLD
        }
    }

    #[test]
    fn a_block_touches_with_its_whole_face_and_a_lying_barrel_with_a_strip() {
        let block = Body::solid(vec![Prism::block([-3.0, -2.0, 0.0], [3.0, 2.0, 5.0])]);
        let area = |body: &Body, at| polygon_area_mm2(&body.touching_mm(&level(at)));
        assert_eq!(area(&block, 5.0), 24.0);
        // Below the top the plane is in a recess; above it, out of reach.
        assert_eq!((area(&block, 3.0), area(&block, 5.4)), (24.0, 24.0));
        assert!(block.touching_mm(&level(5.6)).is_empty());
        let ring = (0..720).map(|i| {
            let (s, c) = libm::sincos(f64::from(i).to_radians() / 2.0);
            [10.0 * c, 10.0 * s]
        });
        let barrel = Body::solid(vec![Prism::pulled(0, ring.collect(), [0.0, 30.0])]);
        // Half a millimetre below the top of a circle of radius 10 the chord is 2 sqrt(100 - 9.5²) wide.
        let strip = 30.0 * 2.0 * (100.0_f64 - 9.5 * 9.5).sqrt();
        assert!((area(&barrel, 10.0) / strip - 1.0).abs() < 1e-3);
        // Standing on its end it touches with the whole disc.
        let end = Frame {
            origin_mm: [30.0, 0.0, 0.0],
            axes: [[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]],
        };
        let disc = polygon_area_mm2(&barrel.touching_mm(&end));
        assert!((disc / (std::f64::consts::PI * 100.0) - 1.0).abs() < 1e-4);
    }

    #[test]
    fn two_feet_touch_with_what_they_span() {
        let feet = [-4.0, 2.0].map(|x| Prism::block([x, 0.0, 0.0], [x + 2.0, 1.0, 9.0]));
        let body = Body::solid(feet.to_vec());
        let under = Frame {
            origin_mm: [0.0; 3],
            axes: [[1.0, 0.0, 0.0], [0.0, -1.0, 0.0], [0.0, 0.0, -1.0]],
        };
        assert_eq!(polygon_area_mm2(&body.touching_mm(&under)), 8.0);
    }
}
