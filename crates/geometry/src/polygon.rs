//! Polygons in a plane: area and perimeter; of convex ones hull, intersection, edges with inward normals.

use core::fmt;

use crate::{cross2, distance, dot, lerp, norm, sub};
use tiny_sort::stable::sort_by;

/// Largest absolute coordinate taken, mm. Far beyond any model; it keeps every product finite.
pub const LARGEST_MM: f64 = 1e9;

/// A point of a polygon that cannot be used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointError {
    /// Index of the point in the list given.
    pub index: usize,
    /// The point as given, mm.
    pub at_mm: [f64; 2],
}

impl fmt::Display for PointError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "polygon point {} is ({}, {}) mm; coordinates must be finite and within {LARGEST_MM} mm: correct this point",
            self.index, self.at_mm[0], self.at_mm[1]
        )
    }
}

impl core::error::Error for PointError {}

/// One edge of a convex polygon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// A point on it, mm.
    pub from_mm: [f64; 2],
    /// Its other end, mm.
    pub to_mm: [f64; 2],
    /// The unit normal that points into the hull.
    pub inward: [f64; 2],
}

impl Edge {
    /// Distance of a point from the edge's line, mm; positive on the inner side.
    pub fn inside_mm(&self, p: [f64; 2]) -> f64 {
        dot(sub(p, self.from_mm), self.inward)
    }
}

/// Twice the area of the triangle o, a, b; positive where it runs counter-clockwise.
fn turn(o: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    cross2(sub(a, o), sub(b, o))
}

fn check(points: &[[f64; 2]]) -> Result<(), PointError> {
    let bad = points
        .iter()
        .position(|p| !p.iter().all(|x| x.abs() <= LARGEST_MM));
    match bad {
        Some(index) => Err(PointError {
            index,
            at_mm: points[index],
        }),
        None => Ok(()),
    }
}

/// Convex hull of points in mm, counter-clockwise from the lowest x (then y), without points on its edges.
///
/// Monotone chain (Andrew 1979). Fewer than three points come back when the points have no area: one for a single
/// place, two for a line, none for no points.
///
/// # Errors
/// [`PointError`] when a coordinate is not finite or beyond [`LARGEST_MM`].
pub fn convex_hull(points_mm: &[[f64; 2]]) -> Result<Vec<[f64; 2]>, PointError> {
    check(points_mm)?;
    let mut sorted = points_mm.to_vec();
    // Adding zero turns -0 into +0, so that equal places sort as equal.
    sorted
        .iter_mut()
        .for_each(|p| *p = [p[0] + 0.0, p[1] + 0.0]);
    sort_by(&mut sorted, |a, b| {
        a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1]))
    });
    sorted.dedup();
    if sorted.len() < 3 {
        return Ok(sorted);
    }
    let mut hull = half_hull(sorted.iter().copied());
    let upper = half_hull(sorted.iter().rev().copied());
    hull.pop();
    hull.extend(upper);
    hull.pop();
    Ok(hull)
}

/// How far a point lies inside a convex polygon given counter-clockwise, mm: to its nearest edge's line, negative outside.
/// Negative infinity for a polygon without area.
pub fn inside_mm(hull_mm: &[[f64; 2]], at_mm: [f64; 2]) -> f64 {
    let inside = edges(hull_mm).into_iter().map(|e| e.inside_mm(at_mm));
    inside.reduce(f64::min).unwrap_or(f64::NEG_INFINITY)
}

fn half_hull(points: impl Iterator<Item = [f64; 2]>) -> Vec<[f64; 2]> {
    let mut chain: Vec<[f64; 2]> = Vec::new();
    for p in points {
        while let [.., a, b] = chain[..] {
            if turn(a, b, p) > 0.0 {
                break;
            }
            chain.pop();
        }
        chain.push(p);
    }
    chain
}

