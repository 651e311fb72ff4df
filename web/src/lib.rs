//! The browser app of Lodewright: a grid to enter, answers to read, everything computed by the core.
//!
//! `README.md` beside this crate says what lives in which folder.

pub mod address;
pub mod app;
pub mod clock;
pub mod components;
pub mod cuts;
pub mod files;
pub mod format;
pub mod layout;
pub mod lazy_pages;
pub mod pages;
pub mod projection;
pub mod router;
pub mod routes;
pub mod shared;
pub mod storage;
pub mod store;
pub mod table_file;
pub mod worker;

use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen]
extern "C" {
    /// The shell's own note, which works without the app.
    #[wasm_bindgen(js_name = lodewrightCrashed, catch)]
    fn crashed(detail: &str) -> Result<(), wasm_bindgen::JsValue>;
}

/// Mounts the app into the page's `#app` element.
pub fn run() {
    // The same wasm runs in the worker, which has no page and is called by its script.
    if web_sys::window().is_none() {
        return;
    }
    // After a panic nothing in the app can be trusted: the shell takes over. Plans are already stored.
    yew::set_custom_panic_hook(Box::new(|info| {
        let _ = crashed(&info.to_string());
    }));
    cuts::begin();
    if let Some(place) = gloo::utils::document().get_element_by_id("app") {
        if address::here() != routes::Route::plans() {
            // Beside the reading of the plans; what does not come is asked for again by the page, which says so.
            yew::platform::spawn_local(async {
                let _ = lazy_pages::fetch().await;
            });
        }
        yew::platform::spawn_local(async move {
            let start = shared::Shared::new(storage::begin().await);
            place.replace_children_with_node_0();
            yew::Renderer::<app::App>::with_root_and_props(place, app::AppProps { start }).render();
        });
    }
}
