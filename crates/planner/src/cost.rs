//! What each variant costs: the joints and pieces that exist only because of it.

use lodewright_assembly::{Board, glue_answer};
use lodewright_joints::{Filling, Context, choose};
use lodewright_kit::Plan;
use serde::Serialize;

/// What one variant adds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct VariantCost {
    /// Joints that must come apart only because of it (with those that only it has).
    pub joints: usize,
    /// Magnets that only it needs.
    pub magnets: usize,
    /// Pieces of steel that only it needs.
    pub steel: usize,
}

/// By variant: the plan as it is, less the plan without the variant. Empty for a plan that has no answers.
pub fn variant_costs(plan: &Plan) -> Vec<VariantCost> {
    let Some(all) = counts(plan) else {
        return Vec::new();
    };
    (0..plan.variants.len())
        .map(|v| {
            let mut without = plan.clone();
            without.variants.remove(v);
            let rest = counts(&without).unwrap_or_default();
            let more = |f: fn(&Counts) -> usize| f(&all).saturating_sub(f(&rest));
            VariantCost {
                joints: more(|c| c.joints),
                magnets: more(|c| c.magnets),
                steel: more(|c| c.steel),
            }
        })
        .collect()
}

#[derive(Default)]
struct Counts {
    joints: usize,
    magnets: usize,
    steel: usize,
}

fn counts(plan: &Plan) -> Option<Counts> {
    let board = Board::of(plan).ok()?;
    let glue = glue_answer(&board);
    let fillings = initial_sizes(&Context::of(&board, &glue)).fillings;
    let count = |f: fn(&Filling) -> bool| fillings.iter().filter(|x| f(x)).count();
    Some(Counts {
        joints: glue.separable.iter().flatten().count(),
        magnets: count(|f| matches!(f, Filling::Magnet(_))),
        steel: count(|f| matches!(f, Filling::Steel(_))),
    })
}
