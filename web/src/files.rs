//! Plans as files: saved by a download, opened from a file that the reader picks.

use gloo::file::{Blob, File, ObjectUrl};
use gloo::timers::callback::Timeout;
use gloo::utils::{document, window};
use lodewright_planner::kit::Plan;
use lodewright_planner::planfile::{self, Loaded};
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::HtmlElement;

use crate::store::{Action, Notice, Store};

/// A file name that every system takes, from a title.
pub fn file_name(title: &str) -> String {
    format!("{}{}", stem(title), planfile::EXTENSION)
}

/// The same without an ending.
fn stem(title: &str) -> String {
    let bad = |c: char| c.is_control() || "\\/:*?\"<>|".contains(c);
    let name: String = title
        .chars()
        .map(|c| if bad(c) { '-' } else { c })
        .take(80)
        .collect();
    match name.trim_matches(|c: char| c == '.' || c.is_whitespace()) {
        "" => "plan".to_owned(),
        name => name.to_owned(),
    }
}

/// Hands the plan to the browser as a download.
///
/// # Errors
/// Why there is no file, in words.
pub fn save_plan(plan: &Plan) -> Result<(), String> {
    let text = planfile::write(&plan.handed_on()).map_err(|e| e.to_string())?;
    save_text(&file_name(&plan.title), &text, planfile::MEDIA_TYPE)
}

/// Hands a text to the browser as a download.
///
/// # Errors
/// When the page cannot make a link.
pub fn save_text(name: &str, text: &str, media_type: &str) -> Result<(), String> {
    let failed =
        |_| "The browser did not take the file. Try again, or use another browser.".to_owned();
    let url = ObjectUrl::from(Blob::new_with_options(text, Some(media_type)));
    let link = document().create_element("a").map_err(failed)?;
    link.set_attribute("href", &url).map_err(failed)?;
    link.set_attribute("download", name).map_err(failed)?;
    link.unchecked_into::<HtmlElement>().click();
    // Some browsers read the address only after the click has been handled.
    Timeout::new(60_000, move || drop(url)).forget();
    Ok(())
}

/// Reads a picked file and adds its plan to the shelf; what is open stays as it is when the file is no plan.
pub fn open_file(store: Store, file: File) {
    read_file(store, file, |store, name, loaded| {
        let notes = loaded.notes.len();
        store.send(Action::Add(Box::new(loaded.plan)));
        store.send(Action::Tell(Notice::told(match notes {
            0 => format!("{name} is open. The file itself stays as it is."),
            1 => format!("{name} is open. One entry does not fit; the grid shows which."),
            n => format!("{name} is open. {n} entries do not fit; the grid shows which."),
        })));
    });
}

/// Reads a picked file or picture and hands its plan on; a refusal becomes a notice.
pub fn read_file(store: Store, file: File, take: impl FnOnce(&Store, &str, Loaded) + 'static) {
    yew::platform::spawn_local(async move {
        let name = file.name();
        // Before it is read: a huge file would only fill the memory.
        if file.size() > planfile::MAX_BYTES as u64 {
            let error = planfile::ReadError::TooLarge {
                bytes: usize::try_from(file.size()).unwrap_or(usize::MAX),
            };
            return refuse(&store, &name, &error.to_string());
        }
        match gloo::file::futures::read_as_bytes(&file).await {
            Ok(bytes) => match planfile::open(&bytes) {
                Ok(loaded) => take(&store, &name, loaded),
                Err(error) => refuse(&store, &name, &error.to_string()),
            },
            Err(error) => refuse(
                &store,
                &name,
                &format!("It could not be read: {error}. Pick it again."),
            ),
        }
    });
}

/// Gives a plan, as a picture that carries it, to the system's share sheet, or as a download where there is none.
///
/// # Errors
/// Why there is no picture, in words.
pub fn share_picture(plan: &Plan) -> Result<(), String> {
    const SVG: &str = "image/svg+xml";
    let svg = planfile::picture(&plan.handed_on()).map_err(|e| e.to_string())?;
    let name = format!("{}.svg", stem(&plan.title));
    let file = File::new_with_options(&name, svg.as_str(), Some(SVG), None);
    let data = js_sys::Object::new();
    let raw: &web_sys::File = file.as_ref();
    let files = js_sys::Array::of1(raw);
    // Setting a field of a plain object does not fail.
    let _ = js_sys::Reflect::set(&data, &"files".into(), &files);
    let navigator = window().navigator();
    let takes = call(&navigator, "canShare", &data).is_some_and(|answer| answer.is_truthy());
    if takes && call(&navigator, "share", &data).is_some_and(|promise| quiet(&promise)) {
        return Ok(());
    }
    save_text(&name, &svg, SVG)
}

/// Puts a text on the clipboard; whether that can be tried.
pub fn copy_text(text: &str) -> bool {
    let navigator = window().navigator();
    let clipboard = js_sys::Reflect::get(&navigator, &"clipboard".into());
    let copied = clipboard
        .ok()
        .and_then(|c| call(&c, "writeText", &text.into()));
    copied.is_some_and(|promise| quiet(&promise))
}

/// Calls a method that older browsers do not have.
fn call(on: &JsValue, method: &str, argument: &JsValue) -> Option<JsValue> {
    let found = js_sys::Reflect::get(on, &method.into()).ok()?;
    found
        .dyn_ref::<js_sys::Function>()?
        .call1(on, argument)
        .ok()
}

/// A reader who puts the sheet away is no fault, and the browser says itself what it did not allow.
fn quiet(promise: &JsValue) -> bool {
    let Some(promise) = promise.dyn_ref::<js_sys::Promise>() else {
        return false;
    };
    let settled = Closure::once_into_js(|_: JsValue| ());
    settled
        .dyn_ref::<js_sys::Function>()
        .is_some_and(|settled| call(promise, "catch", settled).is_some())
}

/// The address that carries a plan.
///
/// # Errors
/// Why there is no link, in words.
pub fn link_to(plan: &Plan) -> Result<String, String> {
    // A picture to trace over is many times longer than a link may be.
    let light = Plan {
        backdrop: None,
        ..plan.clone()
    };
    let packed = planfile::pack(&light).map_err(|e| e.to_string())?;
    let here = window().location().href().unwrap_or_default();
    let page = here.split('#').next().unwrap_or_default();
    Ok(format!("{page}#/take/{packed}"))
}

fn refuse(store: &Store, name: &str, said: &str) {
    store.send(Action::Tell(Notice::refused(format!(
        "{name} was not opened. {said}"
    ))));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn file_names_are_safe() {
        assert_eq!(file_name("Works railcar"), "Works railcar.lodewright.json");
        assert_eq!(file_name("a/b:c"), "a-b-c.lodewright.json");
        assert_eq!(file_name(" .. "), "plan.lodewright.json");
        assert!(file_name(&"long ".repeat(90)).len() < 100);
    }
}
