//! Figures for the cautions: what a magnet of the stock means to a child, a pacemaker, a card.

use lodewright_field::{FLUX_INDEX_LIMIT_KG2MM2, distance_to_field_mm, flux_index};
use lodewright_kit::Plan;
use serde::Serialize;

use crate::pull::{End, disc};

/// One magnet size.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MagnetFacts {
    /// Flux index by the toy-safety method, high end of the grade, kG²mm².
    pub flux_index_kg2mm2: f64,
    /// Whether that is above the limit of 50 kG²mm² at which toy rules call a magnet hazardous.
    pub over_toy_limit: bool,
    /// Distance on the axis beyond which its field stays below 1 mT, at which pacemakers switch, mm.
    pub pacemaker_mm: f64,
    /// Distance on the axis beyond which its field stays below 30 mT, which a weak card stripe bears, mm.
    pub card_mm: f64,
}

/// The facts of every magnet in stock, in its order; zeros where a size is beyond the field formulas' limits.
pub fn magnet_facts(plan: &Plan) -> Vec<MagnetFacts> {
    let facts = plan.stock.magnets.iter().map(|magnet| {
        let disc = disc(plan, magnet, End::Strong).ok()?;
        let index = flux_index(&disc).ok()?.index_kg2mm2;
        Some(MagnetFacts {
            flux_index_kg2mm2: index,
            over_toy_limit: index > FLUX_INDEX_LIMIT_KG2MM2,
            pacemaker_mm: distance_to_field_mm(&disc, 1e-3).ok()?,
            card_mm: distance_to_field_mm(&disc, 30e-3).ok()?,
        })
    });
    let none = MagnetFacts {
        flux_index_kg2mm2: 0.0,
        over_toy_limit: false,
        pacemaker_mm: 0.0,
        card_mm: 0.0,
    };
    facts.map(|f| f.unwrap_or(none)).collect()
}
