//! How the pull of two pieces falls with the gap, and what each layer between them costs.

use lodewright_kit::Plan;
use serde::Serialize;

use crate::pull::{End, Filling, GapStack, gap_at, pull_n};

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
    pub what: &'static str,
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
        .parts
        .iter()
        .map(|layer| GapCost {
            what: layer.what,
            thickness_mm: layer.thickness_mm,
            costs_n: pull((stack.gap_mm - layer.thickness_mm).max(0.0)) - now_n,
        })
        .collect()
}
