//! Every page renders the demo plan: one heading, the marks that tests click on, nothing that the content policy forbids.
#![cfg(not(target_arch = "wasm32"))]

use lodewright_planner::kit::Plan;
use lodewright_web::cuts;
use lodewright_web::layout::Shell;
use lodewright_web::pages::demo;
use lodewright_web::router::Router;
use lodewright_web::routes::{Page, Route};
use lodewright_web::shared::Shared;
use lodewright_web::store::{AnswersProvider, AppState, Entry, StoreProvider};
use yew::prelude::*;

#[derive(Clone, PartialEq, Properties)]
struct Start {
    state: Shared<AppState>,
    route: Route,
}

#[component]
fn Probe(props: &Start) -> Html {
    html! {
        <StoreProvider start={props.state.clone()}>
            <AnswersProvider>
                <Router start={props.route.clone()}><Shell /></Router>
            </AnswersProvider>
        </StoreProvider>
    }
}

/// The app as text at an address, with these plans on the shelf.
async fn at(route: Route, plans: &[(&str, Plan)]) -> String {
    let entry =
        |(key, plan): &(&str, Plan)| Entry::of(AttrValue::from((*key).to_owned()), plan.clone());
    let mut state = AppState::starting(plans.iter().map(entry).collect());
    state.open.clone_from(&route.plan);
    let start = Start {
        state: Shared::new(state),
        route,
    };
    cuts::begin();
    let renderer = yew::LocalServerRenderer::<Probe>::with_props(start);
    renderer.hydratable(false).render().await
}

async fn page_of_the_demo(page: Page, rest: &str) -> String {
    let route = Route::at(page, &AttrValue::from("demo"), rest);
    match demo() {
        Ok(plan) => at(route, &[("demo", plan)]).await,
        Err(said) => said,
    }
}

/// Papers with prices that no shop asks say so, and only those.
#[tokio::test]
async fn invented_prices_are_called_invented() {
    let route = Route::at(Page::Print, &AttrValue::from("demo"), "");
    for invented in [true, false] {
        let mut plan = demo().unwrap();
        plan.stock.prices_invented = invented;
        let page = at(route.clone(), &[("demo", plan)]).await;
        assert!(page.contains("To buy"));
        assert_eq!(
            page.contains("prices of magnets and steel are invented"),
            invented
        );
    }
}

/// What shows while the app loads is what the first page then says, so that a reader need not begin anew.
#[tokio::test]
async fn the_shell_says_where_plans_are_stored_as_the_first_page_does() {
    let shell = include_str!("../index.html");
    let lines = shell.lines().map(str::trim);
    let said = lines
        .filter_map(|l| l.strip_prefix("<p>")?.strip_suffix("</p>"))
        .find(|l| l.starts_with("Plans are stored"));
    let said = said.expect("a line about where plans are stored");
    assert!(at(Route::plans(), &[]).await.contains(said), "{said}");
}

fn check_frame(page: Page, html: &str) {
    assert_eq!(html.matches("<h1").count(), 1, "{page:?} has one heading");
    assert!(!html.contains(" style=\""), "{page:?} has no inline style");
    for landmark in ["<header", "<nav", "<main"] {
        assert!(html.contains(landmark), "{page:?} has {landmark}");
    }
    let mark = format!("data-test=\"page-{}\"", page.word());
    assert!(html.contains(&mark), "{page:?} has {mark}");
}

#[tokio::test]
async fn every_page_of_the_demo_renders() {
    for page in Page::OF_A_PLAN {
        check_frame(page, &page_of_the_demo(page, "").await);
    }
}

/// The same for a plan that was just begun: no page may count on anything being there.
#[tokio::test]
async fn every_page_of_an_empty_plan_renders() {
    for page in Page::OF_A_PLAN {
        let route = Route::of(page, &AttrValue::from("new"));
        check_frame(page, &at(route, &[("new", Plan::empty("New plan"))]).await);
    }
}

#[tokio::test]
async fn the_grid_shows_every_socket_and_variant() {
    let plan = demo().unwrap();
    let html = page_of_the_demo(Page::Grid, "").await;
    for socket in &plan.sockets {
        assert!(html.contains(&format!("data-cell=\"{}/*\"", socket.id)));
        for variant in &plan.variants {
            assert!(html.contains(&format!("data-cell=\"{}/{}\"", socket.id, variant.id)));
        }
    }
    assert_eq!(
        html.matches("tabindex=\"0\"").count(),
        1,
        "the keyboard enters by one cell"
    );
}

#[tokio::test]
async fn every_part_and_socket_of_the_demo_has_its_form() {
    let plan = demo().unwrap();
    for part in &plan.parts {
        let html = page_of_the_demo(Page::Parts, &format!("part/{}", part.id)).await;
        assert!(html.contains("data-test=\"part-form\""), "{}", part.id);
    }
    for socket in &plan.sockets {
        let html = page_of_the_demo(Page::Parts, &format!("socket/{}", socket.id)).await;
        assert!(html.contains("data-test=\"socket-form\""), "{}", socket.id);
    }
}

#[tokio::test]
async fn the_shelf_lists_plans_and_teaches_when_it_is_empty() {
    let empty = at(Route::plans(), &[]).await;
    assert!(empty.contains("Name the variants"));
    let one = at(Route::plans(), &[("a", Plan::empty("Crane <b>car</b>"))]).await;
    assert!(one.contains("data-test=\"plan-a\"") && !one.contains("Name the variants"));
    assert!(one.contains("Crane &lt;b&gt;car"), "titles are text");
}

#[tokio::test]
async fn a_plan_that_is_not_here_says_so() {
    let html = at(Route::of(Page::Grid, &AttrValue::from("gone")), &[]).await;
    assert!(html.contains("This plan is not here"));
}

/// Two controls of one id would share a label and a test mark.
#[tokio::test]
async fn ids_are_unique_on_every_page() {
    for page in Page::OF_A_PLAN {
        let html = page_of_the_demo(page, "").await;
        let mut ids: Vec<&str> = html
            .split(" id=\"")
            .skip(1)
            .filter_map(|s| s.split('"').next())
            .collect();
        ids.sort_unstable();
        let twice: Vec<_> = ids.windows(2).filter(|w| w[0] == w[1]).collect();
        assert!(twice.is_empty(), "{page:?}: {twice:?}");
    }
}

#[tokio::test]
async fn how_the_numbers_are_made_is_told_with_and_without_a_plan() {
    let none = at(Route::how("hold"), &[]).await;
    let one = at(Route::how(""), &[("demo", demo().unwrap())]).await;
    for html in [none, one] {
        assert!(html.contains("data-test=\"page-how\"") && html.contains("id=\"how-hold\""));
        assert_eq!(html.matches("<h1").count(), 1);
        for link in html.split("href=\"#/how/").skip(1) {
            let id = link.split('"').next().unwrap();
            assert!(
                html.contains(&format!("<h2 id=\"how-{id}\"")),
                "{id} leads nowhere"
            );
        }
    }
}
