//! Moves that several tests make: finding by test mark, going from page to page.

use crate::desk::Desk;
use crate::find::{Find, css};
use serde_json::json;

/// The pages of an open plan, as their addresses name them.
pub const PAGES: [&str; 10] = [
    "grid", "sketch", "parts", "joints", "magnets", "bench", "swap", "compare", "print", "setup",
];

/// An element by its mark for tests.
pub fn mark(word: &str) -> Find {
    css(&format!("[data-test=\"{word}\"]"))
}

/// Goes to a page of the open plan by its navigation.
pub fn go(desk: &Desk, page: &str) {
    let entry = mark(&format!("nav-{page}"));
    desk.wait_for(css("nav.pages"));
    let shown = format!(
        "document.querySelector('[data-test=\"nav-{page}\"]')?.getClientRects().length > 0"
    );
    if desk.evaluate(&shown) != json!(true) {
        desk.tap(mark("nav-more"));
    }
    desk.tap(entry);
    desk.wait_for(mark(&format!("page-{page}")));
}
