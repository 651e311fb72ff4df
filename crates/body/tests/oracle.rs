//! The bodies against parry3d, a general library for collision of shapes, with double precision: volumes, centres, insides, rays,
//! how deep convex pieces run into each other, how far cylinders lie apart. It is asked in tests only.

#![allow(clippy::unwrap_used, reason = "helpers of tests")]

use lodewright_body::{Body, Cylinder, Prism, Standing, cylinders_apart_mm};
use lodewright_geometry::{Frame, Vec3, add, cross, distance, dot, norm, scale, sub};
use parry3d_f64::math::{Pose, Rot3, Vector};
use parry3d_f64::query::{PointQuery, Ray, RayCast, contact, distance as parry_distance};
use parry3d_f64::shape::{ConvexPolyhedron, Cylinder as ParryCylinder, Shape, TriMesh};
use proptest::prelude::*;

fn vector([x, y, z]: Vec3) -> Vector {
    Vector::new(x, y, z)
}

/// A regular outline of these half axes, turned; convex.
fn outline(corners: u32, [a, b]: [f64; 2], turn: f64) -> Vec<[f64; 2]> {
    (0..corners)
        .map(|i| {
            let (s, c) =
                libm::sincos(f64::from(i) * std::f64::consts::TAU / f64::from(corners) + turn);
            [a * c, b * s]
        })
        .collect()
}

/// An outline with a notch: an L of these sizes.
fn angle([w, h]: [f64; 2], thick: f64) -> Vec<[f64; 2]> {
    vec![
        [0.0, 0.0],
        [w, 0.0],
        [w, thick],
        [thick, thick],
        [thick, h],
        [0.0, h],
    ]
}

fn convex_prism() -> impl Strategy<Value = Prism> {
    (
        0usize..3,
        3u32..9,
        [2.0..12.0f64, 2.0..12.0],
        0.0..6.0f64,
        -5.0..5.0f64,
        1.0..15.0f64,
    )
        .prop_map(|(axis, corners, half, turn, low, long)| {
            Prism::pulled(axis, outline(corners, half, turn), [low, low + long])
        })
}

fn corners(prism: &Prism) -> Vec<Vec3> {
    let ends = prism.ends_mm();
    let flat = prism.outline_mm().iter();
    flat.flat_map(|c| ends.map(|end| prism.point_mm(*c, end)))
        .collect()
}

fn polyhedron(prism: &Prism) -> ConvexPolyhedron {
    let points: Vec<Vector> = corners(prism).into_iter().map(vector).collect();
    ConvexPolyhedron::from_convex_hull(&points).unwrap()
}

/// A pose by an axis and an angle, for both sides.
fn posed(at: Vec3, axis: Vec3, angle: f64) -> (Frame, Pose) {
    let long = norm(axis);
    let axis = if long > 1e-3 {
        scale(axis, 1.0 / long)
    } else {
        [0.0, 0.0, 1.0]
    };
    let (s, c) = libm::sincos(angle);
    // Rodrigues' formula.
    let turned = |v: Vec3| {
        let along = scale(axis, dot(axis, v) * (1.0 - c));
        add(add(scale(v, c), scale(cross(axis, v), s)), along)
    };
    let frame = Frame {
        origin_mm: at,
        axes: Frame::WORLD.axes.map(turned),
    };
    (
        frame,
        Pose::from_parts(vector(at), Rot3::from_axis_angle(vector(axis), angle)),
    )
}

