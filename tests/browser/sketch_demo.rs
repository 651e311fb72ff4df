//! The demo entered again from nothing, on the page of the drawing alone: base, 14 sockets on five hosts, 18 further parts, five
//! variants with their free choices and turns.
//!
//! What cannot be sketched, and is left out here: contact, pegs and sites other than the usual joints lay out; masses from a scale and their centres; where a plug lies
//! on its part other than by drawing; thin sections, lift points, magnets already fitted; stock, coats, targets, rates.

use crate::desk::Desk;
use crate::find::css;
use crate::moves::mark;
use crate::screen::Screen;
use crate::sketch::{begin, draw, tap};
use lodewright_planner::Analysis;
use lodewright_planner::geometry::{Vec3, dot, sub};
use lodewright_planner::kit::{Facing, Part, PartId, Plan, SocketId};
use lodewright_planner::planfile;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

struct Entry<'d> {
    desk: &'d Desk,
    demo: Plan,
    /// The demo's ids, and those of what was sketched for them.
    sockets: BTreeMap<String, String>,
    parts: BTreeMap<String, String>,
}

fn words(value: &Value) -> Vec<String> {
    value
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|v| v.as_str().map(str::to_owned))
        .collect()
}

impl Entry<'_> {
    fn ids(&self, kind: &str) -> Vec<String> {
        words(&self.desk.evaluate(&format!(
            "[...document.querySelectorAll('[data-test^=\"{kind}-\"]')].map(e => e.dataset.test.slice({}))",
            kind.len() + 1
        )))
    }

    /// The id that comes while something is done.
    fn new_id(&self, kind: &str, run: impl FnOnce()) -> String {
        let before = self.ids(kind);
        run();
        let mut found = None;
        self.desk.wait_until("something new on the drawing", || {
            found = self.ids(kind).into_iter().find(|id| !before.contains(id));
            found.is_some()
        });
        found.expect("something new")
    }

    fn look_from(&self, side: Facing) {
        self.desk
            .tap(css(&format!("[data-test=\"side-{}\"]", side.way())));
        self.desk.wait_until("the side to be seen", || {
            self.desk
                .property(mark("drawing"), "aria-label")
                .ends_with(side.way())
        });
        self.desk.tap(mark("zoom-fit"));
        self.desk
            .evaluate("new Promise(done => requestAnimationFrame(() => setTimeout(done, 60)))");
    }

    fn show(&self, variant: &str) {
        let n = self
            .demo
            .variants
            .iter()
            .position(|v| v.id.as_str() == variant);
        let id = format!("shown-variant-{}", n.expect("a variant of the demo") + 1);
        self.desk.tap(mark(&id));
        self.desk.wait_until("the variant to be shown", || {
            self.desk.property(mark(&id), "aria-pressed") == "true"
        });
    }

    /// Types a number where the field does not say it already.
    fn number(&self, field: &str, value: f64) {
        let now: f64 = self.desk.text(mark(field)).parse().unwrap_or(f64::NAN);
        if (now - value).abs() > 0.04 || now.is_nan() {
            self.desk.fill(mark(field), &value.to_string());
            self.desk.wait_until("the number to be taken", || {
                let now: f64 = self.desk.text(mark(field)).parse().unwrap_or(f64::NAN);
                (now - value).abs() < 0.04
            });
        }
    }

    /// The middle of a part on the drawing.
    fn middle_of(&self, part: &str) -> [f64; 2] {
        let found = self.desk.evaluate(&format!(
            "(() => {{ const b = document.querySelector('[data-test=\"body-{part}\"]').getBBox(); return [b.x + b.width / 2, -b.y - b.height / 2]; }})()"
        ));
        [0, 1].map(|n| found[n].as_f64().expect("a place"))
    }

    fn socket(&mut self, id: &SocketId) {
        let (desk, demo) = (self.desk, self.demo.clone());
        let s = demo.socket(id).expect("a socket of the demo");
        let host = demo.part(&s.host).expect("its host");
        let away = sub(s.frame(host).origin_mm, host.box_middle_mm);
        let axes = s.facing.frame([0.0; 3], 0.0).axes;
        self.look_from(s.facing);
        desk.tap(mark("tool-socket"));
        let middle = self.middle_of(&self.parts[s.host.as_str()]);
        let mut at = [0, 1].map(|k| middle[k] + dot(away, axes[k]));
        // Where another mark lies already, a finger means that one: tap beside it and type the place.
        let marks = desk.evaluate("[...document.querySelectorAll('.sk-dot')].map(d => [+d.getAttribute('cx'), -d.getAttribute('cy')])");
        let taken = |at: [f64; 2]| {
            marks.as_array().into_iter().flatten().any(|m| {
                let [x, y] = [0, 1].map(|n| m[n].as_f64().unwrap_or_default());
                (x - at[0]).abs() < 14.0 && (y - at[1]).abs() < 14.0
            })
        };
        let half = host.size_mm.map(|v| v / 2.0 - 1.0);
        let room = dot(half, axes[0].map(f64::abs));
        let mut step = 0.0;
        while taken(at) && step < 2.0 * room {
            step += 3.0;
            at[0] = middle[0] - room + step;
        }
        let made = self.new_id("mark", || tap(desk, at));
        desk.fill(mark("sketch-socket-name"), &s.name);
        for (n, value) in away.into_iter().enumerate() {
            self.number(&format!("sketch-at-{n}"), (value * 100.0).round() / 100.0);
        }
        self.sockets.insert(id.to_string(), made);
    }

    fn tool(part: &Part) -> &'static str {
        let thin = part.size_mm.into_iter().fold(f64::INFINITY, f64::min);
        match part.id.as_str() {
            "roof-frame" => "tool-frame",
            "track-worker" => "tool-figure",
            "whip-antenna" | "beacon" => "tool-barrel",
            _ if thin <= 4.0 => "tool-plate",
            _ => "tool-box",
        }
    }

    /// Draws a part out of the socket that it sits in.
    fn part(&mut self, id: &PartId, socket: &SocketId) {
        let (desk, demo) = (self.desk, self.demo.clone());
        let p = demo.part(id).expect("a part of the demo");
        let s = demo.socket(socket).expect("a socket of the demo");
        let side = match s.facing {
            Facing::Left | Facing::Right => s.facing,
            _ => Facing::Left,
        };
        self.look_from(side);
        desk.tap(mark(Self::tool(p)));
        let axes = side.frame([0.0; 3], 0.0).axes;
        let found = desk.evaluate(&format!(
            "(() => {{ const d = document.querySelector('[data-test=\"mark-{}\"] .sk-dot'); return [+d.getAttribute('cx'), -d.getAttribute('cy')]; }})()",
            self.sockets[socket.as_str()]
        ));
        let from = [0, 1].map(|n| found[n].as_f64().expect("a place"));
        let to: [f64; 2] = std::array::from_fn(|k| {
            let long = dot(p.size_mm, axes[k].map(f64::abs));
            let out = dot(s.facing.normal(), axes[k]);
            from[k]
                + if out.abs() > 0.7 {
                    out * long
                } else {
                    long / 2.0
                }
        });
        let made = self.new_id("body", || draw(desk, from, to));
        desk.wait_text(mark("sketch-hint"), &format!("in {}.", s.name));
        desk.fill(mark("sketch-part-name"), &p.name);
        for (n, value) in p.size_mm.into_iter().enumerate() {
            self.number(&format!("sketch-size-{n}"), value);
        }
        self.parts.insert(id.to_string(), made);
    }

    /// Picks a socket by its key, as hands that see poorly would: marks may lie over each other.
    fn pick(&self, socket: &SocketId) {
        let place = format!("[data-test=\"mark-{}\"]", self.sockets[socket.as_str()]);
        let name = &self.demo.socket(socket).expect("a socket").name;
        self.desk.evaluate(&format!(
            "(() => {{ const m = document.querySelector('{place}'); m.focus(); m.dispatchEvent(new KeyboardEvent('keydown', {{ key: 'Enter', bubbles: true, cancelable: true }})); return true; }})()"
        ));
        self.desk.wait_until("the socket to be picked", || {
            self.desk.has(mark("sketch-socket-name"))
                && self.desk.text(mark("sketch-socket-name")) == *name
        });
    }
}

