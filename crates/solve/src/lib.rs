//! Plain problems with exact answers: polarity parity, hold margins, packs, schedules, round trips, stowing; knows neither kits nor fields.

mod plane;

pub mod hold;
pub mod packs;
pub mod parity;
pub mod route;
pub mod schedule;
pub mod stow;

pub use plane::{
    LARGEST_MM, PointError, convex_hull, convex_intersection, inside_mm, polygon_area_mm2,
};
