//! What a joint holds in each variant, as a table.

use lodewright_planner::joints::HoldCase;
use lodewright_planner::kit::{Ix, Plan};
use lodewright_planner::{JointIx, gives_way_words};
use yew::prelude::*;

use super::names::{grams, times};
use crate::format::{fixed, number};
use crate::store::Analysis;

/// Props of [`HoldTable`].
#[derive(PartialEq, Properties)]
pub struct HoldTableProps {
    /// The answers.
    pub analysis: Analysis,
    /// The joint.
    pub joint: JointIx,
}

/// See the module.
#[component]
pub fn HoldTable(props: &HoldTableProps) -> Html {
    let d = &props.analysis;
    let Some(joint) = d.joints().get(props.joint) else {
        return Html::default();
    };
    let holds = &joint.report.holds;
    if holds.is_empty() {
        return Html::default();
    }
    html! {
        <div>
        <p class="fine">{ "By variant, all tolerances at their weak end and free choices at their worst" }</p>
        <div class="scroll" tabindex="0" role="group" aria-label="By variant">
        <table class="figures is-wide" data-test="hold-table">
            <caption class="visually-hidden">{ "By variant" }</caption>
            <thead><tr>
                <th scope="col">{ "Variant" }</th>
                <th scope="col" class="is-number">{ "Holds, \u{d7} weight" }</th>
                <th scope="col">{ "Gives way" }</th>
                <th scope="col" class="is-number">{ "Carries" }</th>
                <th scope="col">{ "Notes" }</th>
            </tr></thead>
            <tbody>{ for holds.iter().map(|h| row(d, h)) }</tbody>
        </table>
        </div>
        </div>
    }
}

fn row(d: &Analysis, hold: &HoldCase) -> Html {
    let variant = &d.plan().variants[hold.variant].name;
    let reached = if hold.reaches_target {
        ""
    } else {
        ", under target"
    };
    html! {
        <tr key={hold.variant.get()}>
            <th scope="row">{ variant.to_owned() }</th>
            <td class="is-number">{ times(hold.margin_x_weight) }<span class="is-bad-words">{ reached }</span></td>
            <td>{ gives_way_words(hold.gives_way) }</td>
            <td class="is-number">{ grams(hold.mass_g) }</td>
            <td>{ notes(d.plan(), hold, d.sampled().contains(&hold.variant)) }</td>
        </tr>
    }
}

/// What else there is to know about a case.
fn notes(plan: &Plan, hold: &HoldCase, sampled: bool) -> String {
    let lifted = hold.lifted.then(|| "the model hangs by it".to_owned());
    let guessed = hold.guessed.then(|| "a mass is guessed".to_owned());
    let droop = hold
        .droop_deg
        .map(|deg| format!("droops by up to {}\u{b0}", fixed(deg, 1)));
    let shut = (hold.stays_closed_x_weight < hold.margin_x_weight * 0.999).then(|| {
        format!(
            "stays fully closed up to {} \u{d7} weight",
            times(hold.stays_closed_x_weight)
        )
    });
    let sampled = sampled.then(|| "more free choices than were looked at".to_owned());
    let low = (!hold.reaches_target && plan.settings.hold_target_g > 0.0).then(|| {
        let share = hold.margin_x_weight / plan.settings.hold_target_g * 100.0;
        format!("{}\u{a0}% of the target", number(share.floor()))
    });
    let all: Vec<_> = [low, lifted, guessed, droop, shut, sampled]
        .into_iter()
        .flatten()
        .collect();
    all.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn lifting_and_guesses_are_said() {
        let plan = samples::demo();
        let answers = Analysis::of(plan.clone()).unwrap();
        let all = || {
            answers
                .joints()
                .values()
                .iter()
                .flat_map(|j| &j.report.holds)
        };
        let lifted = all().find(|h| h.lifted).unwrap();
        assert!(notes(&plan, lifted, false).contains("hangs by it"));
        for hold in all() {
            let said = notes(&plan, hold, false);
            assert_eq!(said.contains("guessed"), hold.guessed, "{said}");
            assert_eq!(
                said.contains("of the target"),
                !hold.reaches_target,
                "{said}"
            );
        }
        assert!(notes(&plan, lifted, true).contains("looked at"));
    }
}
