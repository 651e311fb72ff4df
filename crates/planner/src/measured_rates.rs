//! What the builder's own clock says of the rates.

use lodewright_bench::StepKind;
use lodewright_kit::Rates;
use tiny_sort::stable::sort_by;

use crate::Analysis;

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

/// Kinds whose steps have one rate each. Painting goes by the part and a group is
/// one step, so its clock says nothing of a part.
const KINDS: [(StepKind, &str, Field); 7] = [
    (StepKind::Drill, "A hole", |r| &mut r.hole_min),
    (StepKind::DryFit, "A dry fit", |r| &mut r.dry_fit_min),
    (StepKind::PoleCheck, "A pole found", |r| {
        &mut r.pole_check_min
    }),
    (StepKind::CutPeg, "A peg cut", |r| &mut r.cut_peg_min),
    (StepKind::GluePiece, "A piece glued", |r| {
        &mut r.glue_magnet_min
    }),
    (StepKind::GlueJoint, "A joint glued", |r| {
        &mut r.glue_joint_min
    }),
    (StepKind::Mask, "A face masked", |r| &mut r.mask_min),
];

impl Analysis {
    /// By kind: what was timed of the steps that there are; kinds that were not are left out.
    pub fn timed(&self) -> Vec<Timed> {
        let plan = self.plan();
        let mut rates = plan.rates.clone();
        let kind_of = |key: &str| {
            let step = self.order().steps.iter().find(|s| s.key == key)?;
            Some(step.kind())
        };
        let marks = plan.progress.marks.iter();
        let took: Vec<(StepKind, f64)> = marks
            .filter_map(|m| Some((kind_of(&m.step)?, m.took_min?)))
            .collect();
        let timed = |(kind, what, field): &(StepKind, &'static str, Field)| {
            let mine = took.iter().filter(|(k, _)| k == kind);
            let mut mine: Vec<f64> = mine.map(|(_, min)| *min).collect();
            sort_by(&mut mine, f64::total_cmp);
            let (count, half) = (mine.len(), mine.len() / 2);
            let median_min = match count {
                0 => return None,
                n if n % 2 == 1 => mine[half],
                _ => f64::midpoint(mine[half - 1], mine[half]),
            };
            Some(Timed {
                kind: *kind,
                what,
                count,
                median_min,
                rate_min: *field(&mut rates),
            })
        };
        KINDS.iter().filter_map(timed).collect()
    }

    /// The rates with what was timed taken in, to whole tenths of a minute.
    pub fn rates_as_timed(&self) -> Rates {
        let mut rates = self.plan().rates.clone();
        for t in self.timed() {
            if let Some((.., field)) = KINDS.iter().find(|(kind, ..)| *kind == t.kind) {
                *field(&mut rates) = (t.median_min * 10.0).round() / 10.0;
            }
        }
        rates
    }
}

#[cfg(test)]
mod tests {
    use lodewright_kit::{Edit, Mark, Plan};

    use super::*;

    #[test]
    fn the_median_of_what_was_timed_is_taken() {
        let grid = Edit::PasteGrid("\tA\tB\nNose\tPlough\tHook\nTail\tLamp\tHook 2\n".to_owned());
        let mut plan = Plan::empty("t").edited(&grid).unwrap();
        let before = Analysis::of(plan.clone()).unwrap();
        let drills: Vec<_> = before
            .order()
            .steps
            .iter()
            .filter(|s| s.kind() == StepKind::Drill)
            .collect();
        for (step, took_min) in drills.iter().zip([3.0, 9.0, 4.04, 5.0]) {
            plan.progress.marks.push(Mark {
                step: step.key.clone(),
                at_s: None,
                took_min: Some(took_min),
            });
        }
        let timed = Analysis::of(plan.clone()).unwrap();
        let list = timed.timed();
        assert_eq!(
            (list.len(), list[0].count, list[0].median_min),
            (1, 4, 4.52)
        );
        assert_eq!(timed.rates_as_timed().hole_min, 4.5);
        assert_eq!(timed.rates_as_timed().mask_min, plan.rates.mask_min);
    }
}
