//! Plain problems with exact answers: polarity parity, hold margins, packs, schedules, round trips; knows neither kits nor fields.

mod plane;

pub mod hold;
pub mod packs;
pub mod parity;
pub mod route;
pub mod schedule;

pub use plane::{
    LARGEST_MM, PointError, convex_hull, convex_intersection, inside_mm, polygon_area_mm2,
};
