//! What each variant costs: the joints and pieces that exist only because of it.

use lodewright_joints::Filling;
use lodewright_kit::{CheckedPlan, Ix, Table, VariantIx};
use serde::Serialize;

use crate::Analysis;

/// What one variant adds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct VariantCost {
    /// Joints that must come apart only because of it (with those that only it has).
    pub joints: usize,
    /// Magnets that only it needs.
    pub magnets: usize,
    /// Pieces of steel that only it needs.
    pub steel: usize,
}

impl Analysis {
    /// What each variant adds: the plan as it is, less the plan without the variant.
    pub fn variant_costs(&self) -> Table<VariantIx, VariantCost> {
        let all = self.counts();
        let cost = |variant: VariantIx, _: &_| {
            let mut without = (**self.plan()).clone();
            without.variants.remove(variant.get());
            let rest = CheckedPlan::of(without).map(|p| Self::from(p).counts());
            let rest = rest.unwrap_or_default();
            let more = |of: fn(&VariantCost) -> usize| of(&all).saturating_sub(of(&rest));
            VariantCost {
                joints: more(|c| c.joints),
                magnets: more(|c| c.magnets),
                steel: more(|c| c.steel),
            }
        };
        Table::of(&self.plan().variants, cost)
    }

    fn counts(&self) -> VariantCost {
        let fillings = self.fillings().values().iter();
        VariantCost {
            joints: self.glue().separable.values().iter().flatten().count(),
            magnets: self.magnets(),
            steel: fillings.filter(|f| matches!(f, Filling::Steel(_))).count(),
        }
    }
}
