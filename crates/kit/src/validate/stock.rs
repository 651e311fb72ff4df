//! Stock and materials by themselves.

use super::check::At;
use crate::{MagnetStock, Material, Pack, SteelStock, Stock, limits};

pub(super) fn material(at: &mut At<'_>, material: &Material) {
    at.label("name", &material.name, limits::LABEL);
    at.number("density_g_cm3", material.density_g_cm3, 0.01, 25.0);
    at.number("strength_mpa", material.strength_mpa, 0.1, 5_000.0);
}

pub(super) fn stock(at: &mut At<'_>, stock: &Stock) {
    let most = limits::STOCK;
    at.list("magnets", &stock.magnets, most, |m| m.id.as_str(), magnet);
    at.list("steel", &stock.steel, most, |s| s.id.as_str(), steel);
    for s in &stock.steel {
        if stock.magnets.iter().any(|m| m.id == s.id) {
            at.within(format_args!("steel[{}]", s.id)).twice();
        }
    }
    at.count("bits_mm", stock.bits_mm.len(), limits::LIST);
    at.each("bits_mm", stock.bits_mm.iter().copied(), 0.1, 50.0);
}

fn magnet(at: &mut At<'_>, magnet: &MagnetStock) {
    at.number("diameter_mm", magnet.diameter_mm, 0.2, 100.0);
    at.number("height_mm", magnet.height_mm, 0.2, 100.0);
    at.label("grade", &magnet.grade, limits::LABEL);
    if let Some(br_t) = magnet.br_by_hand_t {
        at.number("br_by_hand_t", br_t, 0.05, 1.6);
    }
    packs(at, &magnet.packs);
}

fn steel(at: &mut At<'_>, steel: &SteelStock) {
    at.number("diameter_mm", steel.diameter_mm, 0.05, 200.0);
    at.number("thickness_mm", steel.thickness_mm, 0.05, 200.0);
    packs(at, &steel.packs);
}

fn packs(at: &mut At<'_>, packs: &[Pack]) {
    at.count("packs", packs.len(), limits::PACKS);
    for Pack { count, price_cents } in packs {
        if *count == 0 || *count > 100_000 || *price_cents > limits::CENTS {
            at.refuse(
                "packs",
                format!("has a pack of {count} for {price_cents} cents."),
                "Give 1 to 100000 pieces and at most 100000000 cents.",
            );
        }
    }
}
