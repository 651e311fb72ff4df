//! What is seen of a body from one side, without perspective, and the box that it fills.

use lodewright_geometry::{Vec3, convex_hull};

use crate::{Body, Prism};

impl Body {
    /// Outlines of its prisms as they are seen, `flat` being the linear map of the part's axes onto the view. Looked at along its
    /// axis a prism shows its outline, hollows and all; else its convex hull.
    pub fn silhouettes(&self, flat: impl Fn(Vec3) -> [f64; 2]) -> Vec<Vec<[f64; 2]>> {
        self.prisms().iter().map(|p| seen(p, &flat)).collect()
    }

    /// The corners of the box that it fills, mm; `None` for a body without corners.
    pub fn bounds_mm(&self) -> Option<[Vec3; 2]> {
        let corners = self.prisms().iter().flat_map(|p| {
            let flat = p.outline_mm().iter();
            flat.flat_map(|c| p.ends_mm().map(|end| p.point_mm(*c, end)))
        });
        let bounds = |[low, high]: [Vec3; 2], p: Vec3| {
            [0, 1].map(|n| {
                std::array::from_fn(|k| match n {
                    0 => low[k].min(p[k]),
                    _ => high[k].max(p[k]),
                })
            })
        };
        corners.map(|p| [p, p]).reduce(|b, [p, _]| bounds(b, p))
    }
}

fn seen(prism: &Prism, flat: &impl Fn(Vec3) -> [f64; 2]) -> Vec<[f64; 2]> {
    let [low, high] = prism.ends_mm();
    let end = |end: f64| {
        let corners = prism.outline_mm().iter();
        corners.map(move |c| flat(prism.point_mm(*c, end)))
    };
    let (near, far) = (end(high), end(low));
    let [from, to] = [0.0, 1.0].map(|along| flat(prism.point_mm([0.0; 2], along)));
    let is_along = (0..2).all(|k| (to[k] - from[k]).abs() < 1e-6);
    if is_along {
        near.collect()
    } else {
        convex_hull(&near.chain(far).collect::<Vec<_>>()).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use lodewright_geometry::polygon_area_mm2;

    use super::*;

    #[test]
    fn a_hollow_is_seen_along_the_axis_only() {
        let l = [
            [0.0, 0.0],
            [10.0, 0.0],
            [10.0, 4.0],
            [4.0, 4.0],
            [4.0, 10.0],
            [0.0, 10.0],
        ];
        let body = Body::solid(vec![Prism::pulled(2, l.to_vec(), [0.0, 3.0])]);
        let area = |flat: fn(Vec3) -> [f64; 2]| polygon_area_mm2(&body.silhouettes(flat)[0]);
        assert_eq!(area(|[x, y, _]| [x, y]), 64.0);
        assert_eq!(area(|[x, _, z]| [x, z]), 30.0);
        assert_eq!(body.bounds_mm(), Some([[0.0; 3], [10.0, 10.0, 3.0]]));
        assert_eq!(Body::solid(Vec::new()).bounds_mm(), None);
    }
}
