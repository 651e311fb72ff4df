//! The grid filled quickly: cells copied along by keys and by taps, columns filled like others, names changed in place, usual
//! joints laid out.

use crate::desk::Desk;
use crate::moves::mark;
use crate::screen::Screen;
use serde_json::json;

fn begin(desk: &Desk) {
    desk.open("");
    desk.tap(mark("new-plan"));
    desk.wait_for(mark("page-grid"));
    desk.tap(mark("paste-grid"));
    desk.fill(
        mark("paste-text"),
        "\tWinter\tWorks\tSummer\nNose\tPlough\t\t\nRoof\tRack\t\t\n",
    );
    desk.tap(mark("paste-take"));
    desk.wait_text(mark("cell-nose/winter"), "Plough");
}

#[test]
fn cells_and_columns_are_copied_along() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.tap(mark("cell-nose/winter"));
    desk.tap(mark("cell-onward"));
    desk.wait_text(mark("cell-nose/works"), "Plough");
    desk.tap(mark("cell-onward"));
    desk.wait_text(mark("cell-nose/summer"), "Plough");
    // A column like another, in one step of undo.
    desk.tap(mark("cell-*/summer"));
    desk.tap(mark("column-winter"));
    desk.wait_text(mark("cell-roof/summer"), "Rack");
    desk.tap(mark("undo"));
    desk.wait_text(mark("cell-roof/summer"), "nothing");
    assert!(desk.text(mark("cell-nose/summer")).contains("Plough"));
    // By keys: Shift and an arrow.
    desk.tap(mark("cell-roof/winter"));
    desk.evaluate(
        "document.activeElement.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', shiftKey: true, bubbles: true, cancelable: true })), true",
    );
    desk.wait_text(mark("cell-roof/works"), "Rack");
    assert_eq!(
        desk.evaluate("document.activeElement.dataset.cell"),
        json!("roof/works")
    );
}

#[test]
fn names_change_where_they_stand() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.tap(mark("cell-nose/*"));
    desk.tap(mark("cell-nose/*"));
    desk.fill(mark("cell-input"), "Bow");
    desk.wait_text(mark("cell-nose/*"), "Bow");
    desk.tap(mark("cell-*/works"));
    desk.tap(mark("cell-*/works"));
    desk.fill(mark("cell-input"), "Track gang");
    desk.wait_text(mark("cell-*/works"), "Track gang");
}

#[test]
fn a_usual_joint_is_laid_out_by_one_tap() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.tap(mark("cell-nose/*"));
    desk.tap(mark("preset-nose-tool"));
    desk.wait_until("the socket to go to the front", || {
        desk.property(mark("dock-socket-face"), "value") == "front"
    });
    desk.tap(mark("undo"));
    desk.wait_until("the socket to go back", || {
        desk.property(mark("dock-socket-face"), "value") == "top"
    });
    // A block is no wall: that is said, and nothing is laid out.
    desk.tap(mark("preset-locker"));
    desk.wait_until("why there are no lockers", || {
        desk.text(mark("preset-error")).contains("on a thin wall")
    });
    assert_eq!(desk.property(mark("dock-socket-face"), "value"), "top");
}
