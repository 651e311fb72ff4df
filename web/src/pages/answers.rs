//! The pages that show computed answers. Each shows its heading and, until its answer is there, says so.

use yew::prelude::*;

use super::PlanPageProps;
use crate::routes::{Page, Route};

macro_rules! answer_page {
    ($name:ident, $page:expr, $test:literal) => {
        #[doc = concat!("The page of the same name; marked `", $test, "` for tests.")]
        #[component]
        pub fn $name(props: &PlanPageProps) -> Html {
            pending($page, $test, props)
        }
    };
}

answer_page!(JointsPage, Page::Joints, "page-joints");
answer_page!(MagnetsPage, Page::Magnets, "page-magnets");
answer_page!(BenchPage, Page::Bench, "page-bench");
answer_page!(SwapPage, Page::Swap, "page-swap");
answer_page!(PrintPage, Page::Print, "page-print");

fn pending(page: Page, test: &'static str, props: &PlanPageProps) -> Html {
    html! {
        <div data-test={test}>
            <h1>{ page.title() }</h1>
            <p class="empty">
                { "This page is not made yet. " }
                <a href={Route::of(Page::Grid, &props.open.key).href()}>{ "Back to the grid" }</a>
            </p>
        </div>
    }
}
