//! Without a network after the first visit, from any path; a new version waits until it is taken; a crash leaves ways out.

use crate::desk::Desk;
use crate::find::css;
use crate::moves::{go, mark};
use crate::screen::Screen;
use serde_json::{Value, json};

/// Waits until the service worker has the whole app and serves this page.
fn wait_for_worker(desk: &Desk) {
    desk.wait_until("the service worker", || {
        desk.evaluate("navigator.serviceWorker.controller?.state === 'activated'") == json!(true)
    });
}

#[test]
fn the_app_opens_again_without_a_network() {
    let profile = tempfile::tempdir().unwrap();
    let desk = Desk::with_profile(Screen::TABLET, profile.path());
    desk.open("");
    wait_for_worker(&desk);
    desk.tap(mark("new-plan"));
    go(&desk, "setup");
    desk.fill(mark("kit-name"), "Far from any network");
    desk.wait_text(mark("save-state"), "Stored here at");

    desk.offline(true);
    // Proof that nothing comes through: a file that is not part of the app.
    assert_eq!(
        desk.evaluate("fetch('not-there').then(() => 'came', () => 'cut off')"),
        json!("cut off")
    );
    desk.take_console_errors();
    desk.reload();
    desk.wait_until("the plan", || {
        desk.text(mark("kit-name")) == "Far from any network"
    });
    // Another page of it, another window, the worker behind the page, the way back to all plans.
    let (first, _) = desk.further_window();
    desk.offline(true);
    desk.open("?from=home#/plan/new-plan/grid");
    desk.wait_for(mark("page-grid"));
    desk.close_window(&first);
    desk.tap(mark("to-plans"));
    desk.tap(mark("open-demo"));
    go(&desk, "magnets");
    let sizes = desk.evaluate(
        "Promise.all(['worker.js', 'style.css', 'icon-192.png', 'manifest.webmanifest', 'app_bg.wasm'].map((file) => fetch(file).then((got) => got.ok)))",
    );
    assert_eq!(sizes, json!([true, true, true, true, true]));
}

/// A first visit whose network fails between the page of all plans and the rest.
#[test]
fn pages_that_did_not_come_are_asked_for_again() {
    let desk = Desk::new(Screen::PHONE);
    desk.devtools("Network.enable", json!({}));
    // The service worker would bring what the page itself does not get.
    desk.devtools("Network.setBypassServiceWorker", json!({ "bypass": true }));
    let block = |what: &[&str]| desk.devtools("Network.setBlockedURLs", json!({ "urls": what }));
    block(&["*split_pages*"]);
    desk.open("");
    desk.tap(mark("open-demo"));
    desk.wait_text(mark("notice"), "The demo is not on this device yet");
    desk.tap(mark("notice-close"));
    desk.tap(mark("new-plan"));
    desk.wait_text(css("main"), "could not be fetched");
    desk.screenshot("page-that-did-not-come");
    desk.take_console_errors();
    block(&[]);
    desk.tap(mark("fetch-again"));
    desk.wait_for(mark("page-grid"));
    // The plan that was begun meanwhile is there, and the demo comes too.
    desk.tap(mark("to-plans"));
    desk.tap(mark("open-demo"));
    desk.wait_for(mark("page-grid"));
}

#[test]
fn it_can_be_installed() {
    let desk = Desk::new(Screen::PHONE);
    desk.open("");
    wait_for_worker(&desk);
    let manifest = desk.devtools("Page.getAppManifest", json!({}));
    assert_eq!(manifest["errors"], json!([]), "{manifest}");
    let errors = desk.devtools("Page.getInstallabilityErrors", json!({}));
    // A profile that cannot install at all says so of itself, not of the page.
    let of_page: Vec<&Value> = errors["installabilityErrors"]
        .as_array()
        .into_iter()
        .flatten()
        .filter(|error| error["errorId"] != "in-incognito")
        .collect();
    assert!(of_page.is_empty(), "{of_page:?}");
}

#[test]
fn a_new_version_waits_until_it_is_taken() {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    wait_for_worker(&desk);
    desk.tap(mark("new-plan"));
    go(&desk, "setup");
    desk.fill(mark("kit-name"), "Kept over the change");
    // The same build under another address of the worker is a new worker to the browser.
    desk.evaluate(
        "navigator.serviceWorker.register('sw.js?next', { updateViaCache: 'none' }).then(() => true)",
    );
    desk.wait_for(mark("strip-version"));
    desk.evaluate("globalThis.here = 'still the old page'");
    assert_eq!(desk.text(mark("kit-name")), "Kept over the change");
    desk.tap(mark("strip-version-do"));
    desk.wait_until("the page to load anew", || {
        desk.evaluate("globalThis.here ?? null").is_null()
    });
    desk.wait_until("the plan", || {
        desk.text(mark("kit-name")) == "Kept over the change"
    });
    assert_eq!(
        desk.evaluate("navigator.serviceWorker.controller.scriptURL.endsWith('?next')"),
        json!(true)
    );
    // The page registers the worker by its own address again, which to the browser is the next new version: it waits in turn.
}

#[test]
fn a_crash_leaves_the_plan_and_a_report() {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.tap(mark("new-plan"));
    go(&desk, "setup");
    desk.fill(mark("kit-name"), "Secret kit");
    desk.wait_text(mark("save-state"), "Stored here at");
    desk.fill(mark("kit-name"), "Secret kit again");
    desk.wait_text(mark("save-state"), "Stored here at");
    desk.evaluate("lodewrightCrashed('panicked at web/src/somewhere.rs:1:2: about Secret kit')");
    desk.wait_for(css("#crash"));

    let (name, bytes) = desk.download(mark("crash-save-new-plan"));
    assert!(name.ends_with(".lodewright.json"), "{name}");
    assert!(String::from_utf8_lossy(&bytes).contains("Secret kit again"));

    let (_, bytes) = desk.download(mark("crash-report"));
    let report: Value = serde_json::from_slice(&bytes).unwrap();
    assert_eq!(report["said"], "web/src/somewhere.rs:1:2");
    let names: Vec<_> = report["actions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|action| action["name"].as_str().unwrap())
        .collect();
    assert!(
        names.iter().filter(|name| **name == "set-kit").count() == 2,
        "{names:?}"
    );
    assert!(!String::from_utf8_lossy(&bytes).contains("Secret"));

    let (_, bytes) = desk.download(mark("crash-report-whole"));
    let whole = String::from_utf8_lossy(&bytes);
    assert!(
        whole.contains("Secret kit again") && whole.contains("base"),
        "{whole}"
    );
}