/// The first seat of a part in a variant where its host stands unturned.
fn first_seat(demo: &Plan, part: &PartId) -> Option<(String, SocketId)> {
    demo.variants.iter().find_map(|v| {
        let cell = v.cells.iter().find(|c| {
            c.seats
                .iter()
                .any(|s| s.part == *part && s.pose.is_straight())
        })?;
        Some((v.id.to_string(), cell.socket.clone()))
    })
}

#[test]
fn the_demo_is_sketched_again_from_nothing() {
    let text = include_str!("../../examples/demo.lodewright.json");
    let demo = planfile::read(text.as_bytes()).expect("the demo").plan;
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    let mut entry = Entry {
        desk: &desk,
        parts: BTreeMap::from([(demo.base.to_string(), "base".to_owned())]),
        sockets: BTreeMap::new(),
        demo: demo.clone(),
    };
    let base = demo.part(&demo.base).expect("the base");
    for (n, value) in base.size_mm.into_iter().enumerate() {
        entry.number(&format!("base-{n}"), value);
    }
    for variant in &demo.variants {
        desk.tap(mark("sketch-add-variant"));
        desk.wait_until("the next variant", || {
            desk.has(mark("sketch-variant-name"))
                && desk
                    .text(mark("sketch-variant-name"))
                    .starts_with("Variant ")
        });
        desk.fill(mark("sketch-variant-name"), &variant.name);
        desk.wait_until("the variant to be named", || {
            desk.text(mark("sketch-variant-name")) == variant.name
        });
    }
    desk.tap(mark("pick-part-base"));
    desk.fill(mark("sketch-part-name"), &base.name);
    // Hosts first: the sockets of what stands, then the parts in them, and so on outwards.
    desk.tap(mark("shown-base"));
    for s in demo.sockets.iter().filter(|s| s.host == demo.base) {
        entry.socket(&s.id);
    }
    let mut left: Vec<PartId> = demo
        .parts
        .iter()
        .map(|p| p.id.clone())
        .filter(|id| *id != demo.base)
        .collect();
    while !left.is_empty() {
        let ready = left.iter().position(|id| {
            first_seat(&demo, id).is_some_and(|(_, s)| entry.sockets.contains_key(s.as_str()))
        });
        let id = left.remove(ready.expect("a part whose host is there"));
        let (variant, socket) = first_seat(&demo, &id).expect("its seat");
        // What stands in that variant already is put there first, so that the host is on the drawing.
        let host = demo.socket(&socket).expect("a socket").host.clone();
        entry.show(&variant);
        if !entry.ids("body").contains(&entry.parts[host.as_str()]) {
            let (_, under) = seat_in(&demo, &variant, &host);
            entry.pick(&under);
            put(&entry, &variant, &under);
        }
        entry.part(&id, &socket);
        for s in demo.sockets.iter().filter(|s| s.host == id) {
            entry.socket(&s.id);
        }
    }
    // What sits where, variant by variant, hosts before what they carry.
    for variant in &demo.variants {
        entry.show(variant.id.as_str());
        let mut cells: Vec<_> = variant.cells.iter().collect();
        while !cells.is_empty() {
            let there = entry.ids("mark");
            let next = cells
                .iter()
                .position(|c| there.contains(&entry.sockets[c.socket.as_str()]));
            let cell = cells.remove(next.expect("a socket whose host stands"));
            entry.pick(&cell.socket);
            put(&entry, variant.id.as_str(), &cell.socket);
        }
    }
    desk.screenshot("sketch-demo");
    compare(&demo, &taken_out(&desk));
}

