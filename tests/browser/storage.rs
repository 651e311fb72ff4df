//! Keeping in the browser: through to the disk, in several windows, refused, full, damaged.

use crate::desk::Desk;
use crate::moves::{go, mark};
use crate::screen::Screen;
use serde_json::{Value, json};

/// A plan of its own, open on the page of the kit.
pub fn begin(desk: &Desk) {
    desk.open("");
    desk.tap(mark("new-plan"));
    desk.wait_for(mark("page-grid"));
    go(desk, "setup");
}

/// Every slot of the database, newest first: its number and its text.
fn slots(desk: &Desk) -> Vec<Value> {
    let found = desk.evaluate(
        "lodewrightDatabase.read().then((all) => JSON.parse(all).map(([key, record]) => {
            const end = record.indexOf('\\n');
            return { key, ...JSON.parse(record.slice(0, end)), text: record.slice(end + 1) };
        }).sort((a, b) => b.number - a.number))",
    );
    found.as_array().cloned().unwrap_or_default()
}

pub fn newest(desk: &Desk) -> String {
    let text = slots(desk).first().map(|slot| slot["text"].clone());
    text.and_then(|t| t.as_str().map(str::to_owned))
        .unwrap_or_default()
}

#[test]
fn every_change_reaches_the_database_within_a_quarter_of_a_second() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    // Changes without a pause: none of them may put the writing off.
    let longest = desk.evaluate(
        "(async () => {
            const field = document.querySelector('[data-test=\"kit-name\"]');
            const pause = (ms) => new Promise((done) => setTimeout(done, ms));
            const made = [];
            let longest = 0;
            const look = async () => {
                const record = await lodewrightDatabase.latest('new-plan');
                const kept = Number(/run (\\d+)/.exec(record ?? '')?.[1] ?? 0);
                const now = performance.now();
                for (const [n, at] of made) if (n > kept) longest = Math.max(longest, now - at);
                while (made.length && made[0][0] <= kept) made.shift();
            };
            for (let n = 1; n <= 60; n += 1) {
                field.focus();
                field.value = `run ${n}`;
                field.dispatchEvent(new InputEvent('input', { bubbles: true }));
                await pause(0);
                field.blur();
                made.push([n, performance.now()]);
                await pause(20);
                await look();
            }
            for (let n = 0; n < 100 && made.length; n += 1) { await pause(10); await look(); }
            return made.length ? -1 : Math.round(longest);
        })()",
    );
    let longest = longest.as_f64().unwrap_or(-1.0);
    println!("longest time from a change to the database: {longest} ms");
    // Timings on a busy machine are no tests; but a change that waits for the others would wait for all of them.
    assert!((0.0..1000.0).contains(&longest), "{longest} ms");
    let slots = slots(&desk);
    assert_eq!(slots.len(), 2, "two slots alternate");
    let number = |n: usize| slots[n]["number"].as_u64().unwrap();
    assert!(number(0) > number(1));
}

#[test]
fn the_database_outlives_local_storage_and_the_other_way_round() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.fill(mark("kit-name"), "Kept twice");
    desk.wait_until("the database", || newest(&desk).contains("Kept twice"));
    assert!(
        desk.stored("lodewright.plan.new-plan")
            .unwrap()
            .contains("Kept twice")
    );
    desk.evaluate("localStorage.clear()");
    desk.reload();
    desk.wait_until("the plan", || desk.text(mark("kit-name")) == "Kept twice");
    // The reload finds the copies uneven and evens them out.
    desk.wait_until("local storage", || {
        desk.stored("lodewright.plan.new-plan")
            .is_some_and(|t| t.contains("Kept twice"))
    });
    desk.evaluate(
        "new Promise((done) => { const open = indexedDB.open('lodewright'); open.onsuccess = () => {
            const change = open.result.transaction(['slots'], 'readwrite');
            change.objectStore('slots').clear();
            change.oncomplete = () => { open.result.close(); done(true); };
        }; })",
    );
    desk.reload();
    desk.wait_until("the plan", || desk.text(mark("kit-name")) == "Kept twice");
}

