//! New versions of the app as `static/offline.js` tells of them.

use wasm_bindgen::JsValue;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::prelude::wasm_bindgen;

type Listener = Closure<dyn Fn(String)>;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = lodewrightOffline, js_name = listen, catch)]
    fn js_listen(listener: &Listener) -> Result<(), JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightOffline, js_name = take, catch)]
    fn js_take() -> Result<(), JsValue>;
}

/// What is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Told {
    /// A new version lies ready.
    Ready,
    /// It cannot be taken while other windows are open.
    Others,
}

/// Listens, as long as the answer is kept.
pub fn listen(hear: impl Fn(Told) + 'static) -> impl Sized {
    let listener = Listener::new(move |kind: String| match kind.as_str() {
        "ready" => hear(Told::Ready),
        "others" => hear(Told::Others),
        _ => {}
    });
    // Without the shell there are no new versions.
    let _ = js_listen(&listener);
    listener
}

/// Takes the new version: the page is loaded anew.
pub fn take() {
    let _ = js_take();
}
