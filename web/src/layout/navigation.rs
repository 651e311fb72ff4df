//! The pages of the open plan: a rail at the left on a wide screen, a bar at the bottom else.

use yew::prelude::*;

use crate::components::{Shape, icon};
use crate::routes::{Page, Route};
use crate::store::{PlanKey, use_plan};

/// Those that a narrow bar keeps under "More".
const EXTRA: [Page; 6] = [
    Page::Parts,
    Page::Magnets,
    Page::Swap,
    Page::Compare,
    Page::Print,
    Page::Setup,
];

/// Props of [`Navigation`].
#[derive(PartialEq, Properties)]
pub struct NavigationProps {
    /// The page that is shown.
    pub page: Page,
}

/// See the module.
#[component]
pub fn Navigation(props: &NavigationProps) -> Html {
    let more = use_state_eq(|| false);
    let Some(open) = use_plan() else {
        return Html::default();
    };
    let toggle = {
        let more = more.clone();
        Callback::from(move |_: MouseEvent| more.set(!*more))
    };
    let close = {
        let more = more.clone();
        Callback::from(move |_: MouseEvent| more.set(false))
    };
    let extra_here = EXTRA.contains(&props.page);
    html! {
        <nav class={classes!("pages", more.then_some("is-more"))} aria-label="Pages of this plan">
            <ul>
                { for Page::OF_A_PLAN.into_iter().map(|page| entry(page, props.page, &open.key, &close)) }
                <li class="pages-more">
                    <button type="button" data-test="nav-more" aria-expanded={more.to_string()}
                        class={classes!(extra_here.then_some("is-here"))} onclick={toggle}>
                        { icon(Shape::More) }<span>{ "More" }</span>
                    </button>
                </li>
            </ul>
        </nav>
    }
}

fn entry(page: Page, here: Page, key: &PlanKey, close: &Callback<MouseEvent>) -> Html {
    let extra = EXTRA.contains(&page).then_some("pages-extra");
    html! {
        <li key={page.word()} class={classes!(extra)}>
            <a href={Route::of(page, key).href()} data-test={format!("nav-{}", page.word())} onclick={close.clone()}
                aria-current={(page == here).then_some("page")}>
                { icon(Shape::Page(page)) }<span>{ page.title() }</span>
            </a>
        </li>
    }
}
