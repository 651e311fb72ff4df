//! A right prism along an axis of its part: an outline between two planes.

use earcut::Earcut;
use lodewright_geometry::{
    Edge, Vec3, add, clip, convex_hull, cross2, distance, dot, edges, outline, perimeter_mm,
    polygon_area_mm2, scale, sub,
};

/// A right prism along one of the part's axes.
///
/// Its outline is given in the plane of the two axes that follow: y and z for x, z and x for y, x and y for z.
#[derive(Clone, Debug, PartialEq)]
pub struct Prism {
    /// The axis: 0 for x, 1 for y, 2 for z.
    axis: usize,
    /// The outline, counter-clockwise, mm.
    outline_mm: Vec<[f64; 2]>,
    /// Where it begins and ends along the axis, mm.
    ends_mm: [f64; 2],
}

impl Prism {
    /// A box between two corners.
    pub fn block(low_mm: Vec3, high_mm: Vec3) -> Self {
        let ([x0, y0, z0], [x1, y1, z1]) = (low_mm, high_mm);
        let ring = vec![[x0, y0], [x1, y0], [x1, y1], [x0, y1]];
        Self::pulled(2, ring, [z0, z1])
    }

    /// An outline pulled along an axis; it may run either way round.
    pub fn pulled(axis: usize, mut outline_mm: Vec<[f64; 2]>, ends_mm: [f64; 2]) -> Self {
        if polygon_area_mm2(&outline_mm) < 0.0 {
            outline_mm.reverse();
        }
        Self {
            axis: axis % 3,
            outline_mm,
            ends_mm,
        }
    }

    /// The axis that it runs along: 0 for x, 1 for y, 2 for z.
    pub fn axis(&self) -> usize {
        self.axis
    }

    /// Its outline, counter-clockwise, in the plane of the two axes that follow, mm.
    pub fn outline_mm(&self) -> &[[f64; 2]] {
        &self.outline_mm
    }

    /// Where it begins and ends along its axis, mm.
    pub fn ends_mm(&self) -> [f64; 2] {
        self.ends_mm
    }

    /// A point of its outline's plane at a height along its axis, in the part's axes.
    pub fn point_mm(&self, [u, v]: [f64; 2], along_mm: f64) -> Vec3 {
        let mut p = [0.0; 3];
        p[self.axis] = along_mm;
        p[(self.axis + 1) % 3] = u;
        p[(self.axis + 2) % 3] = v;
        p
    }

    /// The two coordinates of a point in the outline's plane.
    pub fn flat_mm(&self, p_mm: Vec3) -> [f64; 2] {
        [p_mm[(self.axis + 1) % 3], p_mm[(self.axis + 2) % 3]]
    }

    /// Area of the outline, mm².
    pub fn area_mm2(&self) -> f64 {
        polygon_area_mm2(&self.outline_mm)
    }

    /// How far its ends lie apart, mm.
    pub fn long_mm(&self) -> f64 {
        (self.ends_mm[1] - self.ends_mm[0]).max(0.0)
    }

    /// Middle of its volume, mm.
    pub(crate) fn centre_mm(&self) -> Vec3 {
        let origin = self.outline_mm.first().copied().unwrap_or_default();
        let (mut sum, mut area) = ([0.0; 2], 0.0);
        for (a, b) in outline(&self.outline_mm) {
            let (a, b) = (sub(a, origin), sub(b, origin));
            // Green's theorem, a triangle with the first corner at a time.
            let triangle = cross2(a, b) / 2.0;
            sum = add(sum, scale(add(a, b), triangle / 3.0));
            area += triangle;
        }
        let from_origin = if area > 0.0 {
            scale(sum, 1.0 / area)
        } else {
            [0.0; 2]
        };
        let [low, high] = self.ends_mm;
        self.point_mm(add(origin, from_origin), (low + high) / 2.0)
    }

    /// Area of what lies at least so far inside the outline, mm²: exact where the outline is convex, else what is left without
    /// a strip along all sides.
    pub(crate) fn inner_area_mm2(&self, wall_mm: f64) -> f64 {
        if !self.is_convex() {
            let strip = perimeter_mm(&self.outline_mm) * wall_mm;
            return (self.area_mm2() - strip).max(0.0);
        }
        let moved = |mut edge: Edge| {
            edge.from_mm = add(edge.from_mm, scale(edge.inward, wall_mm));
            edge
        };
        let sides = edges(&self.outline_mm).into_iter().map(moved);
        let inner = sides.fold(self.outline_mm.clone(), |left, side| clip(&left, &side));
        polygon_area_mm2(&inner).max(0.0)
    }

    fn is_convex(&self) -> bool {
        let hull = convex_hull(&self.outline_mm).unwrap_or_default();
        (polygon_area_mm2(&hull) - self.area_mm2()).abs() <= 1e-9 * self.area_mm2()
    }

    /// Convex outlines that fill its own.
    pub(crate) fn convex_outlines(&self) -> Vec<Vec<[f64; 2]>> {
        if self.is_convex() {
            return vec![self.outline_mm.clone()];
        }
        let mut corners: Vec<usize> = Vec::new();
        Earcut::new().earcut(self.outline_mm.iter().copied(), &[], &mut corners);
        let triangles = corners.chunks_exact(3);
        let triangle = |t: &[usize]| {
            let points: Vec<_> = t.iter().map(|i| self.outline_mm[*i]).collect();
            convex_hull(&points).unwrap_or_default()
        };
        triangles.map(triangle).collect()
    }
}

/// How far a point lies inside an outline, mm, to the nearest side; negative outside.
pub(crate) fn inside_outline_mm(corners: &[[f64; 2]], at: [f64; 2]) -> f64 {
    let (mut near, mut crossings) = (f64::INFINITY, 0);
    for (a, b) in outline(corners) {
        near = near.min(to_side_mm(a, b, at));
        if (a[1] > at[1]) != (b[1] > at[1]) {
            let x = a[0] + (at[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
            crossings += usize::from(x > at[0]);
        }
    }
    if crossings % 2 == 1 { near } else { -near }
}

/// Distance of a point from a straight side, mm.
fn to_side_mm(a: [f64; 2], b: [f64; 2], at: [f64; 2]) -> f64 {
    let along = sub(b, a);
    let long2 = dot(along, along);
    let t = if long2 > 0.0 {
        (dot(sub(at, a), along) / long2).clamp(0.0, 1.0)
    } else {
        0.0
    };
    distance(at, add(a, scale(along, t)))
}
