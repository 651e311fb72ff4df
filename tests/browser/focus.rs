//! The focus stays near where it was: it never falls to the page when what had it goes or is switched off.

use crate::desk::Desk;
use crate::moves::{go, mark};
use crate::screen::Screen;
use serde_json::json;

/// What has the focus, by its mark or its tag.
fn holder(desk: &Desk) -> String {
    let said = desk.evaluate(
        "(() => { const a = document.activeElement; return a.dataset.test || a.id || a.tagName; })()",
    );
    said.as_str().unwrap_or_default().to_owned()
}

/// Presses a button as a keyboard does: it has the focus.
fn press(desk: &Desk, test: &str) {
    desk.wait_for(mark(test));
    desk.evaluate(&format!(
        "document.querySelector('[data-test=\"{test}\"]').focus()"
    ));
    assert_eq!(holder(desk), test);
    desk.press("Enter");
}

fn picked(desk: &Desk) -> String {
    let said = desk.evaluate(
        "(() => { const a = document.activeElement; return a.value?.slice(a.selectionStart, a.selectionEnd) ?? ''; })()",
    );
    said.as_str().unwrap_or_default().to_owned()
}

#[test]
fn deleting_renaming_and_bringing_back_keep_the_focus_on_the_list() {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    for _ in 0..2 {
        desk.tap(mark("new-plan"));
        desk.wait_for(mark("page-grid"));
        desk.tap(mark("to-plans"));
        desk.wait_for(mark("page-plans"));
    }
    press(&desk, "rename-new-plan-2");
    desk.wait_until("the field", || holder(&desk) == "title-new-plan-2");
    assert_eq!(picked(&desk), "New plan 2");
    desk.devtools("Input.insertText", json!({ "text": "Other" }));
    desk.press("Enter");
    desk.wait_gone(mark("title-new-plan-2"));
    desk.wait_until("the focus", || holder(&desk).ends_with("new-plan-2"));
    press(&desk, "delete-new-plan-2");
    desk.wait_gone(mark("plan-new-plan-2"));
    desk.wait_until("the focus", || holder(&desk).ends_with("-new-plan"));
    press(&desk, "restore-new-plan-2");
    desk.wait_for(mark("plan-new-plan-2"));
    desk.wait_until("the focus", || holder(&desk) != "BODY");
    press(&desk, "notice-close");
    desk.wait_gone(mark("notice"));
    desk.wait_until("the focus", || holder(&desk) != "BODY");
}

#[test]
fn undoing_the_last_step_leaves_the_focus_on_redo() {
    let desk = Desk::new(Screen::TABLET);
    crate::storage::begin(&desk);
    desk.fill(mark("kit-name"), "Once");
    press(&desk, "undo");
    desk.wait_until("the focus", || holder(&desk) == "redo");
    desk.press("Enter");
    desk.wait_until("the focus", || holder(&desk) == "undo");
    // A name that is asked for comes with its text picked.
    go(&desk, "grid");
    press(&desk, "add-variant");
    desk.wait_for(mark("cell-input"));
    assert_eq!(picked(&desk), "Variant 1");
}
