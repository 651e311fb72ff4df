//! Parts as solids: what material a hole finds, how far holes lie apart, whether bodies run into each other. Knows neither
//! kits nor magnets.
//!
//! A [`Body`] is made of right [`Prism`]s along the axes of its part, full or a shell of an even wall. Lengths are in mm.
//!
//! Own code, with parry3d as the oracle of its tests: a hull, a contact, a distance and a ray of parry3d alone are 167 kB of
//! WebAssembly (68 kB compressed), all of this crate 84 kB (37 kB), and shells and the room for a hole would be own code beside it.
//!
//! ```
//! use lodewright_body::{Body, Prism};
//!
//! // A plate 1.5 mm thick, its top at z = 1.5.
//! let plate = Body::solid(vec![Prism::block([-10.0, -5.0, 0.0], [10.0, 5.0, 1.5])]);
//! let bore = plate.bore([8.0, 0.0, 1.5], 2, -1.0);
//! // A hole of 3 mm in it meets the far side after 1.5 mm, and comes within 0.5 mm of the edge.
//! assert_eq!(bore.floor_mm(1.5), Some(1.5));
//! assert_eq!(bore.beside_mm(1.0) - 1.5, 0.5);
//! assert_eq!(plate.volume_mm3(), 300.0);
//! ```

mod body;
mod bore;
mod convex;
mod cylinder;
mod face;
mod overlap;
mod prism;
mod silhouette;

pub use body::Body;
pub use bore::{Bore, DRILL_POINT, LEAST_WALL_MM};
pub use cylinder::{Cylinder, cylinders_apart_mm};
pub use overlap::Standing;
pub use prism::Prism;
