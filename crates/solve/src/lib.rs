//! Plain problems with exact answers: polarity parity, hold margins, packs, schedules, round trips, stowing; knows neither kits nor fields.

pub mod hold;
pub mod packs;
pub mod parity;
pub mod route;
pub mod schedule;
pub mod stow;
