//! The frame of the app: landmarks, the page in the middle, and where the focus goes when the page changes.

use gloo::utils::{document, window};
use wasm_bindgen_futures::spawn_local;
use web_sys::HtmlElement;
use yew::prelude::*;

use super::banner::Banner;
use super::focus::FocusKeeper;
use super::header::Header;
use super::hotkeys::Hotkeys;
use super::navigation::Navigation;
use super::notices::Notices;
use crate::lazy_pages;
use crate::pages;
use crate::router::use_route;
use crate::routes::Page;
use crate::store::use_plan;

/// See the module.
#[component]
pub fn Shell() -> Html {
    let route = use_route();
    let open = use_plan();
    let main = use_node_ref();
    let title = open
        .as_ref()
        .filter(|_| route.plan.is_some())
        .map(|o| o.plan.title.clone());
    use_effect_with((route.page, title), |(page, title)| {
        let plan = title
            .as_ref()
            .map(|t| format!(" \u{2013} {t}"))
            .unwrap_or_default();
        document().set_title(&format!("{}{plan} \u{2013} Lodewright", page.title()));
    });
    // Once this page stands, the others are made ready: a tap shall not wait for them.
    use_effect_with((), |()| {
        spawn_local(async {
            // Where they don't come now, the page that needs them says so and tries again.
            let _ = lazy_pages::fetch().await;
        });
    });
    let first = use_mut_ref(|| true);
    {
        let main = main.clone();
        let subject = (route.page == Page::How).then(|| route.rest.clone());
        use_effect_with((route.page, subject), move |(_, subject)| {
            // Not at the start: the reader has not moved yet.
            if !first.replace(false) {
                focus_start(&main);
            }
            if let Some(subject) = subject {
                pages::how::go_to(subject);
            }
        });
    }
    // On the page of all plans nothing says which plan the bar would be of.
    let has_pages = open.is_some() && route.page != Page::Plans;
    html! {
        <div class={classes!("shell-grid", has_pages.then_some("has-pages"))}>
            { skip_link() }
            <Header of_plan={route.plan.is_some()} />
            if has_pages {
                <Navigation page={route.page} />
            }
            <main ref={main} id="main" tabindex="-1" class={format!("page page-{}", route.page.word())}>
                <Banner page={route.page} />
                { pages::show(&route, open) }
            </main>
            <Notices />
            <Hotkeys />
            <FocusKeeper />
        </div>
    }
}

fn focus_start(main: &NodeRef) {
    if let Some(main) = main.cast::<HtmlElement>() {
        // Focus only helps; a page that refuses it is still usable.
        let _ = main.focus();
    }
    window().scroll_to_with_x_and_y(0.0, 0.0);
}

/// A link to `#main` would be read as an address of the app, so this is a button.
fn skip_link() -> Html {
    let onclick = Callback::from(|_: MouseEvent| {
        let main = document().get_element_by_id("main");
        if let Some(main) = main.and_then(|m| wasm_bindgen::JsCast::dyn_into::<HtmlElement>(m).ok())
        {
            let _ = main.focus();
        }
    });
    html! { <button type="button" class="skip" {onclick}>{ "Skip to the page" }</button> }
}
