//! What is still open in the plan and should be settled before anything is glued. No web types.

use lodewright_planner::Answers;

use crate::format;

/// One sentence for each kind of open question; none where the plan is ready.
pub fn open_questions(answers: &Answers) -> Vec<String> {
    let weak = answers
        .joints
        .iter()
        .filter(|j| j.account.holds.iter().any(|h| !h.reaches_target));
    let snaps = answers
        .joints
        .iter()
        .filter(|j| j.account.let_go.is_some_and(|l| !l.lets_go));
    let tears = answers
        .joints
        .iter()
        .filter(|j| j.account.pairs.iter().any(|p| !p.bond_ok));
    let list = [
        (
            answers.problems.len(),
            "thing in the plan does not fit together",
            "things in the plan do not fit together",
        ),
        (
            answers.contradictions.len(),
            "set of magnets cannot all attract",
            "sets of magnets cannot all attract",
        ),
        (
            answers.nothing_fits.len(),
            "hole wants a magnet that no size in stock fits",
            "holes want a magnet that no size in stock fits",
        ),
        (
            weak.count(),
            "joint holds less than its target",
            "joints hold less than their target",
        ),
        (
            snaps.count(),
            "thin part may snap before it comes off",
            "thin parts may snap before they come off",
        ),
        (
            tears.count(),
            "joint pulls harder on its glue than the glue may bear",
            "joints pull harder on their glue than the glue may bear",
        ),
    ];
    list.into_iter()
        .filter(|(n, ..)| *n > 0)
        .map(|(n, one, many)| format!("{}.", format::count(n, one, many)))
        .collect()
}

#[cfg(test)]
mod tests {
    use lodewright_planner::derive;
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    #[test]
    fn a_target_out_of_reach_is_an_open_question() {
        let grid = "\tWinter\tSummer\nNose\tPlough\tHook".to_owned();
        let mut plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        plan.settings.hold_target_g = 0.1;
        assert_eq!(
            open_questions(&derive(&plan).unwrap()),
            Vec::<String>::new()
        );
        plan.settings.hold_target_g = 1000.0;
        let said = open_questions(&derive(&plan).unwrap());
        assert_eq!(said, ["2\u{a0}joints hold less than their target."]);
    }
}