/// Area of a simple polygon, mm2; positive when its points run counter-clockwise (shoelace formula).
pub fn polygon_area_mm2(points_mm: &[[f64; 2]]) -> f64 {
    let Some(&origin) = points_mm.first() else {
        return 0.0;
    };
    points_mm
        .windows(2)
        .map(|w| turn(origin, w[0], w[1]) / 2.0)
        .sum()
}

/// The sides of a closed polygon, each from a point to the next.
pub fn outline(points: &[[f64; 2]]) -> impl Iterator<Item = ([f64; 2], [f64; 2])> + '_ {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| (*a, *b))
}

/// Length all round a closed polygon, mm.
pub fn perimeter_mm(points_mm: &[[f64; 2]]) -> f64 {
    outline(points_mm).map(|(a, b)| distance(a, b)).sum()
}

/// Convex polygon common to the hulls of two point lists (mm), counter-clockwise; empty when they share no area.
///
/// Clips one hull by the other's edges in turn (Sutherland & Hodgman 1974). Hulls that only touch, and hulls without
/// area, give an empty list.
///
/// # Errors
/// [`PointError`] for a point of either list that is not finite or beyond [`LARGEST_MM`].
pub fn convex_intersection(
    a_mm: &[[f64; 2]],
    b_mm: &[[f64; 2]],
) -> Result<Vec<[f64; 2]>, PointError> {
    let (a, b) = (convex_hull(a_mm)?, convex_hull(b_mm)?);
    if edges(&a).is_empty() || edges(&b).is_empty() {
        return Ok(Vec::new());
    }
    let clipped = edges(&b)
        .iter()
        .fold(a, |polygon, edge| clip(&polygon, edge));
    let hull = convex_hull(&clipped)?;
    Ok(if edges(&hull).is_empty() {
        Vec::new()
    } else {
        hull
    })
}

/// What of a convex polygon lies on the inner side of an edge.
pub fn clip(polygon: &[[f64; 2]], edge: &Edge) -> Vec<[f64; 2]> {
    let mut kept = Vec::with_capacity(polygon.len() + 1);
    for (p, q) in outline(polygon) {
        let (dp, dq) = (edge.inside_mm(p), edge.inside_mm(q));
        if dp >= 0.0 {
            kept.push(p);
        }
        if (dp > 0.0 && dq < 0.0) || (dp < 0.0 && dq > 0.0) {
            let t = dp / (dp - dq);
            kept.push(lerp(p, q, t));
        }
    }
    kept
}

