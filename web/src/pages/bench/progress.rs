//! How far the work is: which steps are ticked, which comes next, what is left. No web types.

use lodewright_planner::bench::{StepKind, WorkOrder, WorkStep};
use lodewright_planner::minutes;

use crate::format;

/// How far the work is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Progress {
    /// By step: whether it is done.
    pub done: Vec<bool>,
    /// The first step that is not. All that comes before it in time is done, since the order respects that.
    pub next: Option<usize>,
    /// The step that was ticked last.
    pub last: Option<usize>,
    /// Ticks of steps that the plan no longer has.
    pub strays: usize,
    /// Hands-on time that is left, min.
    pub hands_left_min: f64,
    /// Time with cures that is left when the rest goes as ordered, min.
    pub total_left_min: f64,
}

/// Compares the ticks with the order.
pub fn progress(
    order: &WorkOrder,
    bits_mm: &[Option<f64>],
    ticks: &[String],
    bit_change_min: f64,
) -> Progress {
    let done: Vec<bool> = order.steps.iter().map(|s| ticks.contains(&s.key)).collect();
    let place = |key: &String| order.steps.iter().position(|s| s.key == *key);
    let next = done.iter().position(|d| !d);
    let start_min = next.and_then(|n| order.starts_min.get(n)).copied();
    Progress {
        next,
        last: ticks.iter().rev().find_map(place),
        strays: ticks.iter().filter(|t| place(t).is_none()).count(),
        hands_left_min: hands_left_min(order, bits_mm, &done, bit_change_min),
        total_left_min: start_min.map_or(0.0, |s| (order.total_min - s).max(0.0)),
        done,
    }
}

/// The open steps and the changes of bit among them.
fn hands_left_min(
    order: &WorkOrder,
    bits_mm: &[Option<f64>],
    done: &[bool],
    bit_change_min: f64,
) -> f64 {
    let open = || (0..order.steps.len()).filter(|i| !done.get(*i).copied().unwrap_or(false));
    let steps: f64 = open()
        .filter_map(|i| order.steps.get(i))
        .map(|s| s.hands_min)
        .sum();
    let mut bit = None;
    let mut changes = 0.0;
    for now in open().map(|i| bits_mm.get(i).copied().flatten()) {
        if now.is_some() && now != bit {
            changes += bit_change_min;
        }
        bit = now;
    }
    steps + changes
}

/// What must have cured or dried before a step: `glue on 3 magnets or discs (24 h)`.
pub fn cured_before(order: &WorkOrder, step: &WorkStep) -> Vec<String> {
    let waited = || {
        step.after
            .iter()
            .filter(|(_, cured)| *cured)
            .filter_map(|(before, _)| order.steps.get(*before))
            .filter(|s| s.wait_min > 0.0)
    };
    let of = |kind: StepKind, words: &dyn Fn(usize) -> String| {
        let count = waited().filter(|s| s.kind() == kind).count();
        let longest = waited()
            .filter(|s| s.kind() == kind)
            .map(|s| s.wait_min)
            .fold(0.0, f64::max);
        (count > 0).then(|| format!("{} ({})", words(count), minutes(longest)))
    };
    let list = [
        of(StepKind::GluePiece, &|n| {
            format!(
                "glue on {}",
                format::count(n, "magnet or disc", "magnets or discs")
            )
        }),
        of(StepKind::GlueJoint, &|n| {
            format::count(n, "glued joint", "glued joints")
        }),
        of(StepKind::Paint, &|n| {
            format!("paint on {}", format::count(n, "piece", "pieces"))
        }),
    ];
    list.into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use lodewright_planner::bench::Task;
    use lodewright_planner::joints::HoleIx;
    use lodewright_planner::kit::{Ix, VariantIx};

    use super::*;

    fn step(key: &str, task: Task, wait_min: f64, after: &[(usize, bool)]) -> WorkStep {
        WorkStep {
            key: key.to_owned(),
            task,
            own: None,
            hands_min: 4.0,
            wait_min,
            after: after.to_vec(),
            no_return: false,
        }
    }

    fn order() -> (WorkOrder, Vec<Option<f64>>) {
        let steps = vec![
            step("a", Task::Drill(HoleIx::new(0)), 0.0, &[]),
            step("b", Task::Drill(HoleIx::new(1)), 0.0, &[]),
            step("c", Task::GluePiece(HoleIx::new(0)), 60.0, &[(0, false)]),
            step(
                "d",
                Task::FinalFit(VariantIx::new(0)),
                0.0,
                &[(1, false), (2, true)],
            ),
        ];
        let order = WorkOrder {
            steps,
            starts_min: vec![2.0, 8.0, 12.0, 76.0],
            hands_min: 20.0,
            total_min: 80.0,
            lower_bound_min: 80.0,
            shortest: true,
            ..WorkOrder::default()
        };
        (order, vec![Some(3.0), Some(5.0), None, None])
    }

    fn at(ticks: &[&str]) -> Progress {
        let (order, bits) = order();
        let ticks: Vec<String> = ticks.iter().map(|t| (*t).to_owned()).collect();
        progress(&order, &bits, &ticks, 2.0)
    }

    #[test]
    fn at_the_start_everything_is_left() {
        let now = at(&[]);
        assert_eq!((now.next, now.last, now.strays), (Some(0), None, 0));
        // Four steps of 4 min and two bits of 2 min.
        assert_eq!(now.hands_left_min, 20.0);
        assert_eq!(now.total_left_min, 78.0);
    }

    #[test]
    fn ticks_out_of_order_count_and_the_first_gap_is_next() {
        let now = at(&["a", "c"]);
        assert_eq!((now.next, now.last), (Some(1), Some(2)));
        assert_eq!(now.hands_left_min, 10.0);
        assert_eq!(now.total_left_min, 72.0);
    }

    #[test]
    fn ticks_of_steps_that_went_are_counted_apart() {
        let now = at(&["gone", "a", "b", "c", "d", "gone too"]);
        assert_eq!((now.next, now.last, now.strays), (None, Some(3), 2));
        assert_eq!((now.hands_left_min, now.total_left_min), (0.0, 0.0));
    }

    #[test]
    fn only_what_must_cure_is_named() {
        let (order, _) = order();
        assert_eq!(
            cured_before(&order, &order.steps[3]),
            ["glue on 1\u{a0}magnet or disc (1 h)"]
        );
        assert!(cured_before(&order, &order.steps[2]).is_empty());
    }
}
