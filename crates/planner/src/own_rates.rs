//! What the builder's own clock says of the rates.

use lodewright_bench::StepKind;
use lodewright_kit::{Plan, Rates};
use tiny_sort::stable::sort_by;

/// What was timed of one kind of step.
#[derive(Clone, Debug, PartialEq)]
pub struct Timed {
    /// The kind.
    pub kind: StepKind,
    /// `A hole`.
    pub what: &'static str,
    /// How many steps were timed.
    pub count: usize,
    /// Their median, min.
    pub median_min: f64,
    /// What the plan counts with, min.
    pub rate_min: f64,
}

type Field = fn(&mut Rates) -> &mut f64;

/// Kinds whose steps have one rate each, with the word that their keys begin with. Painting goes by the part and a group is
/// one step, so its clock says nothing of a part.
const KINDS: [(StepKind, &str, &str, Field); 7] = [
    (StepKind::Drill, "drill:", "A hole", |r| &mut r.hole_min),
    (StepKind::DryFit, "dry-fit:", "A dry fit", |r| {
        &mut r.dry_fit_min
    }),
    (StepKind::PoleCheck, "pole:", "A pole found", |r| {
        &mut r.pole_check_min
    }),
    (StepKind::CutPeg, "cut-peg:", "A peg cut", |r| {
        &mut r.cut_peg_min
    }),
    (StepKind::GluePiece, "glue:", "A piece glued", |r| {
        &mut r.glue_magnet_min
    }),
    (StepKind::GlueJoint, "join:", "A joint glued", |r| {
        &mut r.glue_joint_min
    }),
    (StepKind::Mask, "mask:", "A face masked", |r| {
        &mut r.mask_min
    }),
];

/// By kind: what was timed; kinds that were not are left out.
pub fn timed(plan: &Plan) -> Vec<Timed> {
    let mut rates = plan.rates.clone();
    KINDS
        .iter()
        .filter_map(|(kind, begins, what, field)| {
            let mut took: Vec<f64> = plan
                .progress
                .marks
                .iter()
                .filter(|m| m.step.starts_with(begins))
                .filter_map(|m| m.took_min)
                .collect();
            sort_by(&mut took, f64::total_cmp);
            let (count, half) = (took.len(), took.len() / 2);
            let median_min = match count {
                0 => return None,
                n if n % 2 == 1 => took[half],
                _ => f64::midpoint(took[half - 1], took[half]),
            };
            Some(Timed {
                kind: *kind,
                what,
                count,
                median_min,
                rate_min: *field(&mut rates),
            })
        })
        .collect()
}

/// The rates with what was timed taken in, to whole tenths of a minute.
pub fn rates_as_timed(plan: &Plan) -> Rates {
    let mut rates = plan.rates.clone();
    for t in timed(plan) {
        if let Some((.., field)) = KINDS.iter().find(|(kind, ..)| *kind == t.kind) {
            *field(&mut rates) = (t.median_min * 10.0).round() / 10.0;
        }
    }
    rates
}

#[cfg(test)]
mod tests {
    use lodewright_kit::Mark;

    use super::*;

    #[test]
    fn the_median_of_what_was_timed_is_taken() {
        let mut plan = Plan::empty("t");
        for (n, took_min) in [3.0, 9.0, 4.04, 5.0].into_iter().enumerate() {
            plan.progress.marks.push(Mark {
                step: format!("drill:a:{n}"),
                at_s: None,
                took_min: Some(took_min),
            });
        }
        let list = timed(&plan);
        assert_eq!(
            (list.len(), list[0].count, list[0].median_min),
            (1, 4, 4.52)
        );
        assert_eq!(rates_as_timed(&plan).hole_min, 4.5);
        assert_eq!(rates_as_timed(&plan).mask_min, plan.rates.mask_min);
    }
}
