//! Plans as files: saved by a download, opened from a file that the reader picks.

use gloo::file::{Blob, File, ObjectUrl};
use gloo::timers::callback::Timeout;
use gloo::utils::document;
use lodewright_planner::kit::Plan;
use lodewright_planner::planfile;
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

use crate::store::{Action, Notice, Store};

/// The demo plan, invented for this program.
pub fn demo() -> Result<Plan, String> {
    let text = include_str!("../../examples/demo.lodewright.json");
    planfile::read(text.as_bytes())
        .map(|loaded| loaded.plan)
        .map_err(|e| e.to_string())
}

/// A file name that every system takes, from a title.
pub fn file_name(title: &str) -> String {
    let bad = |c: char| c.is_control() || "\\/:*?\"<>|".contains(c);
    let name: String = title
        .chars()
        .map(|c| if bad(c) { '-' } else { c })
        .take(80)
        .collect();
    let name = match name.trim_matches(|c: char| c == '.' || c.is_whitespace()) {
        "" => "plan",
        name => name,
    };
    format!("{name}{}", planfile::EXTENSION)
}

/// Hands the plan to the browser as a download.
///
/// # Errors
/// Why there is no file, in words.
pub fn save_plan(plan: &Plan) -> Result<(), String> {
    let text = planfile::write(plan).map_err(|e| e.to_string())?;
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
            Ok(bytes) => take_bytes(&store, &name, &bytes),
            Err(error) => refuse(
                &store,
                &name,
                &format!("It could not be read: {error}. Pick it again."),
            ),
        }
    });
}

fn take_bytes(store: &Store, name: &str, bytes: &[u8]) {
    match planfile::read(bytes) {
        Ok(loaded) => {
            let notes = loaded.notes.len();
            store.send(Action::Add(Box::new(loaded.plan)));
            store.send(Action::Tell(Notice::told(match notes {
                0 => format!("{name} is open. The file itself stays as it is."),
                1 => format!("{name} is open. One entry does not fit; the grid shows which."),
                n => format!("{name} is open. {n} entries do not fit; the grid shows which."),
            })));
        }
        Err(error) => refuse(store, name, &error.to_string()),
    }
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

    #[test]
    fn the_demo_opens() {
        let plan = demo().unwrap();
        assert!(!plan.variants.is_empty());
    }
}
