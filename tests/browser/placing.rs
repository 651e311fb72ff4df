//! From a pasted grid to sockets in their places: what is not placed is said and not worked out, each is placed by one tap, and the
//! deck plan has them all.

use crate::desk::Desk;
use crate::moves::{go, mark};
use crate::screen::Screen;
use crate::sketch::tap;

const GRID: &str = "\tHarbour\tSalvage\nHouse\tTall house\tLow house\nAft deck\tTow hook\tSpacer\nOn the spacer\t-\tPump\n";

/// The grid is pasted and the third socket sits on the spacer.
fn begin(desk: &Desk) {
    desk.open("");
    desk.tap(mark("new-plan"));
    desk.wait_for(mark("page-grid"));
    desk.tap(mark("paste-grid"));
    desk.fill(mark("paste-text"), GRID);
    desk.tap(mark("paste-take"));
    desk.wait_text(mark("unplaced"), "3 of 3");
}

#[test]
fn sockets_of_a_pasted_grid_are_placed_one_after_the_other() {
    for screen in [Screen::TABLET, Screen::PHONE] {
        let desk = Desk::new(screen);
        begin(&desk);
        // Poles and sizes are there already; nothing is drilled at a made-up place.
        desk.wait_text(mark("strip-poles"), "agree");
        desk.tap(mark("unplaced-go"));
        desk.wait_for(mark("page-sketch"));
        desk.wait_text(mark("sketch-hint"), "House: tap where it sits on Base");
        assert!(!desk.has(mark("mark-house")));
        desk.tap(mark("place-middle"));
        desk.wait_for(mark("mark-house"));
        desk.wait_text(mark("sketch-hint"), "Aft deck: tap where it sits on Base");
        desk.evaluate("document.querySelector('[data-test=\"drawing\"]').scrollIntoView({ block: 'center', behavior: 'instant' }), true");
        // Bare ground places nothing.
        tap(&desk, [0.0, -22.0]);
        desk.wait_text(mark("sketch-hint"), "No part is there");
        tap(&desk, [-25.0, 15.5]);
        desk.wait_for(mark("mark-aft-deck"));
        desk.wait_text(mark("placing"), "1\u{a0}socket has no place yet");
        desk.tap(mark("undo"));
        desk.wait_gone(mark("mark-aft-deck"));
        desk.tap(mark("redo"));
        desk.wait_for(mark("mark-aft-deck"));
        desk.tap(mark("place-later"));
        desk.tap(mark("place-again"));
        desk.tap(mark("place-middle"));
        desk.wait_gone(mark("placing"));
        go(&desk, "grid");
        desk.wait_gone(mark("unplaced"));
        desk.screenshot("placed");
        go(&desk, "print");
        desk.tap(mark("paper-decks"));
        desk.wait_text(mark("sheet"), "Base, top");
        desk.wait_text(mark("sheet"), "from the front edge");
        assert!(desk.has(mark("deck")));
        desk.screenshot("deck-plan");
    }
}
