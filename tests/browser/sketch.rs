//! The drawing by touch: sockets put, moved and lined up, parts drawn, variants shown and compared, zoomed by two fingers, worked
//! by keys alone.

use crate::desk::Desk;
use crate::find::css;
use crate::moves::{go, mark};
use crate::screen::Screen;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::json;

/// The place on the screen of a place on the drawing, mm to the right and up.
pub fn on_screen(desk: &Desk, [u, v]: [f64; 2]) -> (f64, f64) {
    let found = desk.evaluate(&format!(
        "(() => {{
            const drawing = document.querySelector('[data-test=\"drawing\"]');
            const at = new DOMPoint({u}, {}).matrixTransform(drawing.getScreenCTM());
            return [at.x, at.y];
        }})()",
        -v
    ));
    let number = |n: usize| found[n].as_f64().expect("a place on the screen");
    (number(0), number(1))
}

/// Taps a place of the drawing.
pub fn tap(desk: &Desk, at: [f64; 2]) {
    desk.tap_at(on_screen(desk, at));
}

/// Draws from one place of the drawing to another.
pub fn draw(desk: &Desk, from: [f64; 2], to: [f64; 2]) {
    let (from, to) = (on_screen(desk, from), on_screen(desk, to));
    desk.draw(from, to, 8);
}

/// An empty plan on the drawing.
pub fn begin(desk: &Desk) {
    desk.open("");
    desk.tap(mark("new-plan"));
    desk.wait_for(mark("page-grid"));
    go(desk, "sketch");
    // Everything is in sight once the drawing has been measured.
    desk.evaluate("document.querySelector('[data-test=\"drawing\"]').scrollIntoView({ block: 'center', behavior: 'instant' }), true");
}

fn field(desk: &Desk, word: &str) -> String {
    desk.text(mark(word))
}

#[test]
fn sockets_are_put_moved_and_lined_up() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    // The base is 80 by 40 by 30 mm; from the left its front is at the left hand.
    tap(&desk, [0.0, 15.5]);
    desk.wait_for(mark("mark-socket-1"));
    assert!(desk.text(mark("sketch-hint")).contains("top of Base"));
    tap(&desk, [-41.0, 0.0]);
    desk.wait_for(mark("mark-socket-2"));
    tap(&desk, [20.0, 5.0]);
    desk.wait_for(mark("mark-socket-3"));
    assert_eq!(
        [0, 1, 2].map(|n| field(&desk, &format!("sketch-at-{n}"))),
        ["-20", "20", "5"]
    );
    // Dragged along, it keeps to its face.
    draw(&desk, [20.0, 5.0], [-10.0, -4.0]);
    desk.wait_until("the socket to be moved", || {
        field(&desk, "sketch-at-0") == "10"
    });
    assert_eq!(field(&desk, "sketch-at-1"), "20");
    desk.tap(mark("undo"));
    desk.wait_until("the socket to go back", || {
        field(&desk, "sketch-at-0") == "-20"
    });
    // A tap where nothing is says why nothing happens.
    tap(&desk, [0.0, 26.0]);
    desk.wait_text(mark("sketch-hint"), "No part is there");
    // Several at once: by a frame, moved together.
    desk.tap(mark("tool-move"));
    draw(&desk, [-47.0, 21.0], [47.0, -19.0]);
    desk.wait_text(mark("sketch-panel"), "3 picked");
    draw(&desk, [0.0, 15.0], [5.0, 15.0]);
    desk.tap(mark("undo"));
    desk.tap(mark("line-up"));
    desk.wait_until("the two on upright faces to come to one height", || {
        desk.evaluate("new Set([...document.querySelectorAll('.sk-dot')].map(d => d.getAttribute('cy'))).size")
            == json!(1)
    });
    desk.screenshot("sketch-sockets");
}

