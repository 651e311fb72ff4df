//! How long it all takes, how long no order can undercut, and what is left.

use lodewright_planner::minutes;
use yew::prelude::*;

use super::progress::Progress;
use crate::format;
use crate::store::Analysis;

/// Props of [`totals`].
#[derive(PartialEq, Properties)]
pub struct TotalsProps {
    /// The answers.
    pub analysis: Analysis,
    /// How far the work is.
    pub now: Progress,
}

/// See the module.
pub fn totals(props: &TotalsProps) -> Html {
    let order = &props.analysis.order();
    let done = props.now.done.iter().filter(|d| **d).count();
    let bound = if order.shortest {
        "No order of these steps is shorter.".to_owned()
    } else if order.lower_bound_min > 0.0 {
        format!(
            "No order of these steps takes less than {}.",
            minutes(order.lower_bound_min)
        )
    } else {
        "There are too many steps to order them for time; they stand in the order of their making."
            .to_owned()
    };
    html! {
        <section class="bench-totals" aria-label="Times" data-test="bench-totals">
            <progress class="bench-progress" max={order.steps.len().to_string()} value={done.to_string()} aria-label="Steps done"></progress>
            <dl class="facts">
                <div class="fact"><dt>{ "Hands-on" }</dt><dd>{ minutes(order.hands_min) }</dd></div>
                <div class="fact"><dt>{ "With cures" }</dt><dd>{ minutes(order.total_min) }</dd></div>
                <div class="fact"><dt>{ "Hands-on left" }</dt><dd>{ minutes(props.now.hands_left_min) }</dd></div>
                <div class="fact"><dt>{ "With cures left" }</dt><dd>{ minutes(props.now.total_left_min) }</dd></div>
            </dl>
            <p class="quiet">{ bound }{ " Nights and breaks are not counted; other work goes on while glue cures." }</p>
            if props.now.strays > 0 {
                <p class="bench-strays" role="note">
                    { format!("{} no longer in the plan: it changed after they were done. Compare the model with the plan before you go on.",
                        format::count(props.now.strays, "ticked step is", "ticked steps are")) }
                </p>
            }
        </section>
    }
}
