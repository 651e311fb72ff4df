//! For the tests of these pages: the example plans, and pages rendered to text.

use lodewright_planner::kit::Plan;
use lodewright_planner::planfile;
use yew::prelude::*;

use crate::lazy_pages;
use crate::pages;
use crate::routes::{Page, Route};
use crate::shared::Shared;
use crate::store::{AnswersProvider, AppState, Entry, StoreProvider, use_plan};

const FILES: [&str; 2] = [
    include_str!("../../../../examples/minimal.lodewright.json"),
    include_str!("../../../../examples/demo.lodewright.json"),
];

/// The minimal plan and the demo.
pub fn plans() -> Vec<Plan> {
    FILES
        .iter()
        .map(|text| planfile::read(text.as_bytes()).unwrap().plan)
        .collect()
}

/// The demo.
pub fn demo() -> Plan {
    plans().pop().unwrap()
}

#[derive(PartialEq, Properties)]
struct StageProps {
    start: Shared<AppState>,
    route: Route,
}

#[component]
fn Stage(props: &StageProps) -> Html {
    html! {
        <StoreProvider start={props.start.clone()}>
            <AnswersProvider><Shown route={props.route.clone()} /></AnswersProvider>
        </StoreProvider>
    }
}

#[derive(PartialEq, Properties)]
struct ShownProps {
    route: Route,
}

#[component]
fn Shown(props: &ShownProps) -> Html {
    pages::show(&props.route, use_plan())
}

/// A page of a plan as text. Effects do not run.
pub async fn render(plan: Plan, page: Page, rest: &str) -> String {
    lazy_pages::are_here(pages::LAZY_PAGES);
    let key = AttrValue::from("sample");
    let mut state = AppState::starting(vec![Entry::of(key.clone(), plan)]);
    state.open = Some(key.clone());
    let props = StageProps {
        start: Shared::new(state),
        route: Route::at(page, &key, rest),
    };
    yew::LocalServerRenderer::<Stage>::with_props(props)
        .hydratable(false)
        .render()
        .await
}

/// How often a test mark stands in a rendered page.
pub fn marks(page: &str, test: &str) -> usize {
    page.matches(&format!("data-test=\"{test}\"")).count()
}