#[test]
fn parts_are_drawn_into_sockets_and_variants_compared() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    tap(&desk, [0.0, 15.5]);
    tap(&desk, [-41.0, 0.0]);
    desk.wait_for(mark("mark-socket-2"));
    desk.tap(mark("tool-barrel"));
    draw(&desk, [0.0, 15.0], [6.0, 24.0]);
    desk.wait_for(mark("body-barrel-1"));
    desk.wait_text(mark("sketch-panel"), "Sits in Socket 1 in Variant 1");
    desk.tap(mark("tool-frame"));
    draw(&desk, [-41.0, -10.0], [-49.0, 12.0]);
    desk.wait_for(mark("body-frame-1"));
    desk.wait_text(mark("answer-strip"), "magnet");
    // A second variant begins empty; an outline of four corners comes into its socket.
    desk.tap(mark("sketch-add-variant"));
    desk.wait_gone(mark("body-barrel-1"));
    desk.tap(mark("tool-outline"));
    for at in [
        [-8.0, 15.0],
        [8.0, 15.0],
        [8.0, 19.0],
        [-8.0, 24.0],
        [-8.0, 15.0],
    ] {
        tap(&desk, at);
    }
    desk.wait_for(mark("body-outline-1"));
    desk.initial_sizes(css("#compare-with"), "Variant 1");
    desk.wait_text(mark("sketch-difference"), "Outline 1 in Socket 1");
    desk.wait_text(
        mark("sketch-difference"),
        "Barrel 1 in Socket 1, Frame 1 in Socket 2",
    );
    desk.screenshot("sketch-compared");
    // A size typed is a size kept.
    desk.fill(mark("sketch-size-2"), "12");
    desk.wait_until("the size to be taken", || {
        desk.has(mark("undo")) && field(&desk, "sketch-size-2") == "12"
    });
    // A part is made larger by its corner.
    let before = field(&desk, "sketch-size-0");
    let from = desk.evaluate("(() => { const r = document.querySelector('[data-test=\"corner\"] rect').getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()");
    let at = |n: usize| from[n].as_f64().unwrap();
    desk.tap(mark("tool-move"));
    desk.draw((at(0), at(1)), (at(0) + 40.0, at(1)), 6);
    desk.wait_until("the part to be larger", || {
        field(&desk, "sketch-size-0") != before
    });
}

#[test]
fn two_fingers_zoom_and_change_nothing() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    let box_of = || desk.property(mark("drawing"), "viewBox");
    let before =
        desk.evaluate("document.querySelector('[data-test=\"drawing\"]').getAttribute('viewBox')");
    let (a, b) = (
        on_screen(&desk, [-10.0, 0.0]),
        on_screen(&desk, [10.0, 0.0]),
    );
    desk.pinch([a, b], [(a.0 - 60.0, a.1), (b.0 + 60.0, b.1)]);
    desk.wait_until("a nearer sight", || {
        desk.evaluate("document.querySelector('[data-test=\"drawing\"]').getAttribute('viewBox')")
            != before
    });
    assert!(!desk.has(css("[data-test^=\"mark-\"]")), "{}", box_of());
    desk.tap(mark("zoom-fit"));
    desk.wait_until("all in sight again", || {
        desk.evaluate("document.querySelector('[data-test=\"drawing\"]').getAttribute('viewBox')")
            == before
    });
}

#[test]
fn the_drawing_is_worked_by_keys_alone() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    let press = |on: &str, key: &str| {
        desk.evaluate(&format!(
            "document.querySelector('[data-test=\"{on}\"]').focus(), document.querySelector('[data-test=\"{on}\"]').dispatchEvent(new KeyboardEvent('keydown', {{ key: '{key}', bubbles: true, cancelable: true }})), true"
        ));
    };
    desk.evaluate("document.querySelector('[data-test=\"put-middle\"]').click(), true");
    desk.wait_for(mark("mark-socket-1"));
    press("mark-socket-1", "ArrowUp");
    desk.wait_until("the socket to go up", || {
        field(&desk, "sketch-at-2") == "0.5"
    });
    press("mark-socket-1", "ArrowLeft");
    // From the left, the front is at the left hand.
    desk.wait_until("the socket to go to the front", || {
        field(&desk, "sketch-at-0") == "0.5"
    });
    assert_eq!(
        desk.evaluate("document.activeElement.dataset.test"),
        json!("mark-socket-1"),
        "the focus stays where it was"
    );
    press("mark-socket-1", "Escape");
    desk.wait_for(mark("put-middle"));
    press("mark-socket-1", "Enter");
    desk.wait_for(mark("sketch-socket-name"));
    press("mark-socket-1", "Delete");
    desk.wait_gone(mark("mark-socket-1"));
    desk.tap(mark("undo"));
    desk.wait_for(mark("mark-socket-1"));
}