fn pose() -> impl Strategy<Value = (Frame, Pose)> {
    (
        [-14.0..14.0f64, -14.0..14.0, -14.0..14.0],
        [-1.0..1.0f64, -1.0..1.0, -1.0..1.0],
        0.0..6.3f64,
    )
        .prop_map(|(at, axis, angle)| posed(at, axis, angle))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_000))]

    #[test]
    fn volume_and_centre_are_those_of_the_polyhedron(prism in convex_prism()) {
        let known = polyhedron(&prism).mass_properties(1.0);
        let body = Body::solid(vec![prism]);
        prop_assert!((body.volume_mm3() / known.mass() - 1.0).abs() < 1e-9);
        let centre = known.local_com;
        prop_assert!(distance(body.centre_mm().unwrap(), [centre.x, centre.y, centre.z]) < 1e-9);
    }

    #[test]
    fn inside_and_depth_are_those_of_the_polyhedron(prism in convex_prism(), p in [-14.0..14.0f64, -14.0..14.0, -14.0..14.0]) {
        let solid = polyhedron(&prism);
        let known = solid.distance_to_local_point(vector(p), false);
        let depth = Body::solid(vec![prism]).depth_mm(p);
        // Inside the nearest face counts for both; outside the depth is only told to be negative.
        if known < -1e-6 {
            prop_assert!((depth + known).abs() < 1e-6, "{} {}", depth, known);
        } else if known > 1e-6 {
            prop_assert!(depth < 0.0, "{} {}", depth, known);
        }
    }

    #[test]
    fn what_a_thin_bore_finds_is_what_a_ray_finds(
        prism in convex_prism(), axis in 0usize..3, up in any::<bool>(), off in [-0.9..0.9f64, -0.9..0.9],
    ) {
        let solid = polyhedron(&prism);
        let body = Body::solid(vec![prism]);
        let way = if up { 1.0 } else { -1.0 };
        let centre = body.centre_mm().unwrap();
        // From well outside, aside from the middle, inward.
        let mut from = add(centre, [off[0], off[1], -off[0]]);
        from[axis] = centre[axis] - way * 100.0;
        let mut direction = [0.0; 3];
        direction[axis] = way;
        let ray = Ray::new(vector(from), vector(direction));
        let known = solid.cast_local_ray(&ray, 1e3, true);
        // The mouth lies where the ray enters, so that the face counts as reached.
        if let Some(enters) = known {
            let mouth = add(from, scale(direction, enters));
            let back = add(from, scale(direction, 200.0));
            let far = Ray::new(vector(back), vector(scale(direction, -1.0)));
            let leaves = 200.0 - solid.cast_local_ray(&far, 1e3, true).unwrap();
            let found = body.bore(mouth, axis, way).outer_mm(0.0);
            if leaves - enters > 1e-3 {
                let [begin, end] = found.unwrap();
                prop_assert!(begin.abs() < 1e-6 && (end - (leaves - enters)).abs() < 1e-6, "{:?}", found);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3_000))]

    #[test]
    fn convex_pieces_run_into_each_other_as_deep_as_parry_says(
        a in convex_prism(), b in convex_prism(), (frame, pose) in pose(),
    ) {
        let found = Standing::new(&Body::solid(vec![a.clone()]), Frame::WORLD)
            .overlap_mm(&Standing::new(&Body::solid(vec![b.clone()]), frame));
        let (first, second) = (polyhedron(&a), polyhedron(&b));
        let apart = |by: Vec3| {
            let moved = Pose::from_parts(vector(by), Rot3::IDENTITY) * pose;
            parry_distance(&Pose::IDENTITY, &first, &moved, &second).unwrap().distance
        };
        if apart([0.0; 3]) > 1e-6 {
            prop_assert!(found == 0.0, "{}", found);
            return Ok(());
        }
        // No shorter way parts them: not along any of many directions.
        for i in 0..40 {
            let (s, c) = libm::sincos(f64::from(i) * 2.4);
            let z = 1.0 - (2.0 * f64::from(i) + 1.0) / 40.0;
            let r = (1.0 - z * z).sqrt();
            prop_assert!(apart(scale([r * c, r * s, z], 0.99 * found)) < 1e-6, "{}", found);
        }
        // And it is no longer than the way that parry names, where that does part them: its expanding polytope stops short at times.
        if let Some(c) = contact(&Pose::IDENTITY, &first, &pose, &second, 0.0).unwrap() {
            let way = scale([c.normal1.x, c.normal1.y, c.normal1.z], 1e-6 - c.dist);
            if apart(way) > 0.0 {
                prop_assert!(found <= 1e-5 - c.dist, "{} {}", found, c.dist);
            }
        }
    }

    #[test]
    fn cylinders_lie_as_far_apart_as_parry_says(
        [ra, rb] in [0.5..4.0f64, 0.5..4.0], [la, lb] in [0.5..9.0f64, 0.5..9.0], (frame, pose) in pose(),
    ) {
        let a = Cylinder { mouth_mm: [0.0; 3], axis: [0.0, 0.0, 1.0], long_mm: la, radius_mm: ra };
        let b = Cylinder { mouth_mm: frame.origin_mm, axis: frame.axes[2], long_mm: lb, radius_mm: rb };
        let found = cylinders_apart_mm(&a, &b);
        // Parry's cylinder stands on its y axis, about its middle.
        let upright = Pose::from_parts(vector([0.0, 0.0, la / 2.0]), Rot3::from_axis_angle(Vector::new(1.0, 0.0, 0.0), std::f64::consts::FRAC_PI_2));
        let other = pose * Pose::from_parts(vector([0.0, 0.0, lb / 2.0]), Rot3::from_axis_angle(Vector::new(1.0, 0.0, 0.0), std::f64::consts::FRAC_PI_2));
        let known = parry_distance(&upright, &ParryCylinder::new(la / 2.0, ra), &other, &ParryCylinder::new(lb / 2.0, rb)).unwrap().distance;
        // Nearly touching, the projections close in slowly.
        let most = if known > 0.05 { 1e-4 } else { 1e-3 };
        prop_assert!(found > known - 1e-5 && found < known + most, "{} {}", found, known);
    }
}

