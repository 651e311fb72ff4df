//! How the pull of two pieces falls with the gap, and what each layer between them costs.

use lodewright_field::plate_attraction_n;
use lodewright_kit::Plan;
use serde::Serialize;

use crate::pull::{End, Filling, GapLayer, GapStack, gap_at, material, pull_n};

/// A point of a curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CurvePoint {
    /// Gap between the pieces, mm.
    pub gap_mm: f64,
    /// Pull at the low end of the grade, warm, N.
    pub weak_n: f64,
    /// Pull at the high end of the grade, 20 °C, N.
    pub strong_n: f64,
}

/// What one layer costs.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct GapCost {
    /// The layer.
    pub layer: GapLayer,
    /// How thick, mm.
    pub thickness_mm: f64,
    /// Pull that would be gained without it, N (weak end).
    pub costs_n: f64,
}

/// Pull of two pieces on one axis at evenly spread gaps from contact to `to_mm`, without the gap tolerance.
pub fn force_curve(
    plan: &Plan,
    a: Filling,
    b: Filling,
    to_mm: f64,
    points: usize,
) -> Vec<CurvePoint> {
    let steps = points.max(2) - 1;
    let at = |gap_mm, end| pull_n(plan, a, b, gap_mm, 0.0, end).unwrap_or(0.0);
    (0..=steps)
        .map(|i| to_mm.max(0.0) * i as f64 / steps as f64)
        .map(|gap_mm| CurvePoint {
            gap_mm,
            weak_n: at(gap_mm, End::Weak),
            strong_n: at(gap_mm, End::Strong),
        })
        .collect()
}

/// What each layer of a gap stack costs: the pull at the weak end without it, less that with it. The costs do not add
/// up, since the first tenths of a millimetre cost most.
pub fn gap_costs(plan: &Plan, a: Filling, b: Filling, stack: &GapStack) -> Vec<GapCost> {
    let pull = |gap_mm: f64| {
        pull_n(plan, a, b, gap_at(plan, gap_mm, End::Weak), 0.0, End::Weak).unwrap_or(0.0)
    };
    let now_n = pull(stack.gap_mm);
    stack
        .layers
        .iter()
        .map(|layer| GapCost {
            layer: layer.layer,
            thickness_mm: layer.thickness_mm,
            costs_n: pull((stack.gap_mm - layer.thickness_mm).max(0.0)) - now_n,
        })
        .collect()
}

/// How much of the pull on a thick wide steel plate the steel of this pair gives at the weak end, from 0 to 1; `None`
/// where the pair is not a magnet and a piece of steel. A disc no wider than its magnet gives little: the flux has
/// nowhere to go back.
pub fn keeper_share(plan: &Plan, a: Filling, b: Filling, nominal_gap_mm: f64) -> Option<f64> {
    let (magnet, steel) = match (a, b) {
        (Filling::Magnet(m), Filling::Steel(_)) => (m, b),
        (Filling::Steel(_), Filling::Magnet(m)) => (m, a),
        _ => return None,
    };
    let stock = &plan.stock.magnets[magnet];
    let magnet_part = material(plan, stock, End::Weak);
    let disc = magnet_part.remanent().ok()?;
    let gap_mm = gap_at(plan, nominal_gap_mm, End::Weak);
    let plate_gap_mm = gap_mm + magnet_part.plating_mm;
    let plate_n = plate_attraction_n(&disc, plate_gap_mm, magnet_part.recoil_mu_r)
        .ok()
        .filter(|n| *n > 0.0)?;
    let here_n = pull_n(plan, Filling::Magnet(magnet), steel, gap_mm, 0.0, End::Weak).ok()?;
    Some(here_n / plate_n)
}

#[cfg(test)]
mod tests {
    use lodewright_kit::{Ix, MagnetIx, SteelIx};

    use super::*;

    /// Finite-element figures of this project (tests/reference/steel_fem.csv): a keeper of the magnet's own diameter
    /// gives 0.13 to 0.54 of the plate value at contact.
    #[test]
    fn a_keeper_of_the_magnets_own_diameter_is_poor() {
        let mut plan = Plan::empty("t");
        let five_by_two = Filling::Magnet(MagnetIx::new(4));
        plan.settings.gap_tolerance_mm = 0.0;
        plan.stock.steel[0].diameter_mm = 5.0;
        plan.stock.steel[2].diameter_mm = 15.0;
        plan.stock.steel[2].thickness_mm = 2.0;
        let narrow =
            keeper_share(&plan, five_by_two, Filling::Steel(SteelIx::new(0)), 0.0).unwrap();
        let wide = keeper_share(&plan, Filling::Steel(SteelIx::new(2)), five_by_two, 0.0).unwrap();
        assert!(
            (0.1..0.6).contains(&narrow) && wide > 0.7 && wide <= 1.0,
            "{narrow} {wide}"
        );
        assert_eq!(keeper_share(&plan, five_by_two, five_by_two, 0.0), None);
    }
}
