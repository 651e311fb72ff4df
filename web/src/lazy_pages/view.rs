//! Something that may still have to be fetched before it shows.

use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

use super::{LazyPage, PAGES, fetch};
use crate::routes::Page;
use crate::store::use_store;

/// Props of [`LazyPageView`].
#[derive(PartialEq, Properties)]
pub struct LazyPageViewProps {
    /// What shall show.
    pub what: LazyPage,
}

/// Shows this as soon as it can.
pub fn lazy_page(what: LazyPage) -> Html {
    html! { <LazyPageView {what} /> }
}

/// Shows what is asked for, or that it is on its way, or that it did not come.
#[component]
pub fn LazyPageView(props: &LazyPageViewProps) -> Html {
    let store = use_store();
    // `Some` once the fetching has ended: whether the pages came.
    let came = use_state_eq(|| PAGES.get().is_some().then_some(true));
    use_effect_with((), {
        // As this rendering saw it: pages that came since then shall bring another one.
        let (was_there, came) = (*came == Some(true), came.setter());
        move |()| {
            if !was_there {
                wait(came);
            }
        }
    });
    match PAGES.get() {
        Some(pages) => (pages.show)(&props.what, &store),
        None if *came == Some(false) => did_not_come(&props.what, came.setter()),
        None => on_its_way(&props.what),
    }
}

fn wait(came: UseStateSetter<Option<bool>>) {
    spawn_local(async move {
        let fetched = fetch().await;
        came.set(Some(fetched.is_ok()));
    });
}

fn heading(what: &LazyPage) -> Html {
    let page = match what {
        LazyPage::OfPlan(route, _) => route.page,
        LazyPage::How(_) => Page::How,
        LazyPage::Carried(_) | LazyPage::Share(_) | LazyPage::Compare(..) => {
            return Html::default();
        }
    };
    html! { <h1>{ page.title() }</h1> }
}

fn on_its_way(what: &LazyPage) -> Html {
    html! {
        <div class="late" aria-busy="true" data-test="comes">
            { heading(what) }
            <div class="shell-bar"></div>
        </div>
    }
}

fn did_not_come(what: &LazyPage, came: UseStateSetter<Option<bool>>) -> Html {
    let onclick = Callback::from(move |_: MouseEvent| {
        came.set(None);
        wait(came.clone());
    });
    html! {
        <div class="late">
            { heading(what) }
            <p role="alert">{ "This part of Lodewright is not on this device yet, and it could not be fetched. Your plans are safe. Try again when there is a network; if that does not help, reload the page." }</p>
            <p><button type="button" class="button" data-test="fetch-again" {onclick}>{ "Try again" }</button></p>
        </div>
    }
}