#[test]
fn a_torn_newest_state_leaves_the_one_before() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    for name in ["First", "Second"] {
        desk.fill(mark("kit-name"), name);
        desk.wait_until("the database", || newest(&desk).contains(name));
    }
    desk.evaluate(
        "new Promise((done) => { const open = indexedDB.open('lodewright'); open.onsuccess = async () => {
            const best = JSON.parse(await lodewrightDatabase.read()).sort((a, b) => JSON.parse(b[1].split('\\n')[0]).number - JSON.parse(a[1].split('\\n')[0]).number)[0];
            const change = open.result.transaction(['slots'], 'readwrite');
            change.objectStore('slots').put(best[1].slice(0, best[1].length - 40), best[0]);
            change.oncomplete = () => { localStorage.clear(); open.result.close(); done(true); };
        }; })",
    );
    desk.reload();
    desk.wait_until("the state before", || {
        desk.text(mark("kit-name")) == "First"
    });
}

#[test]
fn one_window_edits_and_the_other_follows_or_takes_over() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.fill(mark("kit-name"), "From the first");
    desk.wait_text(mark("save-state"), "Stored here at");
    let (first, second) = desk.further_window();
    desk.open("#/plan/new-plan/setup");
    desk.wait_for(mark("strip-follows"));
    assert_eq!(desk.text(mark("kit-name")), "From the first");

    desk.fill(mark("kit-name"), "Not taken");
    desk.wait_text(mark("notice"), "Another window edits this plan");

    desk.to_window(&first);
    assert!(!desk.has(mark("strip-follows")));
    desk.fill(mark("kit-name"), "Live");
    desk.wait_until("the database", || newest(&desk).contains("Live"));
    desk.to_window(&second);
    desk.wait_until("the change to arrive", || {
        desk.text(mark("kit-name")) == "Live"
    });

    desk.tap(mark("strip-follows-do"));
    desk.wait_gone(mark("strip-follows"));
    desk.fill(mark("kit-name"), "From the second");
    desk.wait_until("the database", || newest(&desk).contains("From the second"));
    desk.to_window(&first);
    desk.wait_for(mark("strip-follows"));
    desk.wait_until("the change to arrive", || {
        desk.text(mark("kit-name")) == "From the second"
    });

    // The window that edits is closed: the other takes its place by itself.
    desk.to_window(&second);
    desk.close_window(&first);
    desk.wait_gone(mark("strip-follows"));
    desk.fill(mark("kit-name"), "Alone again");
    desk.wait_until("the database", || newest(&desk).contains("Alone again"));
    desk.tap(mark("undo"));
    desk.wait_until("undo", || desk.text(mark("kit-name")) == "From the second");
}

#[test]
fn a_newer_state_in_the_database_is_not_written_over() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.fill(mark("kit-name"), "Ours");
    desk.wait_until("the database", || newest(&desk).contains("Ours"));
    // As a window would leave it that this one never heard of.
    desk.evaluate(
        "(async () => {
            const best = await lodewrightDatabase.latest('new-plan');
            const end = best.indexOf('\\n');
            const text = best.slice(end + 1).replace('Ours', 'Theirs');
            const number = JSON.parse(best.slice(0, end)).number + 5;
            const bytes = new TextEncoder().encode(text);
            let sum = -1;
            for (const byte of bytes) { sum ^= byte; for (let bit = 0; bit < 8; bit += 1) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1; }
            const crc32 = ((sum ^ -1) >>> 0).toString(16).padStart(8, '0');
            await lodewrightDatabase.write('new-plan', number - 1, JSON.stringify({ number, at_ms: Date.now(), bytes: bytes.length, crc32 }) + '\\n' + text);
        })()",
    );
    desk.fill(mark("kit-name"), "Ours again");
    desk.wait_text(mark("notice"), "changed in another window");
    assert_eq!(desk.text(mark("kit-name")), "Theirs");
    desk.tap(mark("undo"));
    desk.wait_until("undo", || desk.text(mark("kit-name")) == "Ours again");
    desk.wait_until("the database", || newest(&desk).contains("Ours again"));
}

