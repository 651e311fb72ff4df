//! Vectors, frames and convex polygons; knows neither kits nor fields. Lengths are in mm.
//!
//! Vectors are plain arrays, `[f64; 2]` in a plane and `[f64; 3]` in space: the plan file holds them so, and every other
//! crate takes and gives them so. A vector type of a library (glam, nalgebra) would have to be made from an array and
//! turned back into one at each of those edges, which is more code than the dozen functions here, each of which serves
//! both dimensions.
//!
//! ```
//! use lodewright_geometry::{Frame, convex_hull, distance, inside_mm};
//!
//! let quarter = Frame::WORLD.turned(90.0);
//! assert_eq!(quarter.to_outer([2.0, 0.0, 5.0]), [0.0, 2.0, 5.0]);
//! assert_eq!(distance([0.0, 0.0], [3.0, 4.0]), 5.0);
//! let hull = convex_hull(&[[0.0, 0.0], [6.0, 0.0], [6.0, 4.0], [0.0, 4.0], [1.0, 1.0]]).unwrap();
//! assert_eq!((hull.len(), inside_mm(&hull, [5.0, 2.0])), (4, 1.0));
//! ```

mod frame;
mod polygon;
mod vector;

pub use frame::Frame;
pub use polygon::{
    Edge, LARGEST_MM, PointError, clip, convex_hull, convex_intersection, edges, inside_mm,
    outline, perimeter_mm, polygon_area_mm2,
};
pub use vector::{Vec3, add, cross, cross2, distance, dot, lerp, norm, scale, sub, unit};
