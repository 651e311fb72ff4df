//! How quickly a kit is sketched, and how quickly the drawing follows: counts of taps and characters are tests; times are told,
//! and only held to bounds that a busy machine keeps.

use crate::desk::Desk;
use crate::find::{Find, css, role};
use crate::moves::{go, mark};
use crate::screen::Screen;
use crate::sketch::{begin, draw, on_screen, tap};
use lodewright_planner::kit::{Cell, Edit, Facing, Plan, Seat, Socket};
use lodewright_planner::planfile;
use serde_json::{Value, json};
use std::cell::Cell as Count;
use std::time::Instant;

/// Counts what the person does.
struct Counted<'d> {
    desk: &'d Desk,
    taps: Count<usize>,
    letters: Count<usize>,
}

impl Counted<'_> {
    fn one(&self) {
        self.taps.set(self.taps.get() + 1);
    }

    fn press(&self, what: impl Into<Find>) {
        self.one();
        self.desk.tap(what);
    }

    fn at(&self, at: [f64; 2]) {
        self.one();
        tap(self.desk, at);
    }

    fn draw(&self, from: [f64; 2], to: [f64; 2]) {
        self.one();
        draw(self.desk, from, to);
    }

    /// The tap into the field counts too.
    fn name(&self, field: &str, name: &str) {
        self.one();
        self.letters.set(self.letters.get() + name.chars().count());
        self.desk.fill(mark(field), name);
    }
}

/// Three sockets, three variants, five parts, all of them drawn and named: 40 taps and 60 characters are enough.
#[test]
fn a_small_kit_takes_few_taps_and_characters() {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.wait_for(mark("new-plan"));
    let start = Instant::now();
    begin(&desk);
    let c = Counted {
        desk: &desk,
        // A new plan, and the drawing.
        taps: Count::new(2),
        letters: Count::new(0),
    };
    for (at, name) in [
        ([0.0, 15.5], "Roof"),
        ([-41.0, 0.0], "Nose"),
        ([20.0, 0.0], "Side"),
    ] {
        c.at(at);
        c.name("sketch-socket-name", name);
    }
    let part = |tool: &str, from: [f64; 2], to: [f64; 2], name: &str| {
        c.press(mark(tool));
        c.draw(from, to);
        c.name("sketch-part-name", name);
    };
    part("tool-box", [-40.0, 0.0], [-48.0, 12.0], "Plough");
    part("tool-frame", [0.0, 15.0], [14.0, 19.0], "Rack");
    part("tool-plate", [20.0, 0.0], [27.0, 9.0], "Sign");
    c.press(mark("sketch-add-variant"));
    desk.wait_text(mark("sketch-hint"), "further variant");
    part("tool-box", [-40.0, 0.0], [-47.0, 7.0], "Hook");
    part("tool-barrel", [0.0, 15.0], [6.0, 24.0], "Lamp");
    c.press(mark("sketch-add-variant"));
    desk.wait_text(mark("sketch-hint"), "further variant");
    for (socket, part) in [
        ("mark-socket-2", "Hook"),
        ("mark-socket-1", "Rack"),
        ("mark-socket-3", "Sign"),
    ] {
        c.press(css(&format!("[data-test=\"{socket}\"] .sk-dot")));
        c.press(role("button", part).within("[data-test=\"sketch-panel\"]"));
    }
    desk.wait_text(mark("answer-strip"), "Weakest");
    desk.wait_text(mark("answer-strip"), "magnets");
    println!(
        "three sockets, three variants, five parts: {} taps, {} characters, {:.1} s by machine",
        c.taps.get(),
        c.letters.get(),
        start.elapsed().as_secs_f64()
    );
    assert!(c.taps.get() <= 40 && c.letters.get() <= 60);
    go(&desk, "grid");
    for (cell, part) in [
        ("socket-1/variant-1", "Rack"),
        ("socket-1/variant-2", "Lamp"),
        ("socket-1/variant-3", "Rack"),
        ("socket-2/variant-1", "Plough"),
        ("socket-2/variant-2", "Hook"),
        ("socket-2/variant-3", "Hook"),
        ("socket-3/variant-1", "Sign"),
        ("socket-3/variant-3", "Sign"),
    ] {
        desk.wait_text(mark(&format!("cell-{cell}")), part);
    }
}

/// A plan of 40 sockets on the six faces of one base, 5 variants, 80 parts, made by rule.
fn forty() -> Plan {
    let mut plan = Plan::empty("Forty sockets, made by rule");
    let made = |plan: Plan, edit: Edit| plan.edited(&edit).expect("a legal edit");
    plan.parts[0].size_mm = [400.0, 120.0, 90.0];
    for v in 1..=5 {
        plan = made(plan, Edit::AddVariant(format!("Finish {v}")));
    }
    for n in 0..40_u32 {
        let host = plan.base.clone();
        let name = format!("Place {}", n + 1);
        plan = made(plan, Edit::AddSocket { name, host });
        let (x, row) = (f64::from(n % 10) * 36.0 - 162.0, n / 10);
        let (facing, at) = match row {
            0 => (Facing::Left, [x, 60.0, 10.0]),
            1 => (Facing::Right, [x, -60.0, 10.0]),
            2 => (Facing::Up, [x, 25.0, 45.0]),
            _ => (Facing::Up, [x, -25.0, 45.0]),
        };
        let socket = plan.sockets.last().expect("just added").clone();
        let id = socket.id.clone();
        plan = made(
            plan,
            Edit::PutSocket(Box::new(Socket {
                facing,
                at_mm: Some(at),
                ..socket
            })),
        );
        for k in 0..2_u32 {
            plan = made(plan, Edit::AddPart(format!("Piece {}", n * 2 + k + 1)));
        }
        let parts = plan.parts.len();
        for v in 0..plan.variants.len() {
            let which = parts - 1 - (v + n as usize) % 2;
            let cell = Cell {
                socket: id.clone(),
                seats: vec![Seat::straight(plan.parts[which].id.clone())],
                may_be_empty: false,
            };
            let variant = plan.variants[v].id.clone();
            plan = made(plan, Edit::PutCell(variant, cell));
        }
    }
    plan
}