#[test]
fn a_deleted_plan_stays_deleted() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.wait_text(mark("save-state"), "Stored here at");
    desk.tap(mark("to-plans"));
    desk.tap(mark("delete-new-plan"));
    desk.wait_until("the mark of deletion", || {
        slots(&desk).first().is_some_and(|slot| slot["text"] == "")
    });
    desk.reload();
    desk.wait_for(mark("page-plans"));
    assert!(!desk.has(mark("plan-list")));
}

#[test]
fn a_deleted_plan_is_brought_back_after_edits_and_a_reload() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.fill(mark("kit-name"), "Wanted after all");
    desk.wait_until("the database", || {
        newest(&desk).contains("Wanted after all")
    });
    desk.tap(mark("to-plans"));
    desk.tap(mark("delete-new-plan"));
    desk.wait_for(mark("restore-new-plan"));
    // Another plan of the same title does not take its place, and its edits take nothing away.
    desk.tap(mark("new-plan"));
    desk.wait_for(mark("page-grid"));
    go(&desk, "setup");
    desk.fill(mark("kit-name"), "Something else");
    desk.wait_text(mark("save-state"), "Stored here at");
    desk.tap(mark("to-plans"));
    desk.reload();
    desk.wait_for(mark("plan-new-plan-2"));
    desk.tap(mark("restore-new-plan"));
    desk.tap(mark("open-new-plan"));
    desk.wait_for(mark("page-grid"));
    go(&desk, "setup");
    assert_eq!(desk.text(mark("kit-name")), "Wanted after all");
    desk.tap(mark("to-plans"));
    assert!(!desk.has(mark("deleted")));
    // For good.
    desk.tap(mark("delete-new-plan-2"));
    desk.tap(mark("forget-new-plan-2"));
    desk.wait_gone(mark("deleted"));
    desk.reload();
    desk.wait_for(mark("plan-new-plan"));
    assert!(!desk.has(mark("deleted")));
}

/// Has the page's script run first on every load.
pub fn before_every_load(desk: &Desk, script: &str) {
    desk.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({ "source": script }),
    );
}

#[test]
fn a_full_or_closed_storage_is_told_and_a_file_is_the_way_out() {
    let refusals = [
        ("QuotaExceededError", "is full"),
        ("SecurityError", "store nothing"),
    ];
    for (name, words) in refusals {
        let desk = Desk::new(Screen::TABLET);
        before_every_load(
            &desk,
            &format!(
                "const refuse = () => {{ throw new DOMException('refused', '{name}'); }};
                 Storage.prototype.setItem = refuse;
                 IDBObjectStore.prototype.put = refuse;"
            ),
        );
        begin(&desk);
        desk.fill(mark("kit-name"), "Nowhere to go");
        desk.wait_text(mark("save-state"), "Not stored");
        desk.wait_text(mark("save-state"), words);
        let (_, bytes) = desk.download(mark("strip-unsaved-do"));
        assert!(String::from_utf8_lossy(&bytes).contains("Nowhere to go"));
    }
}

/// As the browser itself has it: five megabytes of local storage, and a database beside it.
#[test]
fn full_local_storage_costs_nothing_while_there_is_a_database() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.fill(mark("kit-name"), "There was room");
    desk.wait_until("the database", || newest(&desk).contains("There was room"));
    desk.evaluate(
        "(() => {
            for (let size = 4 << 20; size > 0; size >>= 1)
                for (let n = 0; n < 3; n += 1) try { localStorage.setItem(`fill-${size}-${n}`, 'x'.repeat(size)); } catch { break; }
        })()",
    );
    desk.fill(mark("kit-name"), &"No room any more ".repeat(5));
    desk.wait_until("the database", || {
        newest(&desk).contains("No room any more")
    });
    let local = desk.stored("lodewright.plan.new-plan").unwrap();
    assert!(
        local.contains("There was room"),
        "local storage was not full"
    );
    desk.wait_text(mark("save-state"), "Stored here at");
    desk.reload();
    desk.wait_until("the plan", || {
        desk.text(mark("kit-name")).starts_with("No room")
    });
}

