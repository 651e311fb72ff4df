//! The main job by touch alone: from an empty plan to glue answer, poles, magnets, work order; kept over a reload, saved as a
//! file, opened again, printed.

use crate::desk::Desk;
use crate::find::css;
use crate::moves::{PAGES, go, mark};
use crate::screen::Screen;
use serde_json::{Value, json};

fn count(desk: &Desk, word: &str) -> u64 {
    let counted = desk.evaluate(&format!(
        "document.querySelectorAll('[data-test=\"{word}\"]').length"
    ));
    counted.as_u64().unwrap_or_default()
}

/// Adds a row or column and names it in place.
fn add(desk: &Desk, what: &str, name: &str) {
    desk.tap(mark(&format!("add-{what}")));
    desk.fill(mark("cell-input"), name);
    desk.wait_gone(mark("cell-input"));
}

/// Puts a part in a cell: the first time by name, later by its chip.
fn put(desk: &Desk, row: usize, column: usize, part: &str, chip: Option<&str>) {
    let cell = format!("cell-socket-{row}/variant-{column}");
    desk.tap(mark(&cell));
    desk.wait_for(mark(&format!("dock-socket-{row}/variant-{column}")));
    match chip {
        Some(id) => desk.tap(mark(&format!("chip-{id}"))),
        None => {
            desk.fill(mark("cell-find"), part);
            desk.tap(mark("cell-new-part"));
        }
    }
    desk.wait_text(mark(&cell), part);
}

/// Three sockets, three variants, five parts; the rack sits on the roof in all of them.
fn build(desk: &Desk) {
    desk.open("");
    desk.tap(mark("new-plan"));
    desk.wait_for(mark("page-grid"));
    ["Nose", "Roof", "Tool"]
        .iter()
        .for_each(|name| add(desk, "socket", name));
    ["Winter", "Works", "Summer"]
        .iter()
        .for_each(|name| add(desk, "variant", name));
    put(desk, 1, 1, "Plough", None);
    put(desk, 1, 2, "Hook", None);
    put(desk, 1, 3, "Hook", Some("hook"));
    put(desk, 2, 1, "Rack", None);
    put(desk, 2, 2, "Rack", Some("rack"));
    put(desk, 2, 3, "Rack", Some("rack"));
    put(desk, 3, 1, "Shovel", None);
    put(desk, 3, 2, "Lamp", None);
    put(desk, 3, 3, "Shovel", Some("shovel"));
}

fn check_answers(desk: &Desk) {
    go(desk, "magnets");
    // One in each of two sockets and one in each of the four parts that change; the rack is glued and needs none.
    desk.wait_text(mark("magnet-count"), "6");
    assert_eq!(count(desk, "pole-row"), 6);
    let glue = desk.text(mark("glue-answer"));
    assert!(glue.contains("Rack") && glue.contains("Base"), "{glue}");
    assert!(desk.text(mark("model-count")).contains('3'));
    let poles = desk.evaluate(
        "[...document.querySelectorAll('[data-test=\"pole-row\"] svg.pole')].map(e => e.getAttribute('aria-label'))",
    );
    let north = |out: &str| {
        poles
            .as_array()
            .into_iter()
            .flatten()
            .filter(|p| *p == out)
            .count()
    };
    assert_eq!(
        (north("N out"), north("S out")),
        (2, 4),
        "north on the hosts: {poles}"
    );

    go(desk, "joints");
    assert_eq!(count(desk, "joint-row"), 5);
    desk.wait_text(mark("verdict"), "times");

    go(desk, "bench");
    desk.wait_for(mark("next-step"));
    let before = desk.text(mark("next-step"));
    desk.tap(mark("step-done"));
    desk.wait_until("the next step to change", || {
        desk.text(mark("next-step")) != before
    });
    desk.tap(mark("step-undo"));
    desk.wait_until("the step to come back", || {
        desk.text(mark("next-step")) == before
    });

    go(desk, "swap");
    assert_eq!(
        count(desk, "swap-move"),
        4,
        "plough and shovel off, hook and lamp on"
    );
}

#[test]
fn an_empty_plan_becomes_a_bench_sheet_by_touch() {
    let desk = Desk::new(Screen::TABLET);
    build(&desk);
    check_answers(&desk);

    go(&desk, "grid");
    desk.wait_text(mark("save-state"), "Stored here at");
    desk.reload();
    desk.wait_text(mark("cell-socket-3/variant-2"), "Lamp");

    desk.tap(mark("to-plans"));
    desk.wait_for(css("[data-test=\"plan-list\"] [data-test^=\"open-\"]"));
    let key = text(&desk.evaluate(
        "document.querySelector('[data-test=\"plan-list\"] [data-test^=\"open-\"]').dataset.test.replace('open-', '')",
    ));
    let (name, bytes) = desk.download(mark(&format!("save-{key}")));
    assert!(name.ends_with(".lodewright.json"), "{name}");
    desk.upload(mark("open-file"), &name, &bytes);
    desk.wait_for(mark("page-grid"));
    desk.wait_text(mark("cell-socket-1/variant-1"), "Plough");
    desk.tap(mark("to-plans"));
    desk.wait_until("two plans on the shelf", || {
        desk.evaluate("document.querySelectorAll('[data-test=\"plan-list\"] > li').length")
            == json!(2)
    });

    desk.tap(mark(&format!("open-{key}")));
    go(&desk, "print");
    let sheet = desk.text(mark("sheet"));
    for word in [
        "Plough", "Hook", "Rack", "Shovel", "Lamp", "Winter", "Works", "Summer",
    ] {
        assert!(sheet.contains(word), "the sheet lacks {word}");
    }
    let pdf = std::fs::read(desk.print_pdf("three-by-three")).expect("the printed sheet");
    assert!(
        pdf.starts_with(b"%PDF") && pdf.len() > 10_000,
        "{} bytes",
        pdf.len()
    );
}

