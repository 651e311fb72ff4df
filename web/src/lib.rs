//! The browser app.

use yew::prelude::*;

/// Mounts the app into the page's `#app` element.
pub fn run() {
    if let Some(place) = gloo::utils::document().get_element_by_id("app") {
        place.set_inner_html("");
        yew::Renderer::<App>::with_root(place).render();
    }
}

#[component]
fn App() -> Html {
    html! {
        <main>
            <h1>{ "Lodewright" }</h1>
            <p>{ "The planner is being built." }</p>
        </main>
    }
}
