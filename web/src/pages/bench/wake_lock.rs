//! Keeps the screen on while the page is in sight, where the browser can (W3C Screen Wake Lock).

use gloo::events::EventListener;
use gloo::utils::{document, window};
use js_sys::{Function, Promise, Reflect};
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::{JsCast, JsValue};
use yew::platform::spawn_local;
use yew::prelude::*;

type Lock = Rc<RefCell<Option<JsValue>>>;

/// Whether this browser can keep the screen on.
pub fn can_stay_awake() -> bool {
    wake_lock().is_some()
}

fn wake_lock() -> Option<JsValue> {
    if cfg!(not(target_arch = "wasm32")) {
        return None;
    }
    let navigator = Reflect::get(&window(), &"navigator".into()).ok()?;
    let lock = Reflect::get(&navigator, &"wakeLock".into()).ok()?;
    (!lock.is_undefined()).then_some(lock)
}

/// Keeps the screen on as long as `on` and the component live. A browser lets go when the page is out of sight, so it is
/// asked again when the page comes back.
#[hook]
pub fn use_wake_lock(on: bool) {
    use_effect_with(on, |on| {
        let lock: Lock = Rc::default();
        let listener = on.then(|| {
            take(&lock);
            let lock = Rc::clone(&lock);
            EventListener::new(&document(), "visibilitychange", move |_| {
                if !document().hidden() {
                    take(&lock);
                }
            })
        });
        move || {
            drop(listener);
            if let Some(held) = lock.borrow_mut().take() {
                call(&held, "release", None);
            }
        }
    });
}

fn take(lock: &Lock) {
    let Some(promise) = wake_lock().and_then(|w| call(&w, "request", Some("screen"))) else {
        return;
    };
    let lock = Rc::clone(lock);
    spawn_local(async move {
        // Refused, as with a low battery: the screen goes dark as usual.
        if let Ok(held) = wasm_bindgen_futures::JsFuture::from(promise).await {
            lock.replace(Some(held));
        }
    });
}

fn call(object: &JsValue, name: &str, word: Option<&str>) -> Option<Promise> {
    let function = Reflect::get(object, &name.into())
        .ok()?
        .dyn_into::<Function>()
        .ok()?;
    let answer = match word {
        Some(word) => function.call1(object, &word.into()),
        None => function.call0(object),
    };
    answer.ok()?.dyn_into::<Promise>().ok()
}