fn seat_in(demo: &Plan, variant: &str, part: &PartId) -> (usize, SocketId) {
    let v = demo.variant(&variant.into()).expect("a variant");
    let found = v
        .cells
        .iter()
        .enumerate()
        .find(|(_, c)| c.seats.iter().any(|s| s.part == *part));
    let (n, cell) = found.expect("the host sits somewhere");
    (n, cell.socket.clone())
}

/// Fills the picked cell as the demo has it, by chips, choices and turns.
fn put(entry: &Entry<'_>, variant: &str, socket: &SocketId) {
    let (desk, demo) = (entry.desk, &entry.demo);
    let v = demo.variant(&variant.into()).expect("a variant");
    let cell = v.cell(socket).expect("a cell");
    let mut parts: Vec<&PartId> = Vec::new();
    for seat in &cell.seats {
        if !parts.contains(&&seat.part) && entry.parts.contains_key(seat.part.as_str()) {
            parts.push(&seat.part);
        }
    }
    let free = cell.is_free();
    if free {
        desk.tap(mark("cell-mode-free"));
    }
    let on = |chip: &str| desk.property(mark(chip), "aria-pressed") == "true";
    for (n, id) in parts.iter().enumerate() {
        let chip = format!("chip-{}", entry.parts[id.as_str()]);
        if !on(&chip) {
            desk.tap(mark(&chip));
            desk.wait_until("the part to sit there", || on(&chip));
        }
        let turn = cell
            .seats
            .iter()
            .find(|s| s.part == **id)
            .map_or(0.0, |s| s.pose.turn_deg);
        if turn != 0.0 {
            desk.tap(mark(&format!("turn-{n}-{turn}")));
        }
    }
    for (n, id) in parts.iter().enumerate() {
        let poses: Vec<f64> = cell
            .seats
            .iter()
            .filter(|s| s.part == **id)
            .map(|s| s.pose.turn_deg)
            .collect();
        for (last, turn) in (parts.len()..).zip(poses.iter().skip(1)) {
            desk.tap(mark(&format!("pose-more-{n}")));
            desk.tap(mark(&format!("turn-{last}-{turn}")));
        }
    }
    if cell.may_be_empty && !on("chip-nothing") {
        desk.tap(mark("chip-nothing"));
        desk.wait_until("nothing to be allowed", || on("chip-nothing"));
    }
}

