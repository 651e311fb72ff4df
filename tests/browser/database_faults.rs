//! A database that hangs, delays or opens late: nothing waits for it, nothing is lost by it, and the header tells.

use crate::desk::Desk;
use crate::moves::mark;
use crate::screen::Screen;
use crate::storage::{before_every_load, begin, newest};

/// Every opening hangs.
const OPEN_HANGS: &str = "IDBFactory.prototype.open = () => ({});";

/// Every transaction that writes hangs, until it is healed.
const WRITE_HANGS: &str = "
    const real = IDBDatabase.prototype.transaction;
    const never = { get: () => ({}), put() {}, delete() {} };
    IDBDatabase.prototype.transaction = function (stores, mode, options) {
        if (mode !== 'readwrite' || globalThis.healed) return real.call(this, stores, mode, options);
        return { objectStore: () => never, abort() {} };
    };";

/// Every transaction that writes takes two seconds: it is kept busy.
const WRITE_TAKES_TWO_SECONDS: &str = "
    const real = IDBDatabase.prototype.transaction;
    IDBDatabase.prototype.transaction = function (stores, mode, options) {
        const made = real.call(this, stores, mode, options);
        if (mode !== 'readwrite') return made;
        const end = performance.now() + 2000;
        const spin = () => { if (performance.now() < end) made.objectStore([...made.objectStoreNames][0]).get('none').onsuccess = spin; };
        spin();
        return made;
    };";

#[test]
fn a_database_that_never_opens_loses_nothing_and_is_told_of() {
    let desk = Desk::new(Screen::TABLET);
    before_every_load(&desk, OPEN_HANGS);
    begin(&desk);
    for name in ["First", "Second"] {
        desk.fill(mark("kit-name"), name);
        assert!(
            desk.stored("lodewright.plan.new-plan")
                .is_some_and(|text| text.contains(name)),
            "{name} is not in local storage at once"
        );
    }
    desk.wait_text(mark("save-state"), "does not answer");
    desk.type_into(mark("plan-note"), "Typed as well");
    desk.reload();
    desk.wait_until("the plan", || {
        desk.has(mark("kit-name")) && desk.text(mark("kit-name")) == "Second"
    });
    assert_eq!(desk.text(mark("plan-note")), "Typed as well");
}

#[test]
fn writes_that_never_answer_lose_none_of_eight_edits_and_are_made_up_for() {
    let desk = Desk::new(Screen::TABLET);
    before_every_load(&desk, WRITE_HANGS);
    begin(&desk);
    for n in 1..=8 {
        desk.fill(mark("kit-name"), &format!("Edit {n}"));
        let said = desk.text(mark("save-state"));
        assert!(
            !said.starts_with("Stored here") || said.contains("may lose the last minute"),
            "{said}"
        );
    }
    desk.wait_text(mark("save-state"), "does not answer");
    desk.reload();
    desk.wait_until("the plan", || {
        desk.has(mark("kit-name")) && desk.text(mark("kit-name")) == "Edit 8"
    });
    // It answers again: the next edit is written, and nothing is told any more.
    desk.evaluate("globalThis.healed = true");
    desk.fill(mark("kit-name"), "Healed");
    desk.wait_until("the database", || newest(&desk).contains("Healed"));
    desk.wait_until("the header", || {
        !desk.text(mark("save-state")).contains("may lose")
    });
}

#[test]
fn a_slow_write_does_not_cost_the_edit_behind_it() {
    let desk = Desk::new(Screen::TABLET);
    before_every_load(&desk, WRITE_TAKES_TWO_SECONDS);
    begin(&desk);
    desk.fill(mark("kit-name"), "First");
    desk.fill(mark("kit-name"), "Second");
    desk.reload();
    desk.wait_until("the plan", || {
        desk.has(mark("kit-name")) && desk.text(mark("kit-name")) == "Second"
    });
}

#[test]
fn a_follower_takes_over_what_was_edited_as_its_window_closed() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.fill(mark("kit-name"), "Before");
    desk.wait_text(mark("save-state"), "Stored here at");
    let mut kept = 0;
    for (round, wait_ms) in [0, 5, 10, 15, 20, 25, 30, 0].into_iter().enumerate() {
        let (first, second) = desk.further_window();
        desk.open("#/plan/new-plan/setup");
        desk.wait_for(mark("strip-follows"));
        desk.to_window(&first);
        let last = format!("Last of round {round}");
        // The window leaves the app so long after the edit: no driver is as quick.
        desk.evaluate(&format!(
            "(async () => {{
                const field = document.querySelector('[data-test=\"kit-name\"]');
                field.focus();
                field.value = '{last}';
                field.dispatchEvent(new InputEvent('input', {{ bubbles: true }}));
                await new Promise((done) => setTimeout(done, 0));
                field.dispatchEvent(new KeyboardEvent('keydown', {{ key: 'Enter', bubbles: true }}));
                setTimeout(() => {{ location.href = 'about:blank'; }}, {wait_ms});
            }})()"
        ));
        desk.to_window(&second);
        desk.wait_gone(mark("strip-follows"));
        desk.wait_until("the last edit", || desk.text(mark("kit-name")) == last);
        kept += 1;
        desk.to_window(&first);
        desk.close_window(&second);
    }
    assert_eq!(kept, 8);
}
