//! Other windows of this browser as `static/tab_lock.js` tells of them.

use wasm_bindgen::JsValue;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::prelude::wasm_bindgen;

type Listener = Closure<dyn Fn(String, String, String)>;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = lodewrightTabs, js_name = listen, catch)]
    fn js_listen(listener: &Listener) -> Result<(), JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightTabs, js_name = show, catch)]
    fn js_show(key: &str) -> Result<(), JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightTabs, js_name = take, catch)]
    fn js_take() -> Result<(), JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightTabs, js_name = give, catch)]
    fn js_give() -> Result<(), JsValue>;
    #[wasm_bindgen(js_namespace = lodewrightTabs, js_name = say, catch)]
    fn js_say(kind: &str, key: &str, text: &str) -> Result<(), JsValue>;
}

/// What is told.
#[derive(Clone, Debug, PartialEq)]
pub enum Heard {
    /// This window edits this plan.
    Edits(String),
    /// Another one does.
    Follows(String),
    /// Another one wants this plan.
    Give,
    /// Another one has written this record of a plan.
    Wrote(String, String),
}

/// Listens to other windows, as long as the answer is kept.
pub fn listen(hear: impl Fn(Heard) + 'static) -> impl Sized {
    let listener = Listener::new(move |kind: String, key: String, text: String| {
        hear(match kind.as_str() {
            "edits" => Heard::Edits(key),
            "follows" => Heard::Follows(key),
            "give" => Heard::Give,
            "wrote" => Heard::Wrote(key, text),
            _ => return,
        });
    });
    // Without the shell there are no other windows to hear of.
    let _ = js_listen(&listener);
    listener
}

/// Which plan this window shows.
pub fn show(key: Option<&str>) {
    let _ = js_show(key.unwrap_or_default());
}

/// Asks for the plan that this window shows.
pub fn take() {
    let _ = js_take();
}

/// Hands over the plan that this window shows.
pub fn give() {
    let _ = js_give();
}

/// Tells the others what was written.
pub fn say_wrote(key: &str, record: &str) {
    let _ = js_say("wrote", key, record);
}
