//! Wrong placements: which of them pull, and poles that make as many as possible push off.

use lodewright_planner::joints::{Feel, Mistake};
use lodewright_planner::kit::Edit;
use lodewright_planner::mistake_proof;
use yew::prelude::*;

use crate::components::Disclosure;
use crate::format;
use crate::pages::joints::names::newtons;
use crate::store::{Derived, use_store};

/// Props of [`Mistakes`].
#[derive(PartialEq, Properties)]
pub struct MistakesProps {
    /// The answers.
    pub derived: Derived,
}

/// See the module.
#[component]
pub fn Mistakes(props: &MistakesProps) -> Html {
    let store = use_store();
    let found = use_memo(props.derived.clone(), |d| {
        mistake_proof(&d.plan, &d.answers)
    });
    if found.mistakes.is_empty() {
        return Html::default();
    }
    let [now, then] = found.count(Feel::Attracts);
    let take = {
        let (store, edit) = (store, Edit::Together(found.edits.clone()));
        Callback::from(move |_: MouseEvent| store.edit(edit.clone()))
    };
    let row = |(n, m): (usize, &Mistake)| {
        let pull = newtons(m.now_n);
        html! { <li key={n}>{ format!("{} pulls on with {pull}.", m.words) }{ m.said.as_ref().map(|s| format!(" {s}")).unwrap_or_default() }</li> }
    };
    let pulls = |m: &&Mistake| m.now() == Feel::Attracts;
    html! {
        <section class="magnet-block" aria-labelledby="mistakes-title" data-test="mistakes">
            <h2 id="mistakes-title">{ "Put in the wrong way" }</h2>
            <p data-test="mistakes-said">
                { format!("A hand could try {}: a part turned round, or in another socket that it finds its way into. {now} of them pull on as the poles are now.", format::count(found.mistakes.len(), "wrong placement", "wrong placements")) }
                if then < now {
                    { format!(" With other poles only {then} would; the rest push off or feel like nothing.") }
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