fn numbers(value: &Value) -> Vec<f64> {
    let mut all: Vec<f64> = value
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_f64)
        .collect();
    all.sort_by(f64::total_cmp);
    all
}

/// A magnet of one of the joints, on its own page.
fn magnet_dragged(desk: &Desk) {
    go(desk, "joints");
    desk.tap(css(
        "[data-test=\"joint-row\"] a, a[data-test=\"joint-row\"]",
    ));
    desk.wait_for(mark("handle-1"));
    desk.evaluate(RECORD);
    desk.drag_by(mark("handle-1"), (-40.0, -25.0), 60, false, || {});
    desk.evaluate("window.recording = false, true");
    let busy = numbers(&desk.evaluate("window.busy"));
    println!(
        "dragging a magnet there: {} moves, busy for {:.1} ms in the middle, {:.1} ms at the 95th percentile",
        busy.len(),
        percentile(&busy, 0.5),
        percentile(&busy, 0.95)
    );
}

/// So much of the list is not greater than this.
fn percentile(sorted: &[f64], part: f64) -> f64 {
    let n = (sorted.len() as f64 * part).ceil() as usize;
    sorted.get(n.max(1) - 1).copied().unwrap_or(f64::NAN)
}

/// Notes for every move of a finger how long the page is busy until it has painted, and how long between frames.
const RECORD: &str = "(() => {
    window.busy = []; window.frames = []; window.recording = true;
    window.removeEventListener('pointermove', window.noted, true);
    window.noted = () => {
        const from = performance.now();
        const wire = new MessageChannel();
        wire.port1.onmessage = () => window.busy.push(performance.now() - from);
        wire.port2.postMessage(0);
    };
    window.addEventListener('pointermove', window.noted, true);
    let last = 0;
    const frame = (now) => { if (last) window.frames.push(now - last); last = now; if (window.recording) requestAnimationFrame(frame); };
    requestAnimationFrame(frame);
    return true;
})()";

#[test]
fn forty_sockets_follow_the_finger_and_the_answers_follow_them() {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    let text = planfile::write(&forty()).expect("a plan that a file holds");
    desk.upload(mark("open-file"), "forty.json", text.as_bytes());
    desk.wait_for(mark("page-grid"));
    go(&desk, "sketch");
    desk.wait_for(mark("mark-place-5"));
    desk.wait_text(mark("answer-strip"), "magnets");
    desk.evaluate("document.querySelector('[data-test=\"drawing\"]').scrollIntoView({ block: 'center', behavior: 'instant' }), true");
    desk.evaluate(RECORD);
    let (from, to) = (
        on_screen(&desk, [18.0, 10.0]),
        on_screen(&desk, [-60.0, -20.0]),
    );
    desk.draw(from, to, 120);
    desk.evaluate("window.recording = false, true");
    let busy = numbers(&desk.evaluate("window.busy"));
    let frames = numbers(&desk.evaluate("window.frames"));
    println!(
        "dragging one of 40 sockets: {} moves, busy for {:.1} ms in the middle, {:.1} ms at the 95th percentile; {} frames, {:.1} ms apart at the 95th percentile",
        busy.len(),
        percentile(&busy, 0.5),
        percentile(&busy, 0.95),
        frames.len(),
        percentile(&frames, 0.95)
    );
    assert!(busy.len() > 30);
    // An edit that changes the answers, and how old they get: from the key to the changed line of answers.
    let age = "new Promise(done => {
        const strip = document.querySelector('[data-test=\"answer-strip\"]');
        const mark = document.querySelector('[data-test=\"mark-place-7\"]');
        const before = strip.innerText;
        const from = performance.now();
        const look = new MutationObserver(() => {
            if (strip.innerText !== before) { look.disconnect(); done(performance.now() - from); }
        });
        look.observe(strip, { subtree: true, childList: true, characterData: true });
        setTimeout(() => done(-1), 8000);
        mark.focus();
        mark.dispatchEvent(new KeyboardEvent('keydown', { key: 'Delete', bubbles: true, cancelable: true }));
    })";
    let mut ages = Vec::new();
    for _ in 0..5 {
        ages.push(desk.evaluate(age).as_f64().unwrap_or(-1.0));
        desk.tap(mark("undo"));
        desk.wait_for(mark("mark-place-7"));
        desk.evaluate("new Promise(done => setTimeout(() => done(true), 1500))");
    }
    ages.sort_by(f64::total_cmp);
    println!("answers on the plan of 40 sockets, from an edit to the changed line: {ages:.0?} ms");
    assert!(
        ages.iter().all(|a| *a > 0.0),
        "the answers did not change: {ages:?}"
    );
    magnet_dragged(&desk);
    go(&desk, "sketch");
    desk.wait_for(mark("mark-place-5"));
    desk.screenshot("sketch-forty");
    assert_eq!(
        desk.evaluate("document.querySelectorAll('.sk-mark').length"),
        json!(40)
    );
}
