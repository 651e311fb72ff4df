//! The whole job as three people do it, by touch alone: a first kit, a commission for a client, a friend who only looks. A picture
//! is left at every stop, to be looked at as someone would who sees the app for the first time.

use crate::desk::Desk;
use crate::find::{css, named, role};
use crate::moves::{go, mark};
use crate::screen::Screen;
use serde_json::json;
use std::time::Duration;

/// Adds a row or column and names it in place.
fn add(desk: &Desk, what: &str, name: &str) {
    desk.tap(mark(&format!("add-{what}")));
    desk.fill(mark("cell-input"), name);
    desk.wait_gone(mark("cell-input"));
}

fn count(desk: &Desk, selector: &str) -> u64 {
    let counted = desk.evaluate(&format!("document.querySelectorAll('{selector}').length"));
    counted.as_u64().unwrap_or_default()
}

/// Leaves pictures of the page from its top, one screenful after another, `most` at most.
fn look(desk: &Desk, stop: &str, most: u32) {
    for n in 0..most {
        let more = desk.evaluate(&format!(
            "scrollTo(0, {n} * (innerHeight - 120)), {n} === 0 || scrollY > ({n} - 0.5) * (innerHeight - 120)"
        ));
        if more != json!(true) {
            return;
        }
        desk.screenshot(&format!("walk-{stop}-{n}"));
    }
}

/// A builder with a first kit: two variants, a roof that swaps and a plough that is there in one of them only.
#[test]
fn a_first_kit_from_nothing_to_the_bench() {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.wait_for(mark("new-plan"));
    look(&desk, "first-1-empty", 1);
    desk.tap(mark("new-plan"));
    desk.wait_for(mark("page-grid"));
    look(&desk, "first-2-grid", 1);
    add(&desk, "socket", "Roof");
    add(&desk, "socket", "Nose");
    add(&desk, "variant", "Summer");
    add(&desk, "variant", "Winter");
    look(&desk, "first-3-names", 1);
    for (cell, part) in [
        ("socket-1/variant-1", "Rack"),
        ("socket-1/variant-2", "Lamps"),
        ("socket-2/variant-2", "Plough"),
    ] {
        desk.tap(mark(&format!("cell-{cell}")));
        desk.fill(mark("cell-find"), part);
        desk.tap(mark("cell-new-part"));
        desk.wait_text(mark(&format!("cell-{cell}")), part);
    }
    look(&desk, "first-4-filled", 1);
    // Where the joints are: a usual place for the nose.
    desk.tap(mark("cell-socket-2/*"));
    desk.tap(mark("preset-nose-tool"));
    desk.wait_until("the nose at the front", || {
        desk.property(mark("dock-socket-face"), "value") == "front"
    });
    look(&desk, "first-5-place", 1);
    go(&desk, "sketch");
    look(&desk, "first-6-sketch", 1);
    go(&desk, "parts");
    look(&desk, "first-7-parts", 2);
    go(&desk, "joints");
    desk.wait_text(mark("verdict"), "times");
    look(&desk, "first-8-joints", 3);
    go(&desk, "magnets");
    desk.wait_for(mark("magnet-count"));
    look(&desk, "first-9-magnets", 3);
    go(&desk, "bench");
    desk.wait_for(mark("next-step"));
    look(&desk, "first-10-bench", 2);
    let before = desk.text(mark("next-step"));
    desk.tap(mark("step-done"));
    desk.wait_until("the next step", || desk.text(mark("next-step")) != before);
    look(&desk, "first-11-done", 1);
    go(&desk, "print");
    desk.wait_text(mark("sheet"), "Plough");
    look(&desk, "first-12-print", 2);
}

