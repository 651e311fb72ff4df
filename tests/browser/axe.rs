//! Accessibility by axe-core (an open rule engine for WCAG 2.2 and good practice; Deque, MPL-2.0): every page, both themes, lying,
//! upright and on a telephone. axe finds what a machine can find; it does not replace looking.

use crate::desk::Desk;
use crate::find::css;
use crate::moves::{PAGES, go, mark};
use crate::screen::Screen;
use serde_json::{Value, json};

/// What axe complains of on the page as it is now, as `rule: element`.
pub fn complaints(desk: &Desk) -> Vec<String> {
    if desk.evaluate("typeof axe") == json!("undefined") {
        let file = std::env::var("AXE")
            .expect("AXE names axe-core's script; `cargo xtask test --only browser` sets it");
        let script = std::fs::read_to_string(&file).expect("reading axe-core");
        desk.evaluate(&format!("{script}; true"));
    }
    let found = desk.evaluate(
        "axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'], rules: { 'td-has-header': { enabled: true }, 'scrollable-region-focusable': { enabled: true } } })
            .then(r => r.passes.length === 0 ? ['axe checked nothing']
                : r.violations.flatMap(v => v.nodes.map(n => `${v.id}: ${n.target.join(' ')} ${n.failureSummary}`)))",
    );
    serde_json::from_value(found).expect("a list of words")
}

/// Lets fading notices and colours come to rest, since axe reads the colours of the moment.
pub fn rest(desk: &Desk) {
    desk.wait_until("animations to end", || {
        desk.evaluate("document.getAnimations().every(a => a.playState !== 'running')")
            == Value::Bool(true)
    });
}

#[test]
fn axe_finds_nothing_on_any_page() {
    let screens = [
        ("tablet", Screen::TABLET),
        ("tablet dark", Screen::TABLET.dark()),
        ("upright", Screen::TABLET_UPRIGHT),
        ("upright dark", Screen::TABLET_UPRIGHT.dark()),
        ("phone", Screen::PHONE),
        ("phone dark", Screen::PHONE.dark()),
    ];
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.wait_for(mark("open-demo"));
    rest(&desk);
    let mut all: Vec<String> = complaints(&desk)
        .into_iter()
        .map(|c| format!("plans on tablet: {c}"))
        .collect();
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
    for (name, screen) in screens {
        desk.show_on(screen);
        for page in PAGES {
            go(&desk, page);
            if page == "joints" {
                // What is folded away counts too.
                desk.evaluate("document.querySelectorAll('.joint-detail details').forEach(d => d.open = true), true");
            }
            rest(&desk);
            all.extend(
                complaints(&desk)
                    .into_iter()
                    .map(|c| format!("{page} on {name}: {c}")),
            );
        }
    }
    assert!(
        all.is_empty(),
        "{} complaints:\n{}",
        all.len(),
        all.join("\n")
    );
}

/// The check can fail: a picture without a word for it is found.
#[test]
fn axe_finds_a_fault_that_is_there() {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.wait_gone(css("#app main.shell"));
    desk.wait_for(css("#app > *"));
    desk.evaluate("document.querySelector('#app').append(document.createElement('img')), true");
    let found = complaints(&desk);
    assert!(
        found.iter().any(|c| c.starts_with("image-alt")),
        "{found:?}"
    );
}
