//! Convex pieces of bodies in space, and how deep two of them run into each other: separating axes (Gottschalk, Lin and Manocha
//! 1996, from memory). Of two convex polyhedra that overlap, the least translation that parts them is along a face normal of one
//! or along the cross product of an edge of each.

use lodewright_geometry::{Frame, Vec3, cross, dot, norm, outline, scale, sub};

use crate::Prism;

/// A convex polyhedron.
#[derive(Clone, Debug)]
pub(crate) struct Convex {
    points: Vec<Vec3>,
    /// Directions of its edges, each once.
    edges: Vec<Vec3>,
    /// Normals of its faces, each once and without a sign.
    normals: Vec<Vec3>,
    /// The box that it fills.
    bounds: [Vec3; 2],
}

/// Directions that differ by less than this are one.
const SAME: f64 = 1e-9;

impl Convex {
    /// The convex pieces of a prism that is placed.
    pub fn of(prism: &Prism, at: &Frame) -> Vec<Self> {
        let pieces = prism.convex_outlines().into_iter();
        pieces
            .filter(|corners| corners.len() >= 3)
            .map(|corners| Self::piece(prism, &corners, at))
            .collect()
    }

    fn piece(prism: &Prism, corners: &[[f64; 2]], at: &Frame) -> Self {
        let [low, high] = prism.ends_mm();
        let point = |c: [f64; 2], end| at.to_outer(prism.point_mm(c, end));
        let along = sub(point([0.0; 2], 1.0), point([0.0; 2], 0.0));
        let (mut edges, mut normals) = (vec![along], vec![along]);
        for (a, b) in outline(corners) {
            let side = sub(point(b, low), point(a, low));
            note(&mut edges, side);
            note(&mut normals, cross(side, along));
        }
        let ends = [low, high].into_iter();
        let points = ends.flat_map(|end| corners.iter().map(move |c| point(*c, end)));
        Self::new(points.collect(), edges, normals)
    }

    fn new(points: Vec<Vec3>, edges: Vec<Vec3>, normals: Vec<Vec3>) -> Self {
        let bound = |pick: fn(f64, f64) -> f64| {
            let of = |a: Vec3, b: &Vec3| std::array::from_fn(|k| pick(a[k], b[k]));
            points.iter().skip(1).fold(points[0], of)
        };
        let bounds = [bound(f64::min), bound(f64::max)];
        Self {
            points,
            edges,
            normals,
            bounds,
        }
    }

    /// Everything that it passes over on its way so far along a direction.
    pub fn swept(&self, way: Vec3) -> Self {
        let moved = self
            .points
            .iter()
            .map(|p| lodewright_geometry::add(*p, way));
        let points = self.points.iter().copied().chain(moved).collect();
        let (mut edges, mut normals) = (self.edges.clone(), self.normals.clone());
        for edge in &self.edges {
            note(&mut normals, cross(*edge, way));
        }
        note(&mut edges, way);
        Self::new(points, edges, normals)
    }

    /// Its corners.
    pub fn points(&self) -> &[Vec3] {
        &self.points
    }

    /// The corners of the box that it fills.
    pub fn bounds(&self) -> [Vec3; 2] {
        self.bounds
    }

    /// How deep two run into each other; 0 where they are apart or touch.
    pub fn overlap_mm(&self, other: &Self) -> f64 {
        if !boxes_meet(self.bounds, other.bounds) {
            return 0.0;
        }
        let crossed = self
            .edges
            .iter()
            .flat_map(|a| other.edges.iter().filter_map(|b| unit(cross(*a, *b))));
        let axes = self.normals.iter().chain(&other.normals).copied();
        let mut least = f64::INFINITY;
        for axis in axes.chain(crossed) {
            let ([a0, a1], [b0, b1]) = (self.along(axis), other.along(axis));
            least = least.min((a1 - b0).min(b1 - a0));
            if least <= 0.0 {
                return 0.0;
            }
        }
        least
    }

    fn along(&self, axis: Vec3) -> [f64; 2] {
        let places = self.points.iter().map(|p| dot(*p, axis));
        places.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| {
            [low.min(at), high.max(at)]
        })
    }
}

/// Whether two boxes along the axes share space.
pub(crate) fn boxes_meet(a: [Vec3; 2], b: [Vec3; 2]) -> bool {
    (0..3).all(|k| a[0][k] < b[1][k] && b[0][k] < a[1][k])
}

fn unit(v: Vec3) -> Option<Vec3> {
    let long = norm(v);
    (long > SAME).then(|| scale(v, 1.0 / long))
}

/// Adds a direction unless it is there already, this way or the other.
fn note(list: &mut Vec<Vec3>, direction: Vec3) {
    let Some(direction) = unit(direction) else {
        return;
    };
    let same = |d: &Vec3| norm(cross(*d, direction)) < SAME;
    if !list.iter().any(same) {
        list.push(direction);
    }
}