/// A picture of 600 by 300 pixels, made by the browser.
fn a_picture(desk: &Desk) -> Vec<u8> {
    let made = desk.evaluate(
        "(() => {
            const c = document.createElement('canvas');
            c.width = 600; c.height = 300;
            const g = c.getContext('2d');
            g.fillStyle = '#888'; g.fillRect(0, 0, 600, 300);
            g.fillStyle = '#fff'; g.fillRect(100, 100, 400, 100);
            return c.toDataURL('image/png').split(',')[1];
        })()",
    );
    STANDARD
        .decode(made.as_str().expect("a picture"))
        .expect("the browser makes base64")
}

#[test]
fn a_picture_is_laid_behind_scaled_and_left_out_of_files() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.tap(mark("sketch-picture"));
    desk.upload(mark("picture-file"), "side.png", &a_picture(&desk));
    desk.wait_for(mark("picture"));
    let address = desk.property(mark("picture"), "href");
    assert!(address.starts_with("data:image/jpeg;base64,/9j/"));
    assert_eq!(field(&desk, "picture-width"), "100");
    // The white bar is two thirds of the picture: 66.7 mm now, said to be 80 mm.
    desk.tap(mark("picture-measure"));
    tap(&desk, [-33.33, 0.0]);
    desk.wait_text(mark("sketch-hint"), "other end");
    tap(&desk, [33.33, 0.0]);
    desk.wait_for(mark("picture-length"));
    desk.fill(mark("picture-length"), "80");
    desk.wait_until("the picture to be to scale", || {
        let wide: f64 = field(&desk, "picture-width").parse().unwrap_or_default();
        (wide - 120.0).abs() < 1.5
    });
    // A finger takes it along, by as much as the finger went.
    let place = |desk: &Desk| -> [f64; 2] {
        ["x", "y"].map(|a| {
            desk.property(mark("picture"), a)
                .parse()
                .unwrap_or_default()
        })
    };
    let before = place(&desk);
    desk.tap(mark("picture-slide"));
    draw(&desk, [-10.0, 0.0], [2.0, -5.0]);
    desk.wait_until("the picture to be elsewhere", || {
        let by = [0, 1].map(|k| place(&desk)[k] - before[k]);
        (by[0] - 12.0).abs() < 0.3 && (by[1] - 5.0).abs() < 0.3
    });
    desk.tap(mark("picture-slide"));
    // From another side it is not there.
    desk.tap(css("[data-test=\"side-top\"]"));
    desk.wait_gone(mark("picture"));
    desk.tap(css("[data-test=\"side-left\"]"));
    desk.wait_for(mark("picture"));
    desk.screenshot("sketch-picture");
    let saved = |desk: &Desk| {
        desk.tap(mark("to-plans"));
        let (_, bytes) = desk.download(css("[data-test=\"plan-list\"] [data-test^=\"save-\"]"));
        String::from_utf8(bytes).expect("a text")
    };
    assert!(saved(&desk).contains("data:image/jpeg"));
    desk.tap(css("[data-test=\"plan-list\"] [data-test^=\"open-\"]"));
    go(&desk, "sketch");
    desk.tap(mark("sketch-picture"));
    desk.tap(mark("picture-stays"));
    desk.wait_until("the picture to stay here", || {
        desk.evaluate("document.querySelector('[data-test=\"picture-stays\"]').checked")
            == json!(true)
    });
    assert!(!saved(&desk).contains("data:image"));
    // What is no picture is refused in words.
    desk.tap(css("[data-test=\"plan-list\"] [data-test^=\"open-\"]"));
    go(&desk, "sketch");
    desk.tap(mark("sketch-picture"));
    desk.tap(mark("picture-remove"));
    desk.wait_for(mark("picture-file"));
    desk.upload(mark("picture-file"), "no.png", b"no picture");
    desk.wait_text(mark("notice"), "could not be read as a picture");
    desk.tap(mark("undo"));
    desk.wait_for(mark("picture"));
}

#[test]
fn two_ideas_stand_side_by_side() {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
    go(&desk, "compare");
    desk.tap(mark("second-idea"));
    desk.wait_text(mark("differs"), "Nothing");
    // The first idea loses a socket: both columns and the list say so.
    go(&desk, "grid");
    desk.tap(mark("cell-lamp/*"));
    desk.tap(mark("dock-drop"));
    go(&desk, "compare");
    desk.tap(css("[data-test^=\"beside-\"]:not(table)"));
    desk.wait_text(mark("differs"), "only in the second");
    desk.wait_until("the figures of both", || {
        desk.evaluate("document.querySelectorAll('.beside .is-other').length > 1") == json!(true)
    });
    desk.screenshot("compare");
}
