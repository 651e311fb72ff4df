//! One module a page. A page takes the open plan as a prop, reads the store and passes narrow props down.

mod bench;
mod compare;
mod grid;
pub mod how;
mod joints;
mod kept_apart;
mod magnets;
mod parts;
mod plan_page;
mod plans;
mod presets;
mod print;
mod setup;
mod sketch;
mod swap;

pub use plan_page::PlanPageProps;
pub use plans::demo;

use yew::prelude::*;

use crate::lazy_pages::{LazyPage, Pages, lazy_page};
use crate::routes::{Page, Route};
use crate::store::{OpenPlan, Store};

/// The page that an address asks for. Keyed by the plan, so that nothing of one plan stays on another's page.
pub fn show(route: &Route, open: Option<OpenPlan>) -> Html {
    match (route.page, &route.plan, open) {
        (Page::Plans, ..) => html! { <plans::PlansPage carried={route.rest.clone()} /> },
        (Page::How, ..) => lazy_page(LazyPage::How(route.rest.clone())),
        (Page::Lost, ..) => lost(),
        (_, Some(asked), Some(open)) if open.key == *asked => {
            lazy_page(LazyPage::OfPlan(route.clone(), open))
        }
        // The store has not opened it yet: the next render has it.
        (_, Some(_), Some(_)) => Html::default(),
        _ => plans::no_plan(),
    }
}

/// What comes with the pages: all but the page of all plans.
pub const LAZY_PAGES: Pages = Pages {
    show: show_lazy,
    demo,
};

fn show_lazy(what: &LazyPage, store: &Store) -> Html {
    match what {
        LazyPage::OfPlan(route, open) => of_plan(route, open.clone()),
        LazyPage::How(subject) => how::show(subject),
        LazyPage::Carried(packed) => plans::carried(store, packed),
        LazyPage::Share(open) => plans::share(store, &open.key, &open.plan),
        LazyPage::Compare(open, shelf) => plans::compare(open, shelf),
    }
}

fn of_plan(route: &Route, open: OpenPlan) -> Html {
    let key = open.key.to_string();
    let rest = route.rest.clone();
    match route.page {
        Page::Grid => html! { <grid::GridPage {key} {open} {rest} /> },
        Page::Sketch => html! { <sketch::SketchPage {key} {open} {rest} /> },
        Page::Parts => html! { <parts::PartsPage {key} {open} {rest} /> },
        Page::Joints => html! { <joints::JointsPage {key} {open} {rest} /> },
        Page::Magnets => html! { <magnets::MagnetsPage {key} {open} {rest} /> },
        Page::Bench => html! { <bench::BenchPage {key} {open} {rest} /> },
        Page::Swap => html! { <swap::SwapPage {key} {open} {rest} /> },
        Page::Compare => html! { <compare::ComparePage {key} {open} {rest} /> },
        Page::Print => html! { <print::PrintPage {key} {open} {rest} /> },
        Page::Setup => html! { <setup::SetupPage {key} {open} {rest} /> },
        Page::Plans | Page::How | Page::Lost => lost(),
    }
}

fn lost() -> Html {
    html! {
        <>
            <h1>{ Page::Lost.title() }</h1>
            <p>{ "The address leads nowhere." }</p>
            <p><a class="button" href={Route::plans().href()}>{ Page::Plans.title() }</a></p>
        </>
    }
}
