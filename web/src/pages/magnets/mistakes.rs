//! Wrong placements: which of them pull, and poles that make as many as possible push off.

use lodewright_planner::joints::{Feel, WrongPlacement};
use lodewright_planner::kit::Edit;
use yew::prelude::*;

use crate::components::Disclosure;
use crate::format;
use crate::pages::joints::names::newtons;
use crate::store::{Analysis, use_store};

/// Props of [`Mistakes`].
#[derive(PartialEq, Properties)]
pub struct MistakesProps {
    /// The answers.
    pub analysis: Analysis,
}

/// See the module.
#[component]
pub fn Mistakes(props: &MistakesProps) -> Html {
    let store = use_store();
    let found = use_memo(props.analysis.clone(), Analysis::propose_poles);
    if found.mistakes.is_empty() {
        return Html::default();
    }
    let [now, then] = found.count(Feel::Attracts);
    let take = {
        let (store, edit) = (store, Edit::Together(found.edits.clone()));
        Callback::from(move |_: MouseEvent| store.edit(edit.clone()))
    };
    let row = |(n, m): (usize, &WrongPlacement)| {
        let (pull, words) = (newtons(m.now_n), props.analysis.wrong_placement_words(m));
        html! { <li key={n}>{ format!("{} attracts with {pull}.", words.what) }{ words.why.map(|s| format!(" {s}")).unwrap_or_default() }</li> }
    };
    let pulls = |m: &&WrongPlacement| m.now() == Feel::Attracts;
    html! {
        <section class="magnet-block" aria-labelledby="mistakes-title" data-test="mistakes">
            <h2 id="mistakes-title">{ "Wrong placements" }</h2>
            <p data-test="mistakes-said">
                { format!("{} possible: a part turned round, or put in another socket that accepts it. With the present poles {now} of them would attract.", format::count(found.mistakes.len(), "wrong placement is", "wrong placements are")) }
                if then < now {
                    { format!(" Other poles would cut that to {then}; the rest repel or barely pull.") }
                    { if found.proven { " That is proven to be the most that poles can do." } else { "" } }
                } else {
                    { " No other choice of poles does better." }
                }
            </p>
            if then < now && !found.edits.is_empty() {
                <p class="actions"><button type="button" class="button" data-test="mistakes-take" onclick={take}>{ "Choose these poles" }</button></p>
            }
            if now > 0 {
                <Disclosure id="mistakes-list" title="Those that pull now" summary={format::count(now, "placement", "placements")}>
                    <ul>{ for found.mistakes.iter().filter(pulls).enumerate().map(row) }</ul>
                </Disclosure>
            }
        </section>
    }
}
