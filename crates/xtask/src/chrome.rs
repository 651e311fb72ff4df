//! Headless Chromium for wasm tests: its flags, and the runner that cargo calls with each compiled test file.

use crate::setup;
use anyhow::{Context, Result};
use serde_json::{Value, json};
use std::ffi::OsString;
use std::path::Path;

/// A quiet browser that reaches for nothing outside: no first-run pages, updates, sync or background traffic.
pub const FLAGS: [&str; 8] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
];

/// Runs one wasm test file; `arguments` are its path and the harness's own arguments.
pub fn run_wasm_tests(arguments: Vec<OsString>) -> Result<()> {
    let mut arguments = arguments.into_iter();
    let file = arguments
        .next()
        .context("the runner needs the path of a wasm file")?;
    let file = std::path::absolute(file)?;
    // The runner reads webdriver.json where it stands: a folder of its own keeps the profile fresh and the sources clean.
    let folder = tempfile::tempdir()?;
    let options = capabilities(&setup::browser()?.chromium, &folder.path().join("profile"));
    std::fs::write(folder.path().join("webdriver.json"), options.to_string())?;
    std::env::set_current_dir(folder.path())?;
    // `cargo test --quiet` hands its flag on, which this runner does not know.
    let arguments = arguments.filter(|argument| argument != "--quiet");
    let all = [OsString::from("wasm-bindgen-test-runner"), file.into()]
        .into_iter()
        .chain(arguments);
    wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(all)
}

fn capabilities(chromium: &Path, profile: &Path) -> Value {
    let profile = format!("--user-data-dir={}", profile.display());
    let flags: Vec<&str> = FLAGS.into_iter().chain([profile.as_str()]).collect();
    json!({ "goog:chromeOptions": { "binary": chromium, "args": flags } })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_browser_gets_a_profile_of_its_own() {
        let options = capabilities(Path::new("/opt/chromium"), Path::new("/tmp/fresh"));
        let flags = options["goog:chromeOptions"]["args"].as_array().unwrap();
        assert_eq!(flags.len(), FLAGS.len() + 1);
        assert!(flags.contains(&json!("--user-data-dir=/tmp/fresh")));
    }
}
