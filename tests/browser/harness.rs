//! The harness watches itself: each thing a test may rely on is tried on a small page, and each failure it promises is provoked.

use crate::desk::Desk;
use crate::find::{css, named, role};
use crate::screen::Screen;
use serde_json::json;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Replaces the app by a small page; the content policy of the app stays in force, so handlers are attached from here.
fn small_page(body: &str, script: &str) -> Desk {
    let desk = Desk::new(Screen::TABLET);
    desk.open("");
    desk.wait_gone(css("#app main.shell"));
    // Past the policy, which lets no page make markup of text.
    let root = desk.devtools("DOM.getDocument", json!({}))["root"]["nodeId"].clone();
    let place = desk.devtools(
        "DOM.querySelector",
        json!({ "nodeId": root, "selector": "body" }),
    );
    let body = format!("<body>{body}</body>");
    desk.devtools(
        "DOM.setOuterHTML",
        json!({ "nodeId": place["nodeId"], "outerHTML": body }),
    );
    desk.evaluate(&format!("(() => {{ {script} }})()"));
    desk
}

/// The sentence with which the desk fails.
fn failure(body: impl FnOnce()) -> String {
    let panic = catch_unwind(AssertUnwindSafe(body)).expect_err("the desk should have failed");
    let text = panic.downcast_ref::<String>().cloned();
    text.or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned()))
        .expect("a panic with a text")
}

#[test]
fn fingers_keys_and_fields_reach_the_page() {
    let desk = small_page(
        "<button id=a>Add part</button><p id=said></p><label>Width <input id=w></label>
         <label>Grade <select id=g><option value=1>weak<option value=2>strong</select></label>",
        "const said = document.getElementById('said');
         document.getElementById('a').addEventListener('click', (event) => { said.textContent = 'tapped by ' + event.pointerType; });
         document.getElementById('w').addEventListener('change', (event) => { said.textContent = 'width ' + event.target.value; });
         document.getElementById('w').addEventListener('keydown', (event) => { said.textContent = 'key ' + event.key; });
         document.getElementById('g').addEventListener('change', (event) => { said.textContent = 'grade ' + event.target.value; });",
    );
    desk.tap("Add part");
    desk.wait_text(css("#said"), "tapped by touch");
    desk.fill("Width", "12.5");
    desk.wait_text(css("#said"), "width 12.5");
    desk.fill(role("textbox", "Width"), "8");
    assert_eq!(desk.text("Width"), "8");
    desk.tap(named("Width").within("body"));
    desk.press("ArrowUp");
    desk.wait_text(css("#said"), "key ArrowUp");
    desk.initial_sizes("Grade", "strong");
    desk.wait_text(css("#said"), "grade 2");
    assert!(!desk.has("Remove part"));
}

#[test]
fn files_go_out_and_in() {
    let desk = small_page(
        "<button id=save>Save</button><input id=file type=file hidden><p id=said></p>",
        "document.getElementById('save').addEventListener('click', () => {
             const link = document.createElement('a');
             link.href = URL.createObjectURL(new Blob(['a plan']));
             link.download = 'plan.json';
             link.click();
         });
         document.getElementById('file').addEventListener('change', async (event) => {
             document.getElementById('said').textContent = event.target.files[0].name + ': ' + await event.target.files[0].text();
         });",
    );
    assert_eq!(
        desk.download("Save"),
        ("plan.json".to_owned(), b"a plan".to_vec())
    );
    desk.upload(css("#file"), "other.json", b"another plan");
    desk.wait_text(css("#said"), "other.json: another plan");
}

#[test]
fn storage_outlives_a_reload_and_paper_comes_out() {
    let desk = small_page("<p>text on paper</p>", "");
    desk.store("key", "kept");
    let pdf = std::fs::read(desk.print_pdf("harness")).unwrap();
    assert!(pdf.starts_with(b"%PDF-"));
    let picture = std::fs::read(desk.screenshot("harness")).unwrap();
    assert!(picture.starts_with(b"\x89PNG"));
    desk.reload();
    desk.wait_gone(css("#app main.shell"));
    assert_eq!(desk.stored("key").as_deref(), Some("kept"));
    assert_eq!(desk.stored("other"), None);
}

#[test]
fn a_finger_drags() {
    let desk = small_page(
        "<button id=from>From</button><p id=said></p><button id=to>To</button>",
        "document.getElementById('from').style.touchAction = 'none';
         document.getElementById('from').addEventListener('pointerdown', (event) => event.target.releasePointerCapture(event.pointerId));
         document.getElementById('to').addEventListener('pointerup', (event) => { document.getElementById('said').textContent = 'dropped by ' + event.pointerType; });",
    );
    desk.drag("From", "To");
    desk.wait_text(css("#said"), "dropped by touch");
}

#[test]
fn a_provoked_error_can_be_taken_out_and_read() {
    let desk = small_page("", "");
    desk.evaluate("console.error('as provoked')");
    let errors = desk.take_console_errors();
    assert!(
        matches!(errors.as_slice(), [one] if one.contains("as provoked")),
        "{errors:?}"
    );
}

#[test]
fn a_console_error_fails_the_test() {
    let said = failure(|| {
        let desk = small_page("", "");
        desk.evaluate("console.error('this went wrong')");
        assert_eq!(desk.console_errors().len(), 1);
    });
    assert!(said.contains("this went wrong"), "{said}");
}

#[test]
fn an_uncaught_exception_fails_the_test() {
    let said = failure(|| {
        let desk = small_page(
            "",
            "setTimeout(() => { throw new Error('nobody caught this'); })",
        );
        desk.wait_until("the exception", || !desk.console_errors().is_empty());
    });
    assert!(said.contains("nobody caught this"), "{said}");
}

#[test]
fn a_request_to_the_outside_fails_the_test() {
    let said = failure(|| {
        let desk = small_page("", "location.href = 'http://outside.example/'");
        desk.wait_until("the request", || {
            desk.evaluate("location.href") != "about:blank"
        });
        std::thread::sleep(std::time::Duration::from_millis(500));
    });
    assert!(
        said.contains("request to the outside: http://outside.example/"),
        "{said}"
    );
}

#[test]
fn two_elements_of_one_name_are_not_guessed_between() {
    let desk = small_page(
        "<div id=a><button>Remove</button></div><div id=b><button>Remove</button></div>",
        "",
    );
    assert!(failure(|| desk.tap("Remove")).contains("2 elements are named"));
    desk.tap(named("Remove").within("#b"));
}

#[test]
fn what_lies_under_something_else_cannot_be_tapped() {
    let desk = small_page(
        "<button id=a>Under</button><dialog id=over>Over</dialog>",
        "document.getElementById('over').showModal()",
    );
    assert!(failure(|| desk.tap(css("#a"))).contains("can't be reached with a finger"));
}