fn taken_out(desk: &Desk) -> Plan {
    desk.tap(mark("to-plans"));
    let (_, bytes) = desk.download(css("[data-test=\"plan-list\"] [data-test^=\"save-\"]"));
    planfile::read(&bytes).expect("a plan file").plan
}

/// The same by names: faces and places of sockets, sizes of parts, cells.
fn compare(demo: &Plan, plan: &Plan) {
    assert_eq!(
        (plan.parts.len(), plan.sockets.len(), plan.variants.len()),
        (demo.parts.len(), demo.sockets.len(), demo.variants.len())
    );
    let part = |plan: &Plan, id: &PartId| plan.part(id).expect("a part").clone();
    for p in &demo.parts {
        let ours = plan
            .parts
            .iter()
            .find(|q| q.name == p.name)
            .unwrap_or_else(|| panic!("no {}", p.name));
        for k in 0..3 {
            assert!((ours.size_mm[k] - p.size_mm[k]).abs() < 0.06, "{}", p.name);
        }
    }
    for s in &demo.sockets {
        let ours = plan
            .sockets
            .iter()
            .find(|o| o.name == s.name)
            .unwrap_or_else(|| panic!("no {}", s.name));
        let (a, b) = (part(plan, &ours.host), part(demo, &s.host));
        assert_eq!((ours.facing, &a.name), (s.facing, &b.name), "{}", s.name);
        let place = |s: &lodewright_planner::kit::Socket, h: &Part| -> Vec3 {
            sub(s.frame(h).origin_mm, h.box_middle_mm)
        };
        let off = sub(place(ours, &a), place(s, &b));
        assert!(off.iter().all(|d| d.abs() < 0.06), "{}: {off:?}", s.name);
    }
    let mut same = 0;
    let mut other = Vec::new();
    for v in &demo.variants {
        let ours = plan
            .variants
            .iter()
            .find(|o| o.name == v.name)
            .expect("a variant");
        for s in &demo.sockets {
            let there = plan
                .sockets
                .iter()
                .find(|o| o.name == s.name)
                .expect("a socket");
            let (a, b) = (
                demo.cell_text(&v.id, &s.id),
                plan.cell_text(&ours.id, &there.id),
            );
            // The order in which parts of a free choice were tapped means nothing.
            let choices =
                |text: &str| -> BTreeSet<String> { text.split(" / ").map(str::to_owned).collect() };
            if choices(&a) == choices(&b) {
                same += 1;
            } else {
                other.push(format!("{} in {}: {a} is {b}", s.name, v.name));
            }
        }
    }
    println!("the demo sketched again: {same} cells the same; not: {other:?}");
    assert!(other.is_empty(), "{other:#?}");
    let answers = Analysis::of(plan.clone()).expect("answers");
    let theirs = Analysis::of(demo.clone()).expect("answers of the demo");
    assert_eq!(
        answers.joints().values().len(),
        theirs.joints().values().len()
    );
    assert_eq!(answers.models(), theirs.models());
    assert!(answers.problems().is_empty(), "{:?}", answers.problems());
}
