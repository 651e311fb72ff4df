//! What a joint holds in each variant, as a table.

use lodewright_planner::joints::HoldCase;
use lodewright_planner::kit::Plan;
use yew::prelude::*;

use super::names::{grams, times};
use crate::format::{fixed, number};
use crate::store::Derived;

/// Props of [`HoldTable`].
#[derive(PartialEq, Properties)]
pub struct HoldTableProps {
    /// The answers.
    pub derived: Derived,
    /// Index of the joint.
    pub joint: usize,
}

/// See the module.
#[component]
pub fn HoldTable(props: &HoldTableProps) -> Html {
    let d = &props.derived;
    let Some(joint) = d.answers.joints.get(props.joint) else {
        return Html::default();
    };
    let holds = &joint.account.holds;
    if holds.is_empty() {
        return Html::default();
    }
    html! {
        <div>
        <p class="fine">{ "By variant, all tolerances at their weak end and free options at their worst" }</p>
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

fn row(d: &Derived, hold: &HoldCase) -> Html {
    let variant = d
        .plan
        .variants
        .get(hold.variant)
        .map_or("?", |v| v.name.as_str());
    let reached = if hold.reaches_target {
        ""
    } else {
        ", under target"
    };
    html! {
        <tr key={hold.variant}>
            <th scope="row">{ variant.to_owned() }</th>
            <td class="is-number">{ times(hold.margin_g) }<span class="is-bad-words">{ reached }</span></td>
            <td>{ &hold.mode_said }</td>
            <td class="is-number">{ grams(hold.mass_g) }</td>
            <td>{ notes(&d.plan, hold, d.answers.sampled.contains(&hold.variant)) }</td>
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
    let shut = (hold.stays_shut_g < hold.margin_g * 0.999).then(|| {
        format!(
            "stays fully shut up to {} \u{d7} weight",
            times(hold.stays_shut_g)
        )
    });
    let sampled = sampled.then(|| "more free options than were looked at".to_owned());
    let low = (!hold.reaches_target && plan.settings.hold_target_g > 0.0).then(|| {
        let share = hold.margin_g / plan.settings.hold_target_g * 100.0;
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
        let answers = lodewright_planner::derive(&plan).unwrap();
        let all = || answers.joints.iter().flat_map(|j| &j.account.holds);
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
