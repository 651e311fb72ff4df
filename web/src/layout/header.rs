//! Above every page: which plan, whether it is kept, undo and redo.

use yew::prelude::*;

use crate::clock::time_of_day;
use crate::components::{Shape, icon};
use crate::routes::{Page, Route};
use crate::store::{
    Action, SaveState, use_history, use_plan, use_save_state, use_store, use_typing,
};

/// Props of [`Header`].
#[derive(PartialEq, Properties)]
pub struct HeaderProps {
    /// Whether the page is about a plan.
    pub of_plan: bool,
}

/// See the module.
#[component]
pub fn Header(props: &HeaderProps) -> Html {
    let plan = use_plan().filter(|_| props.of_plan);
    let words = use_history();
    let store = use_store();
    let undo = store.clone();
    html! {
        <header class="top">
            <a class="top-back" href={Route::plans().href()} data-test="to-plans" aria-label="Lodewright, all plans">
                if plan.is_some() {
                    { icon(Shape::Back) }
                }
                <span class="brand">{ "Lodewright" }</span>
            </a>
            <div class="top-plan">
                if let Some(open) = &plan {
                    <p class="top-title" data-test="plan-title"><a href={Route::of(Page::Setup, &open.key).href()} title="Change the title in Setup">{ &open.plan.title }</a></p>
                }
                <SaveWords of_plan={plan.is_some()} />
            </div>
            if plan.is_some() {
                <div class="top-actions">
                    { step("undo", "Undo", Shape::Undo, words.undo, Callback::from(move |_| undo.send(Action::Undo))) }
                    { step("redo", "Redo", Shape::Redo, words.redo, Callback::from(move |_| store.send(Action::Redo))) }
                </div>
            }
        </header>
    }
}

fn step(
    test: &'static str,
    word: &str,
    shape: Shape,
    what: Option<&str>,
    onclick: Callback<MouseEvent>,
) -> Html {
    let label = what.map_or_else(
        || format!("Nothing to {}", word.to_lowercase()),
        |w| format!("{word}: {w}"),
    );
    html! {
        <button type="button" class="top-step" data-test={test} disabled={what.is_none()} title={label.clone()} aria-label={label} {onclick}>
            { icon(shape) }
            <span class="top-step-word" aria-hidden="true">{ word }</span>
            if let Some(what) = what {
                <span class="top-step-what" aria-hidden="true">{ what }</span>
            }
        </button>
    }
}

/// Whether the plan is kept, in words.
#[component]
fn SaveWords(props: &HeaderProps) -> Html {
    let state = use_save_state();
    // What is typed is kept apart from the plan until its field is left.
    let typing = if use_typing() {
        ", with what you are typing"
    } else {
        ""
    };
    // On the page of all plans only a failure matters.
    if !props.of_plan && !matches!(state, SaveState::Failed(_)) {
        return Html::default();
    }
    let (class, words) = match &state {
        SaveState::Idle => ("", AttrValue::from("Stored here")),
        SaveState::Pending => ("", AttrValue::from("Storing\u{2026}")),
        SaveState::Kept(at_ms) => (
            "",
            AttrValue::from(format!("Stored here at {}{typing}", time_of_day(*at_ms))),
        ),
        SaveState::Half(at_ms, said) => (
            "",
            AttrValue::from(format!(
                "Stored here at {}{typing}, but a crash of the browser may lose the last minute. {said}",
                time_of_day(*at_ms)
            )),
        ),
        SaveState::Failed(said) => ("is-failed", AttrValue::from(format!("Not stored. {said}"))),
    };
    let role = matches!(state, SaveState::Failed(_)).then_some("alert");
    html! { <p class={classes!("save-state", class)} data-test="save-state" {role}>{ words }</p> }
}