/// A builder who works for a client: the demo with the fewest magnets, its quote, its papers, its loose parts in a tray.
#[test]
fn a_commission_from_the_demo_to_the_hand_over() {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
    look(&desk, "work-1-grid", 2);
    go(&desk, "magnets");
    look(&desk, "work-2-magnets", 2);
    let before = desk.text(mark("magnet-count"));
    desk.tap(mark("fewest-start"));
    desk.wait_long(mark("fewest-said"), Duration::from_secs(120));
    desk.tap(mark("fewest-why"));
    desk.screenshot("walk-work-3-fewest");
    desk.tap(mark("fewest-take"));
    desk.wait_until("fewer magnets", || {
        desk.text(mark("magnet-count")) != before
    });
    desk.screenshot("walk-work-4-taken");
    go(&desk, "joints");
    look(&desk, "work-5-joints", 1);
    go(&desk, "print");
    desk.tap(mark("paper-quote"));
    desk.wait_for(mark("quote-total"));
    let without = desk.text(mark("quote-total"));
    for (field, value) in [
        ("quote-margin", "15"),
        ("quote-tax", "20"),
        ("quote-days", "30"),
    ] {
        desk.fill(mark(field), value);
        desk.press("Enter");
    }
    desk.wait_until("another sum", || desk.text(mark("quote-total")) != without);
    look(&desk, "work-6-quote", 2);
    desk.wait_text(mark("sheet"), "It stands for 30");
    desk.tap(mark("paper-templates"));
    desk.wait_for(mark("template"));
    look(&desk, "work-7-templates", 1);
    desk.tap(mark("paper-cards"));
    desk.wait_for(mark("owner-card"));
    look(&desk, "work-8-cards", 2);
    assert_eq!(count(&desk, "[data-test=\"owner-card\"]"), 5);
    for paper in ["bench", "quote", "cards"] {
        desk.tap(mark(&format!("paper-{paper}")));
        desk.print_pdf(&format!("walk-work-{paper}"));
    }
    go(&desk, "swap");
    look(&desk, "work-9-swap", 2);
    desk.tap(mark("stow-add"));
    desk.wait_for(mark("stow-said"));
    for (n, inside_mm) in ["400", "300", "120"].into_iter().enumerate() {
        desk.fill(mark(&format!("stow-0-inside-{n}")), inside_mm);
        desk.press("Enter");
    }
    desk.wait_text(mark("stow-said"), "All ");
    desk.screenshot("walk-work-10-stow");
}

/// A friend who gets a file: opens it on a telephone, looks, compares, and leaves it as it was.
#[test]
fn a_friend_looks_and_changes_nothing() {
    let desk = Desk::new(Screen::PHONE);
    desk.open("");
    let demo = std::fs::read("../examples/demo.lodewright.json").expect("the demo");
    desk.wait_for(mark("open-file"));
    look(&desk, "friend-1-empty", 2);
    desk.upload(mark("open-file"), "from-a-friend.lodewright.json", &demo);
    desk.wait_for(mark("page-grid"));
    look(&desk, "friend-2-grid", 2);
    go(&desk, "joints");
    look(&desk, "friend-3-joints", 1);
    desk.tap(css(
        "[data-test=\"joint-row\"] a, a[data-test=\"joint-row\"]",
    ));
    desk.wait_for(mark("verdict"));
    look(&desk, "friend-4-joint", 3);
    go(&desk, "compare");
    look(&desk, "friend-5-compare", 2);
    go(&desk, "swap");
    look(&desk, "friend-6-swap", 2);
    go(&desk, "print");
    desk.tap(mark("paper-cards"));
    desk.wait_for(mark("owner-card"));
    look(&desk, "friend-7-cards", 2);
    // Nothing was changed: there is nothing to undo, and what is saved is what came.
    assert!(desk.has(named("Nothing to undo")));
    desk.tap(mark("to-plans"));
    desk.wait_for(mark("plan-list"));
    look(&desk, "friend-8-plans", 2);
    let save = desk.evaluate("document.querySelector('[data-test^=\"save-\"]').dataset.test");
    let (_, bytes) = desk.download(mark(save.as_str().unwrap_or_default()));
    let plan = |bytes: &[u8]| {
        lodewright_planner::planfile::open(bytes)
            .expect("a plan")
            .plan
    };
    assert!(plan(&bytes) == plan(&demo), "the plan is another one now");
    desk.tap(role("link", "How the numbers are made"));
    desk.wait_for(mark("page-how"));
    look(&desk, "friend-9-how", 1);
}
