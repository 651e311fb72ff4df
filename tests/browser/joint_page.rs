//! The page of one joint: a pair is dragged and the margin follows; advice is taken and mends the joint.

use crate::desk::Desk;
use crate::find::css;
use crate::moves::{go, mark};
use crate::screen::Screen;
use serde_json::Value;

fn open_joint(desk: &Desk, words: &str) {
    desk.open("");
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
    go(desk, "joints");
    desk.wait_for(mark("joint-row"));
    // Rows say the part alone under the socket's heading, so each is tried until the title is the one looked for.
    let rows = desk.evaluate("document.querySelectorAll('[data-test=\"joint-row\"]').length");
    for row in 0..rows.as_u64().unwrap_or_default() {
        desk.evaluate(&format!(
            "document.querySelectorAll('[data-test=\"joint-row\"]')[{row}].click(), true"
        ));
        desk.wait_for(css("#joint-title"));
        let title = format!(
            "new Promise(done => setTimeout(() => done(document.querySelector('#joint-title').innerText === {words:?}), 50))"
        );
        if desk.evaluate(&title) == Value::Bool(true) {
            return;
        }
    }
    panic!("no joint {words}");
}

fn said(desk: &Desk, place: &str) -> String {
    desk.text(mark(place))
}

/// Moves a finger over a handle and tells what stood in the line under the drawing each time.
fn dragged(desk: &Desk, handle: &str, by_px: (f64, f64), let_go: bool) -> Vec<String> {
    let mut seen = Vec::new();
    desk.drag_by(mark(handle), by_px, 8, let_go, || {
        desk.evaluate("new Promise(done => requestAnimationFrame(() => setTimeout(done)))");
        seen.push(desk.text(css("[data-test=\"mover-readout\"] strong")));
    });
    seen
}

#[test]
fn a_pair_follows_the_finger_and_its_margin_with_it() {
    let desk = Desk::new(Screen::TABLET);
    open_joint(&desk, "Snow plough in Nose");
    let before = said(&desk, "verdict");
    let seen = dragged(&desk, "handle-1", (0.0, -40.0), true);
    assert_eq!(seen.len(), 8);
    assert!(seen.iter().all(|s| s.contains("weight")), "{seen:?}");
    assert!(
        seen.windows(2).any(|w| w[0] != w[1]),
        "the margin stands still: {seen:?}"
    );
    desk.wait_until("the verdict to change", || said(&desk, "verdict") != before);
    desk.tap(mark("undo"));
    desk.wait_text(mark("verdict"), &before);

    // Taken back in the middle nothing has changed.
    dragged(&desk, "handle-1", (60.0, 0.0), false);
    desk.wait_text(mark("verdict"), &before);
    assert_eq!(desk.property(mark("undo"), "disabled"), "disabled");
}

#[test]
fn keys_move_a_pair_too() {
    let desk = Desk::new(Screen::TABLET);
    open_joint(&desk, "Snow plough in Nose");
    let before = said(&desk, "verdict");
    desk.evaluate("document.querySelector('[data-test=\"handle-1\"]').focus(), true");
    desk.press("ArrowUp");
    desk.press("ArrowUp");
    desk.wait_text(mark("mover-readout"), "bears");
    desk.press("Escape");
    desk.wait_text(mark("mover-readout"), "Drag a pair");
    assert_eq!(said(&desk, "verdict"), before);
    desk.press("ArrowUp");
    desk.press("Enter");
    desk.wait_until("the verdict to change", || said(&desk, "verdict") != before);
}

/// The crane's jib holds but takes too strong a hand: the first change that is offered mends it.
#[test]
fn advice_mends_a_joint_of_the_demo() {
    let desk = Desk::new(Screen::TABLET_UPRIGHT);
    open_joint(&desk, "Crane jib in Crane head");
    desk.tap(mark("try-changes"));
    desk.tap(mark("take-1"));
    desk.wait_gone(mark("try-changes"));
    desk.wait_gone(mark("take-1"));
    assert!(!desk.has(css("section.advice")));
    assert!(!said(&desk, "verdict").contains("not enough"));
    desk.wait_text(mark("window-words"), "Both are met");
    desk.tap(mark("undo"));
    desk.wait_for(mark("try-changes"));
}

#[test]
fn the_looks_that_wait_to_be_asked_answer() {
    let desk = Desk::new(Screen::PHONE);
    open_joint(&desk, "Roof frame in Cab roof");
    // One after the other: what a fold shows moves the folds below it.
    desk.tap(mark("turned"));
    desk.wait_text(mark("attitudes"), "upside down");
    desk.tap(mark("sure-fold"));
    desk.tap(mark("draw"));
    desk.wait_text(mark("sure"), "in 100");
    desk.tap(mark("strangers-fold"));
    desk.wait_text(mark("strangers"), "No two magnets");
    desk.tap(mark("formulas-fold"));
    desk.wait_text(mark("formulas"), "Tipping");
    desk.screenshot("joint-phone-open");
    let width = desk.evaluate("document.documentElement.scrollWidth - innerWidth");
    assert!(width.as_i64().unwrap_or(1) <= 0, "{width} px too wide");
}

/// Pictures of one joint with everything open, to be looked at.
#[test]
fn a_joint_with_all_open_fits_every_screen() {
    let screens = [
        ("tablet", Screen::TABLET),
        ("tablet-dark", Screen::TABLET.dark()),
        ("upright", Screen::TABLET_UPRIGHT),
        ("phone-dark", Screen::PHONE.dark()),
    ];
    let desk = Desk::new(Screen::TABLET);
    open_joint(&desk, "Snow plough in Nose");
    desk.evaluate(
        "document.querySelectorAll('.joint-detail details').forEach(d => d.open = true), true",
    );
    desk.tap(mark("draw"));
    desk.wait_text(mark("sure"), "in 100");
    for (name, screen) in screens {
        desk.show_on(screen);
        desk.evaluate(
            "document.querySelectorAll('.joint-detail details').forEach(d => d.open = true), true",
        );
        desk.screenshot(&format!("joint-open-{name}"));
        let width = desk.evaluate("document.documentElement.scrollWidth - innerWidth");
        assert_eq!(
            width.as_i64().map(|w| w <= 0),
            Some(true),
            "{name}: {width} px too wide"
        );
        let drawings = desk.evaluate("document.querySelectorAll('.joint-detail svg').length");
        assert!(drawings.as_u64() >= Some(8), "{drawings} drawings");
    }
}
