//! In the browser, every sample plan's report must have the bytes that this project's native build made.

#![cfg(target_family = "wasm")]

use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

/// Name, plan and native report of each sample; `cargo xtask test --only reports` writes the list.
const CASES: &[(&str, &[u8], &str)] = include!(concat!(env!("REPORTS"), "/cases.rs"));

#[wasm_bindgen_test]
fn every_sample_gives_the_native_bytes() {
    assert!(!CASES.is_empty(), "there is nothing to compare");
    for (name, plan, native) in CASES {
        let report =
            lodewright_planner::report_json(plan).unwrap_or_else(|error| panic!("{name}: {error}"));
        // A program may end its output with a line feed.
        let (browser, native) = (report.trim_end_matches('\n'), native.trim_end_matches('\n'));
        let same = browser
            .bytes()
            .zip(native.bytes())
            .take_while(|(a, b)| a == b)
            .count();
        let around = |text: &str| {
            String::from_utf8_lossy(
                &text.as_bytes()
                    [same.saturating_sub(60).min(text.len())..(same + 60).min(text.len())],
            )
            .into_owned()
        };
        assert!(
            browser == native,
            "{name} differs at byte {same}:\n browser {}\n native  {}",
            around(browser),
            around(native)
        );
    }
}
