//! What is typed and not yet part of the plan: it outlives a reload, a closed window and a killed browser, and stands in its field again.

use crate::desk::Desk;
use crate::moves::{go, mark};
use crate::screen::Screen;
use crate::storage::{begin, newest};
use std::time::Duration;

const NOTE: &str = "Half a sentence about the";

/// Kills the browser half a second from now, as said of what is typed, and starts it anew on the page of all plans.
fn killed(desk: Desk, profile: &std::path::Path) -> Desk {
    let killer = desk.kill_after(Duration::from_millis(500));
    killer.join().expect("the kill");
    desk.bury();
    let desk = Desk::with_profile(Screen::TABLET, profile);
    desk.open("");
    desk.wait_for(mark("plan-list"));
    desk
}

#[test]
fn a_note_that_is_being_typed_outlives_a_kill_and_is_taken_when_its_field_is_left() {
    let profile = tempfile::tempdir().unwrap();
    let desk = Desk::with_profile(Screen::TABLET, profile.path());
    begin(&desk);
    desk.wait_text(mark("save-state"), "Stored here at");
    desk.type_into(mark("plan-note"), NOTE);
    let desk = killed(desk, profile.path());
    desk.tap(mark("open-new-plan"));
    desk.wait_for(mark("page-grid"));
    desk.wait_text(mark("save-state"), "with what you are typing");
    go(&desk, "setup");
    assert_eq!(desk.text(mark("plan-note")), NOTE);
    desk.type_into(mark("plan-note"), "");
    desk.evaluate("document.activeElement.blur()");
    desk.wait_until("the plan", || newest(&desk).contains(NOTE));
    desk.wait_until("no draft", || {
        !desk.text(mark("save-state")).contains("typing")
    });
    desk.reload();
    desk.wait_until("the note", || desk.text(mark("plan-note")) == NOTE);
    assert!(
        !desk.has(crate::find::css("[data-draft]")),
        "no draft any more"
    );
}

#[test]
fn half_a_cell_outlives_a_kill_and_is_typed_on() {
    let profile = tempfile::tempdir().unwrap();
    let desk = Desk::with_profile(Screen::TABLET, profile.path());
    begin(&desk);
    go(&desk, "grid");
    for add in ["add-socket", "add-variant"] {
        desk.tap(mark(add));
        desk.wait_for(mark("cell-input"));
        desk.press("Enter");
        desk.wait_gone(mark("cell-input"));
    }
    let cell = mark("cell-socket-1/variant-1");
    desk.tap(cell.clone());
    desk.tap(cell.clone());
    desk.type_into(mark("cell-input"), "Snow pl");
    let desk = killed(desk, profile.path());
    desk.tap(mark("open-new-plan"));
    desk.wait_until("the cell", || {
        desk.has(mark("cell-input")) && desk.text(mark("cell-input")) == "Snow pl"
    });
    desk.devtools("Input.insertText", serde_json::json!({ "text": "ough" }));
    desk.press("Enter");
    desk.wait_text(cell, "Snow plough");
    desk.reload();
    desk.wait_for(mark("page-grid"));
    assert!(!desk.has(mark("cell-input")));
}

#[test]
fn what_is_typed_outlives_a_reload_and_what_is_taken_back_does_not() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.type_into(mark("kit-name"), "Lemons");
    // At once: nobody waits for the writing.
    desk.reload();
    desk.wait_until("the draft", || desk.text(mark("kit-name")) == "Lemons");
    // Another plan has a field of the same name.
    desk.tap(mark("to-plans"));
    desk.tap(mark("copy-new-plan"));
    desk.tap(mark("open-new-plan-2"));
    desk.wait_for(mark("page-grid"));
    go(&desk, "setup");
    assert_eq!(desk.text(mark("kit-name")), "");
    desk.tap(mark("to-plans"));
    desk.tap(mark("open-new-plan"));
    desk.wait_for(mark("page-grid"));
    go(&desk, "setup");
    desk.tap(mark("kit-name"));
    assert_eq!(desk.text(mark("kit-name")), "Lemons");
    desk.press("Escape");
    desk.reload();
    desk.wait_for(mark("page-setup"));
    assert_eq!(desk.text(mark("kit-name")), "");
}

#[test]
fn a_refused_number_is_kept_beside_its_plan() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true; }), true");
    let field = "document.querySelector('[data-test=\"page-setup\"] input[inputmode=decimal]')";
    let id = desk.evaluate(&format!("{field}.id"));
    let id = id.as_str().expect("a number in the setup").to_owned();
    desk.fill(mark(&id), "as much as it takes");
    desk.reload();
    desk.wait_for(mark("page-setup"));
    let typed = format!("document.getElementById('{id}').value");
    assert_eq!(desk.evaluate(&typed), "as much as it takes");
}
