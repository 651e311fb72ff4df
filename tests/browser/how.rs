//! The page on how the numbers are made: reached from a joint and from the list, its subjects found, no rule of axe broken.

use crate::axe::{complaints, rest};
use crate::desk::Desk;
use crate::find::{css, role};
use crate::moves::{go, mark};
use crate::screen::Screen;
use serde_json::json;

#[test]
fn how_the_numbers_are_made_is_read_on_a_telephone() {
    let desk = Desk::new(Screen::PHONE);
    desk.open("");
    desk.tap(role("link", "How the numbers are made"));
    desk.wait_for(mark("page-how"));
    for screen in [Screen::PHONE, Screen::PHONE.dark(), Screen::TABLET] {
        desk.show_on(screen);
        rest(&desk);
        assert_eq!(complaints(&desk), Vec::<String>::new(), "{screen:?}");
        let wider = desk.evaluate("document.documentElement.scrollWidth - innerWidth");
        assert!(wider.as_i64().unwrap() <= 0, "{wider} px too wide");
    }
    desk.show_on(Screen::PHONE);
    desk.tap(role("link", "Work order and its bound"));
    let at_top =
        "(t => t > 0 && t < 200)(document.getElementById('how-order').getBoundingClientRect().top)";
    desk.wait_until("the subject under the header", || {
        desk.evaluate(at_top) == json!(true)
    });
    assert_eq!(
        desk.evaluate("document.activeElement.id"),
        json!("how-order")
    );
    desk.screenshot("how-order");

    desk.open("");
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
    desk.show_on(Screen::TABLET);
    go(&desk, "joints");
    desk.tap(css("[data-test=\"formulas-fold\"]"));
    desk.tap(mark("to-how-hold"));
    desk.wait_until("holding under the header", || {
        desk.evaluate("(t => t > 0 && t < 200)(document.getElementById('how-hold')?.getBoundingClientRect().top)") == json!(true)
    });
    desk.screenshot("how-hold");
    // The plan is still open beside it.
    go(&desk, "joints");
}
