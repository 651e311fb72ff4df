//! The fewest magnets, looked for in a worker: proposed, taken, undone; stopped; and poles that mend and that warn.

use crate::desk::Desk;
use crate::find::css;
use crate::moves::{go, mark};
use crate::screen::Screen;
use std::time::Duration;

fn demo(screen: Screen) -> Desk {
    let desk = Desk::new(screen);
    desk.open("");
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
    go(&desk, "magnets");
    desk
}

/// Waits longer than the desk does: the whole demo is searched.
fn found(desk: &Desk) -> String {
    desk.wait_long(mark("fewest-said"), Duration::from_secs(120));
    desk.text(mark("fewest-said")).replace('\u{a0}', " ")
}

#[test]
fn the_fewest_are_found_beside_the_page_taken_and_undone() {
    let desk = demo(Screen::TABLET);
    let before = desk.text(mark("magnet-count"));
    desk.tap(mark("fewest-start"));
    desk.wait_for(mark("fewest-stop"));
    // The page stays free: a fold opens while the search runs.
    let free = desk.evaluate("new Promise(done => { const t = performance.now(); requestAnimationFrame(() => setTimeout(() => done(performance.now() - t < 500))); })");
    assert_eq!(free, serde_json::json!(true));
    let said = found(&desk);
    assert!(
        said.contains("Proven") && said.contains("read again"),
        "{said}"
    );
    desk.tap(mark("fewest-why"));
    desk.screenshot("fewest-found");
    desk.tap(mark("counts-start"));
    desk.wait_long(
        css("[data-test=\"counts\"] table"),
        Duration::from_secs(180),
    );
    desk.tap(mark("fewest-take"));
    desk.wait_until("fewer magnets", || {
        desk.text(mark("magnet-count")) != before
    });
    let after = desk.text(mark("magnet-count"));
    let number = |text: &str| {
        text.split_whitespace()
            .next()
            .and_then(|w| w.parse::<u32>().ok())
            .expect("a number")
    };
    assert!(number(&after) < number(&before), "{before} {after}");
    assert!(
        said.starts_with(&format!(
            "{} magnets instead of {}",
            number(&after),
            number(&before)
        )),
        "{said}"
    );
    desk.tap(mark("undo"));
    desk.wait_text(mark("magnet-count"), &before);
}

#[test]
fn the_search_can_be_stopped() {
    let desk = demo(Screen::PHONE);
    desk.tap(mark("fewest-start"));
    desk.tap(mark("fewest-stop"));
    desk.wait_for(mark("fewest-start"));
    std::thread::sleep(Duration::from_secs(1));
    assert!(!desk.has(mark("fewest-said")));
}

#[test]
fn the_cheapest_way_out_mends_the_demo_s_contradiction() {
    let desk = demo(Screen::TABLET_UPRIGHT);
    desk.wait_for(mark("contradiction"));
    desk.screenshot("ways-out");
    desk.tap(mark("way-out-1"));
    desk.wait_gone(mark("contradiction"));
    desk.tap(mark("undo"));
    desk.wait_for(mark("contradiction"));
}

#[test]
fn poles_that_push_mistakes_off_can_be_chosen() {
    let desk = demo(Screen::TABLET);
    let before = desk.text(mark("mistakes-said"));
    assert!(before.contains("Other poles would cut that to"), "{before}");
    desk.tap(mark("mistakes-take"));
    desk.wait_until("other poles", || desk.text(mark("mistakes-said")) != before);
    assert!(!desk.has(css("[data-test=\"mistakes-take\"]")));
}
