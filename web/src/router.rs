//! The address as a context, kept in step with the plan that is open.

use gloo::events::EventListener;
use gloo::utils::window;
use yew::prelude::*;

use crate::address::{go, here};
use crate::routes::{Page, Route};
use crate::store::{Action, use_plan, use_store};

/// Props of [`Router`].
#[derive(PartialEq, Properties)]
pub struct RouterProps {
    /// The address at the start.
    pub start: Route,
    /// Who may read it.
    pub children: Html,
}

/// Provides the address and follows it.
#[component]
pub fn Router(props: &RouterProps) -> Html {
    let route = use_state_eq(|| props.start.clone());
    let store = use_store();
    {
        let route = route.clone();
        use_effect_with((), move |()| {
            let on_hash = EventListener::new(&window(), "hashchange", move |_| route.set(here()));
            move || drop(on_hash)
        });
    }
    let asked = route.plan.clone();
    use_effect_with(asked, move |asked| {
        if asked.is_some() {
            store.send(Action::Open(asked.clone()));
        }
    });
    let open = use_plan().map(|p| p.key);
    use_effect_with(open, |open| {
        // A plan that has just joined the shelf is shown; going to the page of all plans does not close what is open.
        let shown = here();
        let elsewhere = open.as_ref().filter(|key| shown.plan.as_ref() != Some(key));
        if let (Page::Plans, Some(key)) = (shown.page, elsewhere) {
            go(&Route::of(Page::Grid, key));
        }
    });
    html! { <ContextProvider<Route> context={(*route).clone()}>{ props.children.clone() }</ContextProvider<Route>> }
}

/// Where the reader is.
#[hook]
pub fn use_route() -> Route {
    use_context::<Route>().unwrap_or_else(Route::plans)
}
