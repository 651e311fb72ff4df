//! What is still open in the plan and should be settled before anything is glued. No web types.

use lodewright_planner::Analysis;
use lodewright_planner::joints::Reason;

use crate::format;

/// One sentence for each kind of open question; none where the plan is ready.
pub fn open_questions(analysis: &Analysis) -> Vec<String> {
    // Each joint is told of once, by what is most urgent.
    let count = |is: fn(&Reason) -> bool| {
        let first = analysis
            .in_trouble()
            .filter_map(|j| j.report.reasons.first());
        first.filter(|r| is(r)).count()
    };
    let list = [
        (
            analysis.problems().len(),
            "thing in the plan does not fit together",
            "things in the plan do not fit together",
        ),
        (
            analysis.contradictions().len(),
            "set of magnets cannot all attract",
            "sets of magnets cannot all attract",
        ),
        (
            analysis.nothing_fits().len(),
            "hole wants a magnet that no size in stock fits",
            "holes want a magnet that no size in stock fits",
        ),
        (
            count(|r| matches!(r, Reason::Repels { .. })),
            "joint repels",
            "joints repel",
        ),
        (
            count(Reason::is_of_holding),
            "joint holds less than is asked of it",
            "joints hold less than is asked of them",
        ),
        (
            count(|r| matches!(r, Reason::SnapsFirst { .. })),
            "thin part may snap before it comes off",
            "thin parts may snap before they come off",
        ),
        (
            count(|r| matches!(r, Reason::GlueOverloaded { .. })),
            "joint pulls harder on its glue than the glue may bear",
            "joints pull harder on their glue than the glue may bear",
        ),
        (
            count(|r| matches!(r, Reason::HardToPull { .. })),
            "joint is harder to pull off than is comfortable",
            "joints are harder to pull off than is comfortable",
        ),
        (
            count(|r| matches!(r, Reason::NoRoom { .. } | Reason::CannotTell)),
            "joint has a hole that cannot be drilled so",
            "joints have holes that cannot be drilled so",
        ),
        (
            count(|r| matches!(r, Reason::NotPlaced { .. })),
            "joint is not known before what it carries is placed",
            "joints are not known before what they carry is placed",
        ),
    ];
    list.into_iter()
        .filter(|(n, ..)| *n > 0)
        .map(|(n, one, many)| format!("{}.", format::count(n, one, many)))
        .collect()
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    #[test]
    fn a_target_out_of_reach_is_an_open_question() {
        let grid = "\tWinter\tSummer\nNose\tPlough\tHook".to_owned();
        let mut plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        plan.settings.hold_target_g = 0.1;
        assert_eq!(
            open_questions(&Analysis::of(plan.clone()).unwrap()),
            Vec::<String>::new()
        );
        plan.settings.hold_target_g = 1000.0;
        let said = open_questions(&Analysis::of(plan.clone()).unwrap());
        assert_eq!(said, ["2\u{a0}joints hold less than is asked of them."]);
    }
}
