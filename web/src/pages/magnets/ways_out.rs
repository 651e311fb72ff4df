//! The cheapest ways out of all contradicting poles together, ranked; each was tried on the plan.

use lodewright_planner::joints::Remedy;
use lodewright_planner::kit::Edit;
use yew::prelude::*;

use crate::pages::joints::names::times;
use crate::store::{Analysis, use_store};

/// Props of [`WaysOut`].
#[derive(PartialEq, Properties)]
pub struct WaysOutProps {
    /// The answers.
    pub analysis: Analysis,
}

/// See the module.
#[component]
pub fn WaysOut(props: &WaysOutProps) -> Html {
    let store = use_store();
    let found = use_memo(props.analysis.clone(), Analysis::repairs);
    if found.remedies.is_empty() {
        return html! { <p>{ "No change of one of the usual kinds mends this: add a smaller disc of steel in Setup, or give one of the joints a site of its own." }</p> };
    }
    let row = |(n, r): (usize, &Remedy)| {
        let take = {
            let (store, edit) = (store.clone(), Edit::Together(r.edits.clone()));
            Callback::from(move |_: MouseEvent| store.edit(edit.clone()))
        };
        let steps = r.steps.iter().map(|s| props.analysis.remedy_step_words(s));
        let steps = steps.collect::<Vec<_>>().join(" ");
        html! {
            <li key={n} class={classes!(r.all_good.then_some("is-mending"))}>
                <span>{ steps.clone() }{ " " }<span class="quiet">{ margin_words(&props.analysis, r) }</span></span>
                <button type="button" class="button is-small" data-test={format!("way-out-{}", n + 1)} onclick={take} aria-label={format!("Do this: {steps}")}>{ "Do this" }</button>
            </li>
        }
    };
    let proven = if found.proven > 0 {
        "The first is proven to be the cheapest of the kinds of change listed here."
    } else {
        "There may be cheaper ones: the search was cut short."
    };
    html! {
        <section class="ways-out" aria-label="Ways out" data-test="ways-out">
            <h3>{ "Ways out, least trouble first" }</h3>
            <p>{ "Each mends all contradictions together and was worked through on the whole plan. " }{ proven }</p>
            <ul class="advice-list">{ for found.remedies.iter().enumerate().map(row) }</ul>
        </section>
    }
}

fn margin_words(d: &Analysis, r: &Remedy) -> String {
    let Some((margin_x_weight, joint)) = r.weakest else {
        return String::new();
    };
    let enough = if r.all_good { "enough" } else { "not enough" };
    format!(
        "{} then holds {} \u{d7} its weight, {enough}.",
        d.words_of(&joint),
        times(margin_x_weight)
    )
}
