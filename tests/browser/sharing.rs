//! Plans on their way: by link, as a picture, as a friend's copy whose differences are taken or left.

use crate::desk::Desk;
use crate::find::css;
use crate::moves::mark;
use crate::screen::Screen;

/// The demo on the shelf, with the page of all plans shown.
fn shelf() -> Desk {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
    desk.evaluate("location.hash = '#/'");
    desk.wait_for(mark("page-plans"));
    desk
}

/// The key of the only plan.
fn key(desk: &Desk) -> String {
    let row = "document.querySelector('[data-test^=\"share-\"]').dataset.test.slice(6)";
    desk.evaluate(row).as_str().unwrap().to_owned()
}

#[test]
fn a_link_asks_before_it_adds_its_plan() {
    let desk = shelf();
    desk.tap(mark(&format!("share-{}", key(&desk))));
    desk.wait_text(mark("link-size"), "characters; a link has at most 30000");
    let link = desk.property(css("#plan-link"), "value");
    let packed = link.split_once("#/take/").unwrap().1.to_owned();
    assert!((1_000..10_000).contains(&packed.len()), "{}", packed.len());
    desk.screenshot("sharing-link");
    let rows = "document.querySelectorAll('[data-test=\"plan-list\"] .plan-card').length";
    desk.evaluate(&format!("location.hash = '#/take/{packed}'"));
    desk.wait_text(mark("carried"), "19\u{a0}parts");
    assert_eq!(desk.evaluate(rows), 1);
    desk.tap(mark("carried-leave"));
    desk.wait_gone(mark("carried"));
    assert_eq!(desk.evaluate(rows), 1);
    desk.evaluate(&format!("location.hash = '#/take/{packed}'"));
    desk.tap(mark("carried-add"));
    desk.wait_for(mark("page-grid"));
    desk.evaluate("location.hash = '#/'");
    desk.wait_until("a second plan", || desk.evaluate(rows) == 2);
    // A link that was cut short is refused in words.
    desk.evaluate(&format!("location.hash = '#/take/{}'", &packed[..500]));
    desk.wait_text(mark("carried"), "What carries the plan is damaged");
    assert!(!desk.has(mark("carried-add")));
}

#[test]
fn a_friends_picture_is_compared_and_taken() {
    let desk = shelf();
    let ours = key(&desk);
    desk.tap(mark(&format!("share-{ours}")));
    let (name, svg) = desk.download(mark("share-picture"));
    assert!(name.ends_with(".svg"), "{name}");
    desk.tap(mark(&format!("compare-{ours}")));
    desk.upload(mark("compare-file"), "friend.bin", &svg);
    desk.wait_text(mark("no-difference"), "the same entries");
    // What the friend changed.
    let mut plan = lodewright_planner::planfile::open(&svg).unwrap().plan;
    plan.title = "By a friend".to_owned();
    plan.settings.friction = 0.25;
    let text = lodewright_planner::planfile::write(&plan).unwrap();
    desk.upload(mark("compare-file"), "friend.json", text.as_bytes());
    desk.wait_text(mark("differences"), "2\u{a0}entries");
    desk.tap(mark("difference-title"));
    desk.wait_text(mark("take"), "Take 1");
    desk.screenshot("sharing-differences");
    desk.tap(mark("take"));
    desk.wait_text(mark("differences"), "1\u{a0}entry");
    desk.wait_for(mark("difference-title"));
    desk.tap(mark("take"));
    desk.upload(mark("compare-file"), "bad.json", b"{\"format\": 1}");
    desk.wait_text(css(".notices"), "it must begin with");
}
