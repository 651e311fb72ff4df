//! The variants in the report, what may be glued for all of them, and the changes from one to another.

use lodewright_kit::{Ix, VariantIx};
use serde::Serialize;

use super::names::Names;
use crate::cost::VariantCost;
use crate::swaps::Swap;

/// One variant.
#[derive(Clone, Debug, Serialize)]
pub struct VariantReport {
    /// Its id.
    pub variant: String,
    /// Its legal models.
    pub legal_models: Option<u128>,
    /// Whether its free options were too many to look at each for the margins.
    pub sampled: bool,
    /// Its weakest joint, as in `joints[].joint`.
    pub weakest_joint: Option<String>,
    /// Margin of that joint, multiples of the weight.
    pub weakest_margin_x_weight: Option<f64>,
    /// What exists only because of the variant.
    pub only_for_it: VariantCost,
}

/// Glue or separate.
#[derive(Clone, Debug, Serialize)]
pub struct GlueReport {
    /// Parts that become one piece.
    pub groups: Vec<Vec<String>>,
    /// Joints that may be glued for good.
    pub glued_joints: Vec<String>,
    /// Joints that must come apart.
    pub separable_joints: Vec<String>,
    /// Parts that no variant uses.
    pub idle_parts: Vec<String>,
}

/// A change of variant.
#[derive(Clone, Debug, Serialize)]
pub struct SwapReport {
    /// Id of the variant now.
    pub from: String,
    /// Id of the variant then.
    pub to: String,
    /// What to do.
    #[serde(flatten)]
    pub swap: Swap,
}

impl Names<'_> {
    pub(super) fn variants(&self) -> Vec<VariantReport> {
        let a = self.analysis;
        let costs = a.variant_costs();
        VariantIx::all(&self.plan.variants)
            .map(|v| {
                let weakest = a.weakest(v);
                VariantReport {
                    variant: self.variant(v),
                    legal_models: a.models_of(v),
                    sampled: a.sampled().contains(&v),
                    weakest_joint: weakest.map(|w| self.joint(a.board().joints[w.joint])),
                    weakest_margin_x_weight: weakest.map(|w| w.margin_x_weight),
                    only_for_it: costs[v],
                }
            })
            .collect()
    }

    pub(super) fn glue(&self) -> GlueReport {
        let a = self.analysis;
        let joints = |separable: bool| {
            let list = a.joints().values().iter();
            list.filter(|j| j.separable.is_some() == separable)
                .map(|j| self.joint(j.joint))
                .collect()
        };
        GlueReport {
            groups: a.glue().groups.iter().map(|g| self.parts(g)).collect(),
            glued_joints: joints(false),
            separable_joints: joints(true),
            idle_parts: self.parts(&a.glue().idle),
        }
    }

    pub(super) fn swaps(&self) -> Vec<SwapReport> {
        let all = || VariantIx::all(&self.plan.variants);
        let pairs = all()
            .flat_map(|from| all().map(move |to| (from, to)))
            .filter(|(from, to)| from != to);
        pairs
            .filter_map(|(from, to)| {
                Some(SwapReport {
                    from: self.variant(from),
                    to: self.variant(to),
                    swap: self.analysis.swap(from, to)?,
                })
            })
            .collect()
    }
}
