//! The weakest joint of every variant.

use lodewright_planner::Answers;
use lodewright_planner::kit::Plan;
use yew::prelude::*;

use crate::format;
use crate::pages::joints::names::times;

/// One variant's weakest joint in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WeakestRow {
    /// The variant.
    pub variant: String,
    /// The joint; empty where the variant has none that could open.
    pub joint: String,
    /// `4.2 g`.
    pub margin: String,
    /// Whether the target is reached.
    pub reached: bool,
    /// What happens then.
    pub said: String,
}

/// By variant.
pub fn weakest_rows(plan: &Plan, answers: &Answers) -> Vec<WeakestRow> {
    let row = |(v, variant): (usize, &lodewright_planner::kit::Variant)| {
        let name = variant.name.clone();
        let weakest = answers.weakest.get(v).copied().flatten();
        let joint = weakest.and_then(|w| answers.joints.get(w.joint));
        let case = joint.and_then(|j| j.account.holds.iter().find(|h| h.variant == v));
        match (weakest, joint, case) {
            (Some(weakest), Some(joint), Some(case)) => WeakestRow {
                variant: name,
                joint: joint.words.clone(),
                margin: format!("{} \u{d7}", times(weakest.margin_g)),
                reached: case.reaches_target,
                said: case.mode_said.clone(),
            },
            _ => WeakestRow {
                variant: name,
                joint: String::new(),
                margin: String::new(),
                reached: true,
                said: String::new(),
            },
        }
    };
    plan.variants.iter().enumerate().map(row).collect()
}

/// See the module.
pub fn table(plan: &Plan, answers: &Answers) -> Html {
    if plan.variants.is_empty() {
        return Html::default();
    }
    let target = format::number(plan.settings.hold_target_g);
    html! {
        <section>
            <h2>{ "Weakest joint of each variant" }</h2>
            <table>
                <thead>
                    <tr><th scope="col">{ "Variant" }</th><th scope="col">{ "Joint" }</th><th scope="col">{ "Holds" }</th><th scope="col">{ "How it gives way" }</th></tr>
                </thead>
                <tbody>
                    { for weakest_rows(plan, answers).into_iter().map(row) }
                </tbody>
            </table>
            <p class="sheet-small">{ format!("In multiples of the carried weight, in the worst direction, all tolerances at their weak end; the target is {target}.") }</p>
        </section>
    }
}

fn row(row: WeakestRow) -> Html {
    html! {
        <tr key={row.variant.clone()}>
            <th scope="row">{ &row.variant }</th>
            if row.joint.is_empty() {
                <td colspan="3">{ "nothing that could open" }</td>
            } else {
                <td>{ &row.joint }</td>
                <td class="sheet-number">{ &row.margin }if !row.reached { <strong>{ " too little" }</strong> }</td>
                <td>{ &row.said }</td>
            }
        </tr>
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::derive;
    use lodewright_planner::kit::Edit;

    use super::*;

    #[test]
    fn every_variant_has_a_row_and_a_missed_target_shows() {
        let grid = "\tWinter\tSummer\tBare\nNose\tPlough\tHook\t-".to_owned();
        let mut plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        plan.settings.hold_target_g = 1000.0;
        let rows = weakest_rows(&plan, &derive(&plan).unwrap());
        let names: Vec<_> = rows
            .iter()
            .map(|r| (r.variant.as_str(), r.joint.as_str(), r.reached))
            .collect();
        assert_eq!(
            names,
            [
                ("Winter", "Plough in Nose", false),
                ("Summer", "Hook in Nose", false),
                ("Bare", "", true)
            ]
        );
        assert!(rows[0].margin.ends_with(" \u{d7}"));
    }
}
