//! What the report says for the desk: what to buy, what to drill and the steps of the work.

use lodewright_bench::{Bought, DrillLine, StepKind};
use serde::Serialize;

use super::names::Names;
use crate::FacePlace;

/// What to buy.
#[derive(Clone, Debug, Serialize)]
pub struct BuyReport {
    /// By size.
    pub lines: Vec<BuyLineReport>,
    /// Price of all, hundredths of the currency.
    pub cost_cents: u64,
}

/// One size to buy.
#[derive(Clone, Debug, Serialize)]
pub struct BuyLineReport {
    /// Id of the size.
    pub stock: String,
    /// Pieces used.
    pub used: u32,
    /// Spares on top.
    pub spares: u32,
    /// Pieces in hand.
    pub in_hand: u32,
    /// Packs.
    pub packs: Vec<Bought>,
    /// Price, hundredths of the currency.
    pub cost_cents: u64,
    /// Whether pieces are missing that no pack is known for.
    pub no_pack_known: bool,
}

/// One hole to drill.
#[derive(Clone, Debug, Serialize)]
pub struct DrillReport {
    /// The hole.
    pub hole: String,
    /// Where it is on its part; null as long as its socket is not placed.
    pub place: Option<FacePlace>,
    /// The numbers.
    #[serde(flatten)]
    pub line: DrillLine,
}

/// The work.
#[derive(Clone, Debug, Serialize)]
pub struct WorkReport {
    /// Keys of the steps in order.
    pub steps: Vec<StepReport>,
    /// Hands-on time, min.
    pub hands_min: f64,
    /// From the first step to the last cure, min.
    pub total_min: f64,
    /// No order takes less, min.
    pub lower_bound_min: f64,
    /// Whether the order is known to be the shortest.
    pub shortest: bool,
}

/// One step.
#[derive(Clone, Debug, Serialize)]
pub struct StepReport {
    /// Its key.
    pub step: String,
    /// What it is.
    pub kind: StepKind,
    /// When it begins, min.
    pub starts_min: f64,
    /// Hands-on, min.
    pub hands_min: f64,
    /// Wait after it, min.
    pub wait_min: f64,
    /// Keys of the steps before it.
    pub after: Vec<String>,
    /// Whether it cannot be undone.
    pub no_return: bool,
}

impl Names<'_> {
    pub(super) fn buy(&self) -> BuyReport {
        let lines = self.analysis.buy().lines.iter().map(|l| BuyLineReport {
            stock: self.stock(l.filling).map(|(id, _)| id).unwrap_or_default(),
            used: l.used,
            spares: l.spares,
            in_hand: l.in_hand,
            packs: l.bought.clone(),
            cost_cents: l.cost_cents,
            no_pack_known: l.no_pack_known,
        });
        BuyReport {
            lines: lines.collect(),
            cost_cents: self.analysis.buy().cost_cents,
        }
    }

    pub(super) fn drill(&self) -> Vec<DrillReport> {
        let all = self.analysis.drills().iter();
        all.map(|d| DrillReport {
            hole: self.hole(d.hole),
            place: self.analysis.hole_place(d.hole, false),
            line: d.clone(),
        })
        .collect()
    }

    pub(super) fn work(&self) -> WorkReport {
        let order = self.analysis.order();
        let steps = order
            .steps
            .iter()
            .zip(&order.starts_min)
            .map(|(s, starts_min)| StepReport {
                step: s.key.clone(),
                kind: s.kind(),
                starts_min: *starts_min,
                hands_min: s.hands_min,
                wait_min: s.wait_min,
                after: s
                    .after
                    .iter()
                    .map(|(before, _)| order.steps[*before].key.clone())
                    .collect(),
                no_return: s.no_return,
            });
        WorkReport {
            steps: steps.collect(),
            hands_min: order.hands_min,
            total_min: order.total_min,
            lower_bound_min: order.lower_bound_min,
            shortest: order.shortest,
        }
    }
}
