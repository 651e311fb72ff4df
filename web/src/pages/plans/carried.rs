//! A plan that a link carries: shown, and added only when the reader says so.

use lodewright_planner::planfile;
use yew::prelude::*;

use super::size_words;
use crate::address::go;
use crate::routes::Route;
use crate::store::{Action, Store};

/// What a link brought, and what may be done with it.
pub fn view(store: &Store, packed: &str) -> Html {
    let leave = Callback::from(|_: MouseEvent| go(&Route::plans()));
    let (words, add) = match planfile::unpack(packed) {
        Err(error) => (
            html! { <p class="field-error">{ "The link was not opened. " }{ error.to_string() }</p> },
            Html::default(),
        ),
        Ok(loaded) => {
            let wrong = match loaded.notes.len() {
                0 => String::new(),
                1 => " One entry does not fit; the grid shows which.".to_owned(),
                n => format!(" {n} entries do not fit; the grid shows which."),
            };
            let said = format!(
                "{}. From a link of {} characters.{wrong}",
                size_words(&loaded.plan),
                packed.len()
            );
            let title = loaded.plan.title.clone();
            let (store, plan) = (store.clone(), Box::new(loaded.plan));
            let onclick = Callback::from(move |_: MouseEvent| {
                go(&Route::plans());
                store.send(Action::Add(plan.clone()));
            });
            (
                html! { <><p><strong>{ title }</strong></p><p class="quiet">{ said }</p><p>{ "Opening it keeps a copy in this browser. The sender\u{2019}s plan stays as it is, whatever you change." }</p></> },
                html! { <button type="button" class="button is-main" data-test="carried-add" {onclick}>{ "Open it" }</button> },
            )
        }
    };
    html! {
        <section class="card below" aria-label="A plan from a link" data-test="carried">
            <h2>{ "A plan from a link" }</h2>
            { words }
            <div class="actions">
                { add }
                <button type="button" class="button" data-test="carried-leave" onclick={leave}>{ "Leave it" }</button>
            </div>
        </section>
    }
}
