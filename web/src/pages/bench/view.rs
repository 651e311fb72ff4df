//! The work order as rows of words, made once for each state of the plan. No web types but shared text.

use lodewright_planner::bench::{StepKind, Task, WorkOrder, WorkStep};
use lodewright_planner::{Analysis, Caution, minutes, mm};
use yew::AttrValue;

use crate::format;
use crate::shared::Shared;

/// The work order in words.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchView {
    /// By step.
    pub rows: Vec<RowWords>,
    /// Steps of one kind (and bit) that follow each other.
    pub runs: Vec<Run>,
    /// By step: the bit that it takes, mm.
    pub bits_mm: Vec<Option<f64>>,
    /// The cautions of the whole work; they search the magnets' fields, so they are made once.
    pub cautions: Shared<Vec<Caution>>,
}

/// One step as a row shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct RowWords {
    /// The step's key.
    pub key: AttrValue,
    /// What to do.
    pub title: AttrValue,
    /// The same below the heading of its run.
    pub short: AttrValue,
    /// Hands-on time.
    pub hands: AttrValue,
    /// The same, min.
    pub hands_min: f64,
    /// The wait after it; empty where there is none.
    pub wait: AttrValue,
    /// Whether it cannot be undone.
    pub no_return: bool,
}

/// Steps of one kind (and bit) that follow each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Index of its first step.
    pub first: usize,
    /// How many steps.
    pub count: usize,
    /// What they are: `Drill with the 5.1 mm bit`.
    pub title: AttrValue,
    /// How many, and how long: `6 holes, 24 min`.
    pub size: AttrValue,
    /// Whether none of its steps can be undone.
    pub no_return: bool,
}

impl BenchView {
    /// Words for every step.
    pub fn of(analysis: &Analysis) -> Self {
        let steps = &analysis.order().steps;
        let bits_mm: Vec<_> = steps.iter().map(|s| bit_mm(analysis, s)).collect();
        Self {
            rows: (0..).zip(steps).map(|(n, s)| row(analysis, n, s)).collect(),
            runs: runs(analysis.order(), &bits_mm),
            bits_mm,
            cautions: Shared::new(analysis.cautions()),
        }
    }
}

fn bit_mm(analysis: &Analysis, step: &WorkStep) -> Option<f64> {
    match step.task {
        Task::Drill(hole) => analysis.drill_of(hole).map(|d| d.bit_mm),
        _ => None,
    }
}

fn row(analysis: &Analysis, place: usize, step: &WorkStep) -> RowWords {
    let words = analysis.step_words(place).unwrap_or_default();
    let wait = if step.wait_min > 0.0 {
        minutes(step.wait_min)
    } else {
        String::new()
    };
    RowWords {
        key: AttrValue::from(step.key.clone()),
        title: AttrValue::from(words.title),
        short: AttrValue::from(words.short),
        hands: AttrValue::from(minutes(step.hands_min)),
        hands_min: step.hands_min,
        wait: AttrValue::from(wait),
        no_return: step.no_return,
    }
}

/// Cuts the order where the kind of step or the bit changes.
pub fn runs(order: &WorkOrder, bits_mm: &[Option<f64>]) -> Vec<Run> {
    let same = |a: usize, b: usize| {
        let kind = |i: usize| order.steps.get(i).map(|s| s.kind());
        kind(a) == kind(b) && bits_mm.get(a) == bits_mm.get(b)
    };
    let mut bounds: Vec<(usize, usize)> = Vec::new();
    for at in 0..order.steps.len() {
        match bounds.last_mut() {
            Some((first, count)) if same(*first, at) => *count += 1,
            _ => bounds.push((at, 1)),
        }
    }
    bounds
        .into_iter()
        .filter_map(|(first, count)| run(order, bits_mm, first, count))
        .collect()
}

fn run(order: &WorkOrder, bits_mm: &[Option<f64>], first: usize, count: usize) -> Option<Run> {
    let steps = order.steps.get(first..first + count)?;
    let kind = steps.first()?.kind();
    let (title, one, many) = kind_words(kind);
    let title = match bits_mm.get(first).copied().flatten() {
        Some(bit) => format!("{title} with the {} mm bit", mm(bit)),
        None => title.to_owned(),
    };
    let hands_min: f64 = steps.iter().map(|s| s.hands_min).sum();
    let size = format!(
        "{}, {}",
        format::count(count, one, many),
        minutes(hands_min)
    );
    Some(Run {
        first,
        count,
        title: AttrValue::from(title),
        size: AttrValue::from(size),
        no_return: steps.iter().all(|s| s.no_return),
    })
}

fn kind_words(kind: StepKind) -> (&'static str, &'static str, &'static str) {
    match kind {
        StepKind::Drill => ("Drill", "hole", "holes"),
        StepKind::DryFit => ("Dry fit", "variant", "variants"),
        StepKind::PoleCheck => ("Find and mark poles", "magnet", "magnets"),
        StepKind::CutPeg => ("Cut pegs off", "peg", "pegs"),
        StepKind::GluePiece => ("Glue magnets and steel in", "piece", "pieces"),
        StepKind::GlueJoint => ("Glue joints for good", "joint", "joints"),
        StepKind::Mask => ("Mask mating faces", "face", "faces"),
        StepKind::Paint => ("Paint", "piece", "pieces"),
        StepKind::FinalFit => ("Finished fit", "variant", "variants"),
        StepKind::Own => ("Own steps", "step", "steps"),
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    fn view() -> (Analysis, BenchView) {
        let grid = "\tWinter\tSummer\nNose\tPlough\tHook\nHorn\tHorn piece\tHorn piece";
        let plan = Plan::empty("t")
            .edited(&Edit::PasteGrid(grid.to_owned()))
            .unwrap();
        let analysis = Analysis::of(plan.clone()).unwrap();
        let view = BenchView::of(&analysis);
        (analysis, view)
    }

    #[test]
    fn runs_cover_every_step_once_and_change_kind_or_bit() {
        let (analysis, view) = view();
        let mut at = 0;
        for run in &view.runs {
            assert_eq!(run.first, at);
            at += run.count;
        }
        assert_eq!(at, analysis.order().steps.len());
        for pair in view.runs.windows(2) {
            assert_ne!(pair[0].title, pair[1].title);
        }
        assert!(
            view.runs
                .iter()
                .any(|r| r.title.starts_with("Drill with the ")),
            "{:?}",
            view.runs
        );
    }

    #[test]
    fn a_row_says_how_long_and_what_to_wait_for() {
        let (analysis, view) = view();
        let glue = analysis
            .order()
            .steps
            .iter()
            .position(|s| s.kind() == StepKind::GluePiece)
            .unwrap();
        assert_eq!(view.rows[glue].wait, "24 h");
        assert!(view.rows[glue].no_return);
        let drill = analysis
            .order()
            .steps
            .iter()
            .position(|s| s.kind() == StepKind::Drill)
            .unwrap();
        assert_eq!(
            (
                view.rows[drill].hands.as_str(),
                view.rows[drill].wait.as_str()
            ),
            ("4 min", "")
        );
        assert!(view.bits_mm[drill].is_some() && view.bits_mm[glue].is_none());
    }
}