proptest! {
    #[test]
    fn a_concave_body_is_met_where_a_triangle_mesh_is(
        size in [6.0..20.0f64, 6.0..20.0], thick in 1.0..4.0f64, long in 2.0..12.0f64,
        p in [-3.0..23.0f64, -3.0..23.0, -3.0..15.0],
    ) {
        let prism = Prism::pulled(2, angle(size, thick), [0.0, long]);
        let mesh = mesh(&prism);
        let known = mesh.project_local_point(vector(p), false);
        let near = sub([known.point.x, known.point.y, known.point.z], p);
        if norm(near) > 1e-6 {
            let depth = Body::solid(vec![prism]).depth_mm(p);
            prop_assert_eq!(depth > 0.0, inside(&mesh, p), "{} {:?}", depth, p);
        }
    }
}

/// The surface of a prism of an L as triangles.
fn mesh(prism: &Prism) -> TriMesh {
    let n = u32::try_from(prism.outline_mm().len()).unwrap();
    let points: Vec<Vector> = corners(prism).into_iter().map(vector).collect();
    // Corners come in pairs, low and high.
    let mut triangles: Vec<[u32; 3]> = Vec::new();
    for i in 0..n {
        let (a, b) = (2 * i, 2 * ((i + 1) % n));
        triangles.extend([[a, b, b + 1], [a, b + 1, a + 1]]);
    }
    for [x, y, z] in [[0, 1, 2], [0, 2, 3], [0, 3, 4], [0, 4, 5]] {
        triangles.extend([[2 * x, 2 * z, 2 * y], [2 * x + 1, 2 * y + 1, 2 * z + 1]]);
    }
    TriMesh::new(points, triangles).unwrap()
}

/// Whether a ray from a point leaves the mesh more often than it enters.
fn inside(mesh: &TriMesh, p: Vec3) -> bool {
    let direction = Vector::new(0.577, 0.211, 0.789);
    let crossings = mesh.triangles().filter(|t| {
        t.cast_local_ray(&Ray::new(vector(p), direction), 1e6, false)
            .is_some()
    });
    crossings.count() % 2 == 1
}
