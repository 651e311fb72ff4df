//! A plan on its way to somebody: as a picture that carries it, or as a link that does.

use lodewright_planner::kit::Plan;
use lodewright_planner::planfile::MAX_LINK;
use yew::prelude::*;

use crate::files;
use crate::store::{Action, Notice, PlanKey, Store};

/// What is offered below a plan.
pub fn view(store: &Store, key: &PlanKey, plan: &Plan) -> Html {
    html! {
        <>
            <p>{ "The picture shows the grid and carries the whole plan: opened here as a file, it is the plan again. Programs that redraw pictures take the plan out." }</p>
            <div class="actions">
                <button type="button" class="button is-small is-main" data-test="share-picture" onclick={picture(store, key)}>{ "Share as a picture" }</button>
            </div>
            { link(store, plan) }
        </>
    }
}

fn link(store: &Store, plan: &Plan) -> Html {
    let link = match files::link_to(plan) {
        Ok(link) => link,
        Err(said) => return html! { <p class="field-error" data-test="link-refused">{ said }</p> },
    };
    let size = format!("{} characters; a link has at most {MAX_LINK}", link.len());
    let onclick = {
        let (store, link) = (store.clone(), link.clone());
        Callback::from(move |_: MouseEvent| {
            let notice = if files::copy_text(&link) {
                Notice::told("The link is copied. Whoever opens it is asked before a copy is kept.")
            } else {
                Notice::refused(
                    "This browser does not let pages copy. Pick the link out of its field and copy it there.",
                )
            };
            store.send(Action::Tell(notice));
        })
    };
    html! {
        <div class="carry">
            <label class="field-label" for="plan-link">{ "Link that carries the plan" }</label>
            <input id="plan-link" type="text" readonly=true value={link} aria-describedby="plan-link-size" />
            <p class="quiet" id="plan-link-size" data-test="link-size">{ size }{ ". Nothing is sent to a server: the plan is the part behind #. A picture to trace over stays behind." }</p>
            <div class="actions"><button type="button" class="button is-small" data-test="copy-link" {onclick}>{ "Copy the link" }</button></div>
        </div>
    }
}

fn picture(store: &Store, key: &PlanKey) -> Callback<MouseEvent> {
    let (store, key) = (store.clone(), key.clone());
    Callback::from(move |_| {
        let plan = store.read(|s| {
            s.entry(&key)
                .and_then(|e| e.track())
                .map(|t| t.plan.clone())
        });
        if let Some(Err(said)) = plan.map(|plan| files::share_picture(&plan)) {
            store.send(Action::Tell(Notice::refused(said)));
        }
    })
}