/// Edges of a counter-clockwise hull, edge i from point i to the next; none when the hull has no usable area (below
/// a billionth of its length squared, where normals are rounding noise).
pub fn edges(hull: &[[f64; 2]]) -> Vec<Edge> {
    let reach = hull
        .iter()
        .map(|&p| distance(p, hull[0]))
        .fold(0.0, f64::max);
    if hull.len() < 3 || polygon_area_mm2(hull) <= 1e-9 * reach * reach {
        return Vec::new();
    }
    let edge = |(from_mm, to_mm)| {
        let [x, y] = sub(to_mm, from_mm);
        let long = norm([x, y]);
        Edge {
            from_mm,
            to_mm,
            inward: [-y / long, x / long],
        }
    };
    outline(hull).map(edge).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SQUARE: [[f64; 2]; 4] = [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]];

    #[test]
    fn hull_drops_inner_and_edge_points_and_repeats() {
        let mut points = vec![[1.0, 1.0], [1.0, 0.0], [2.0, 2.0], [-0.0, 0.0]];
        points.extend(SQUARE);
        assert_eq!(convex_hull(&points).unwrap(), SQUARE);
    }

    #[test]
    fn no_area_is_told_by_the_point_count() {
        assert!(convex_hull(&[]).unwrap().is_empty());
        assert_eq!(convex_hull(&[[1.0, 2.0]; 5]).unwrap().len(), 1);
        assert_eq!(
            convex_hull(&[[0.0, 0.0], [1.0, 1.0], [3.0, 3.0]])
                .unwrap()
                .len(),
            2
        );
        assert_eq!(convex_hull(&[[0.0, f64::NAN]]).unwrap_err().index, 0);
        assert!(convex_hull(&[[0.0, 2e9]]).is_err());
    }

    #[test]
    fn a_sliver_has_edges_and_rounding_noise_has_none() {
        let strip = |high: f64| [[0.0, 0.0], [10.0, 0.0], [10.0, high], [0.0, high]];
        assert_eq!(edges(&strip(1e-3)).len(), 4);
        assert_eq!(inside_mm(&strip(1e-3), [5.0, 4e-4]), 4e-4);
        assert_eq!(edges(&strip(1e-9)), []);
        assert_eq!(inside_mm(&strip(1e-9), [5.0, 0.0]), f64::NEG_INFINITY);
        assert_eq!(perimeter_mm(&strip(2.0)), 24.0);
    }

    #[test]
    fn intersection_of_shifted_turned_touching_and_far_squares() {
        let shifted = SQUARE.map(|p| [p[0] + 1.0, p[1] + 0.5]);
        assert!(
            (polygon_area_mm2(&convex_intersection(&SQUARE, &shifted).unwrap()) - 1.5).abs()
                < 1e-12
        );
        let diamond = [[1.0, 0.0], [2.0, 1.0], [1.0, 2.0], [0.0, 1.0]];
        assert!(
            (polygon_area_mm2(&convex_intersection(&SQUARE, &diamond).unwrap()) - 2.0).abs()
                < 1e-12
        );
        let touching = SQUARE.map(|p| [p[0] + 2.0, p[1]]);
        assert!(convex_intersection(&SQUARE, &touching).unwrap().is_empty());
        assert!(
            convex_intersection(&SQUARE, &SQUARE.map(|p| [p[0] + 9.0, p[1]]))
                .unwrap()
                .is_empty()
        );
        assert!(
            convex_intersection(&SQUARE, &[[0.0, 0.0], [1.0, 1.0]])
                .unwrap()
                .is_empty()
        );
    }

    fn cloud() -> impl Strategy<Value = Vec<[f64; 2]>> {
        prop::collection::vec([-10.0..10.0, -10.0..10.0f64], 0..12)
    }

    proptest! {
        #[test]
        fn every_point_is_inside_its_hull(points in cloud()) {
            let hull = convex_hull(&points).unwrap();
            for edge in edges(&hull) {
                for &p in &points {
                    prop_assert!(edge.inside_mm(p) > -1e-9);
                }
            }
        }

        #[test]
        fn intersection_lies_in_both_and_is_symmetric(a in cloud(), b in cloud()) {
            let both = convex_intersection(&a, &b).unwrap();
            for hull in [convex_hull(&a).unwrap(), convex_hull(&b).unwrap()] {
                for edge in edges(&hull) {
                    for &p in &both {
                        prop_assert!(edge.inside_mm(p) > -1e-7);
                    }
                }
            }
            let other = convex_intersection(&b, &a).unwrap();
            prop_assert!((polygon_area_mm2(&both) - polygon_area_mm2(&other)).abs() < 1e-6);
        }

        #[test]
        fn intersection_with_a_window_matches_point_counting(points in cloud()) {
            // Outside check: area by counting the midpoints of a fine grid, an independent way.
            let window = [[-4.0, -3.0], [5.0, -3.0], [5.0, 6.0], [-4.0, 6.0]];
            let area = polygon_area_mm2(&convex_intersection(&points, &window).unwrap());
            let hull_edges = edges(&convex_hull(&points).unwrap());
            let inside = |x: f64, y: f64| !hull_edges.is_empty() && hull_edges.iter().all(|e| e.inside_mm([x, y]) >= 0.0);
            let cells = (0..180 * 180).filter(|i| inside(-3.975 + f64::from(i % 180) * 0.05, -2.975 + f64::from(i / 180) * 0.05));
            prop_assert!((cells.count() as f64 * 0.0025 - area).abs() < 1.0);
        }
    }
}
