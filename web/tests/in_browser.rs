//! What only a browser can tell, in headless Chromium: its own local storage, its refusal when that is full, and that the
//! core answers there.
#![cfg(target_arch = "wasm32")]
#![expect(
    clippy::expect_used,
    reason = "a test that cannot make its plan has failed"
)]

use lodewright_planner::Analysis;
use lodewright_planner::kit::{Edit, Plan};
use lodewright_planner::planfile;
use lodewright_web::pages;
use lodewright_web::storage::{BrowserStorage, key_of, recover};
use lodewright_web::store::Content;
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

/// The browser's storage without what earlier tests left.
fn fresh() -> BrowserStorage {
    let place = BrowserStorage::open();
    for key in place.keys() {
        place.remove(&key);
    }
    place
}

fn grid() -> Plan {
    let grid = "\tWinter\tWorks\nNose\tPlough\tHook\n".to_owned();
    Plan::empty("Railcar")
        .edited(&Edit::PasteGrid(grid))
        .expect("a plan")
}

#[wasm_bindgen_test]
fn a_plan_comes_back_from_local_storage() {
    let place = fresh();
    let text = planfile::write(&grid()).expect("a file");
    place.set(&key_of("one"), &text).expect("room");
    place.set(&key_of("two"), "not a plan").expect("room");
    let shelf = recover(&place.plans(), &[]).shelf;
    let plans: Vec<_> = shelf
        .iter()
        .filter_map(|e| e.track())
        .map(|t| (*t.plan).clone())
        .collect();
    assert_eq!(plans, [grid()]);
    let damaged = shelf
        .iter()
        .filter(|e| matches!(e.content, Content::Damaged { .. }))
        .count();
    assert_eq!(
        damaged, 1,
        "what is no plan is shown as damaged, not dropped"
    );
    place.remove(&key_of("one"));
    assert!(place.get(&key_of("one")).is_none());
}

#[wasm_bindgen_test]
fn a_full_storage_says_so_and_keeps_what_it_had() {
    let place = fresh();
    place.set("small", "kept").expect("room");
    let said = place
        .set("huge", &"x".repeat(6 * 1024 * 1024))
        .expect_err("5 MB is the browser's limit");
    assert!(said.contains("full"), "{said}");
    assert_eq!(place.get("small").as_deref(), Some("kept"));
    fresh();
}

#[wasm_bindgen_test]
fn the_demo_has_answers_here_too() {
    let answers = Analysis::of(pages::demo().expect("the demo")).expect("answers");
    assert_eq!(answers.contradictions().len(), 1);
    assert!(answers.order().steps.len() > 100 && answers.buy().cost_cents > 0);
}