#[test]
fn two_windows_at_once_never_write_over_each_other() {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.wait_for(mark("page-plans"));
    // Each window counts up a plan of its own making three hundred times, without any lock, as fast as it can.
    let count = "(async () => {
        const record = (number) => JSON.stringify({ number, at_ms: 1, bytes: 1, crc32: 'e8b7be43' }) + '\\na';
        let written = 0, refused = 0, known = 0;
        while (written < 300) {
            const newer = await lodewrightDatabase.write('count', known, record(known + 1));
            if (newer && newer !== 'past') { refused += 1; known = JSON.parse(newer.split('\\n')[0]).number; }
            else { written += 1; known += 1; }
        }
        return [written, refused];
    })()";
    desk.evaluate(&format!("void (globalThis.counted = {count})"));
    let (first, _) = desk.further_window();
    desk.open("");
    desk.wait_for(mark("page-plans"));
    let second = desk.evaluate(count);
    let number = || {
        slots(&desk)
            .first()
            .and_then(|slot| slot["number"].as_u64())
    };
    let here = slots(&desk).len();
    desk.to_window(&first);
    let before = desk.evaluate("counted");
    println!("written and refused: {before} and {second}");
    assert_eq!(here, 2);
    assert_eq!(
        number(),
        Some(600),
        "every write that was taken is in the number"
    );
    // Nothing more of this plan, which is none.
    desk.evaluate("lodewrightDatabase.write('count', 1e9, JSON.stringify({ number: 601, at_ms: 1, bytes: 0, crc32: '00000000' }) + '\\n')");
}

#[test]
fn without_a_database_the_page_says_what_a_crash_may_cost() {
    let desk = Desk::new(Screen::TABLET);
    before_every_load(
        &desk,
        "IDBFactory.prototype.open = () => { throw new DOMException('none', 'SecurityError'); };",
    );
    begin(&desk);
    desk.fill(mark("kit-name"), "Local alone");
    desk.wait_text(mark("save-state"), "may lose the last minute");
    desk.reload();
    desk.wait_until("the plan", || desk.text(mark("kit-name")) == "Local alone");
}

#[test]
fn an_earlier_state_comes_back() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.fill(mark("kit-name"), "In the morning");
    desk.wait_until("the database", || newest(&desk).contains("In the morning"));
    // The first change of a sitting puts by what was there before it.
    desk.reload();
    desk.wait_until("the plan", || {
        desk.text(mark("kit-name")) == "In the morning"
    });
    desk.fill(mark("kit-name"), "In the evening");
    desk.wait_until("the database", || newest(&desk).contains("In the evening"));
    go(&desk, "grid");
    go(&desk, "setup");
    desk.tap(mark("earlier"));
    desk.tap(mark("earlier-back"));
    desk.wait_until("the state", || {
        desk.text(mark("kit-name")) == "In the morning"
    });
    desk.tap(mark("undo"));
    desk.wait_until("undo", || desk.text(mark("kit-name")) == "In the evening");
    desk.tap(mark("earlier-copy"));
    desk.wait_for(mark("page-grid"));
    go(&desk, "setup");
    desk.wait_until("the copy", || {
        desk.text(mark("kit-name")) == "In the morning"
    });
}

#[test]
fn many_changes_without_a_file_are_reminded_of() {
    let desk = Desk::new(Screen::TABLET);
    begin(&desk);
    desk.wait_text(mark("save-state"), "Stored here at");
    assert!(!desk.has(mark("strip-remind")));
    desk.evaluate(
        "(() => {
            const [head, ...text] = localStorage.getItem('lodewright.plan.new-plan').split('\\n');
            localStorage.setItem('lodewright.plan.new-plan', [JSON.stringify({ ...JSON.parse(head), number: 60 }), ...text].join('\\n'));
        })()",
    );
    desk.reload();
    desk.wait_text(mark("strip-remind"), "60 changes");
    desk.download(mark("strip-remind-do"));
    desk.wait_gone(mark("strip-remind"));
    desk.reload();
    desk.wait_for(mark("page-setup"));
    desk.wait_text(mark("last-file"), "Last saved as a file");
    assert!(!desk.has(mark("strip-remind")));
}