#[test]
fn the_demo_opens_as_a_copy_and_its_contradiction_can_be_mended() {
    let desk = Desk::new(Screen::TABLET_UPRIGHT);
    desk.open("");
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
    go(&desk, "magnets");
    desk.wait_for(mark("contradiction"));
    let story = desk.text(mark("contradiction"));
    assert!(story.contains("Tool locker"), "{story}");
    desk.tap(mark("way-out-1"));
    desk.wait_gone(mark("contradiction"));
    desk.tap(mark("undo"));
    desk.wait_for(mark("contradiction"));
    desk.tap(mark("redo"));
    desk.wait_gone(mark("contradiction"));
    // A second opening is a fresh copy: the first one's edits did not touch the demo.
    desk.tap(mark("to-plans"));
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
    go(&desk, "magnets");
    desk.wait_for(mark("contradiction"));
}

#[test]
fn a_bad_file_is_refused_in_words_and_changes_nothing() {
    let desk = Desk::new(Screen::TABLET);
    build(&desk);
    desk.wait_text(mark("save-state"), "Stored here at");
    desk.tap(mark("to-plans"));
    for (name, content, said) in [
        ("photo.json", "not json at all", "JSON"),
        (
            "newer.json",
            "{\"format\":\"lodewright-plan\",\"version\":99,\"plan\":{}}",
            "99",
        ),
        ("other.json", "{\"hello\":1}", "plan"),
    ] {
        desk.upload(mark("open-file"), name, content.as_bytes());
        desk.wait_text(mark("notice"), said);
        assert_eq!(
            desk.evaluate("document.querySelectorAll('[data-test=\"plan-list\"] > li').length"),
            json!(1)
        );
        desk.tap(mark("notice-close"));
        desk.wait_gone(mark("notice"));
    }
}

#[test]
fn a_deleted_plan_comes_back() {
    let desk = Desk::new(Screen::PHONE);
    build(&desk);
    desk.tap(mark("to-plans"));
    desk.tap(css("[data-test^=\"delete-\"]"));
    desk.wait_gone(mark("plan-list"));
    desk.tap(mark("notice-undo"));
    desk.wait_for(mark("plan-list"));
    desk.tap(css("[data-test=\"plan-list\"] [data-test^=\"open-\"]"));
    desk.wait_text(mark("cell-socket-1/variant-1"), "Plough");
}

/// Pictures of every page on every screen, to be looked at; what a machine can check of them is checked: no page is wider
/// than its screen, and what a thumb uses is large enough.
#[test]
fn every_page_fits_every_screen() {
    let screens = [
        ("tablet", Screen::TABLET),
        ("tablet-dark", Screen::TABLET.dark()),
        ("upright", Screen::TABLET_UPRIGHT),
        ("phone", Screen::PHONE),
        ("phone-dark", Screen::PHONE.dark()),
    ];
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
    for (name, screen) in screens {
        desk.show_on(screen);
        for page in PAGES {
            go(&desk, page);
            desk.screenshot(&format!("{name}-{page}"));
            let width = desk.evaluate("document.documentElement.scrollWidth - innerWidth");
            assert!(
                width.as_i64().unwrap_or(1) <= 0,
                "{page} on {name} is {width} px too wide"
            );
            let small = desk.evaluate(SMALL);
            assert_eq!(small, json!([]), "too small for a finger: {page} on {name}");
        }
    }
}

/// Controls under 24 px either way, but for links within a sentence (WCAG 2.2, success criterion 2.5.8).
const SMALL: &str = "[...document.querySelectorAll('main button, main select, main input, header button, nav a')]
    .filter(e => e.getClientRects().length && !e.closest('.visually-hidden') && !e.classList.contains('visually-hidden'))
    .filter(e => !(e.labels && [...e.labels].some(l => { const r = l.getBoundingClientRect(); return r.width >= 24 && r.height >= 24; })))
    .map(e => { const r = e.getBoundingClientRect(); return [e.outerHTML.slice(0, 80), Math.round(r.width), Math.round(r.height)]; })
    .filter(([, w, h]) => w < 24 || h < 24)";

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}
