//! Joints: which are glued, which come apart, and how those hold.

mod advice;
mod alternatives;
mod confidence;
mod curve;
mod detail;
mod drag;
mod drag_handles;
pub mod draw;
mod face;
mod fit_view;
mod force_window;
mod formula_list;
mod inputs;
mod list;
pub mod names;
#[cfg(test)]
mod page_tests;
mod pair;
mod pair_buttons;
mod plane_view;
#[cfg(test)]
pub mod samples;
mod section;
pub mod status;
pub mod stranger_list;
mod study;
mod table;
mod verdict;

use gloo::utils::document;
use lodewright_planner::JointIx;
use lodewright_planner::kit::Ix;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;
use yew::prelude::*;

use self::detail::JointDetail;
use self::list::JointList;
use self::names::find_joint;
use self::status::status;
use super::PlanPageProps;
use crate::routes::{Page, Route};
use crate::store::{Analysis, PlanKey, use_answers};

/// See the module.
#[component]
pub fn JointsPage(props: &PlanPageProps) -> Html {
    let answered = use_answers();
    use_focus_on(&props.rest);
    html! {
        <div class="joints-page" data-test="page-joints">
            <div class="page-head"><h1>{ Page::Joints.title() }</h1></div>
            { fault(answered.error.as_ref()) }
            if let Some(analysis) = answered.good {
                { body(&props.open.key, analysis, &props.rest) }
            }
        </div>
    }
}

/// What stands above old answers when the plan as it is now has none.
pub fn fault(error: Option<&AttrValue>) -> Html {
    let Some(said) = error else {
        return Html::default();
    };
    html! {
        <p class="notice-line" role="alert">{ "The plan as it is now has no answers. " }{ said }{ " Below is what it came to before." }</p>
    }
}

fn body(key: &PlanKey, analysis: Analysis, rest: &AttrValue) -> Html {
    if analysis.joints().values().is_empty() {
        return nothing_yet(key, &analysis);
    }
    let picked = find_joint(&analysis, rest);
    let shown = picked.or_else(|| most_urgent(&analysis));
    html! {
        <div class={classes!("joints", picked.map(|_| "has-choice"))}>
            <nav class="joint-list" id="joint-list" aria-label="Joints">
                <JointList plan_key={key.clone()} analysis={analysis.clone()} chosen={shown} />
            </nav>
            <div class="joint-detail">
                <p class="joint-back"><a class="button is-small" href={Route::of(Page::Joints, key).href()}>{ "All joints" }</a></p>
                if let Some(joint) = shown {
                    <JointDetail key={joint.get()} plan_key={key.clone()} {analysis} {joint} />
                }
            </div>
        </div>
    }
}

/// The joint that is shown before one is chosen.
fn most_urgent(d: &Analysis) -> Option<JointIx> {
    let stands = d.joints().values().iter().map(|j| (status(j), j.at));
    let first = stands.min_by(|(a, _), (b, _)| {
        let by_urgency = a.urgency().cmp(&b.urgency());
        by_urgency.then(a.margin_x_weight().total_cmp(&b.margin_x_weight()))
    });
    first.map(|(_, at)| at)
}

fn nothing_yet(key: &PlanKey, d: &Analysis) -> Html {
    let step = match (d.plan().sockets.is_empty(), d.plan().variants.is_empty()) {
        (true, _) => {
            "Nothing swaps yet. Name a socket in the grid: a place where parts change, such as the nose or the roof."
        }
        (false, true) => {
            "There are sockets, but no variant yet. Name the finished models that this kit shall become in the grid."
        }
        (false, false) => {
            "The grid is still empty. Say what sits in each socket, variant by variant; the joints then appear here."
        }
    };
    html! {
        <div class="empty">
            <p>{ step }</p>
            <p>{ "From that alone the planner says which joints may be glued for good and which must come apart, and how hard the magnets hold." }</p>
            <p><a class="button is-main" href={Route::of(Page::Grid, key).href()}>{ "Go to the grid" }</a></p>
        </div>
    }
}

/// On narrow screens a choice replaces the list, and the focus must not stay on what is hidden.
#[hook]
fn use_focus_on(rest: &AttrValue) {
    let first = use_mut_ref(|| true);
    use_effect_with(rest.clone(), move |rest| {
        let began = first.replace(false);
        if began || rest.is_empty() || list_is_seen() {
            return;
        }
        let title = document().get_element_by_id("joint-title");
        if let Some(title) = title.and_then(|t| t.dyn_into::<HtmlElement>().ok()) {
            // Focus only helps; a page that refuses it is still usable.
            let _ = title.focus();
            title.scroll_into_view();
        }
    });
}

fn list_is_seen() -> bool {
    document()
        .get_element_by_id("joint-list")
        .is_some_and(|list| list.client_width() > 0)
}
