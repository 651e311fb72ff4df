//! Variants by themselves.

use super::check::At;
use crate::{Variant, limits};

pub(super) fn variant(at: &mut At<'_>, variant: &Variant) {
    at.label("name", &variant.name, limits::LABEL);
    at.count("cells", variant.cells.len(), limits::SOCKETS);
    for cell in &variant.cells {
        let mut at = at.within(format_args!("cells[{}]", cell.socket));
        at.count("", cell.seats.len(), limits::SEATS);
        let turns = cell.seats.iter().map(|s| s.pose.turn_deg);
        at.each("turn_deg", turns, -360.0, 360.0);
    }
}
