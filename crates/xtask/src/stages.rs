//! `cargo xtask test`: the stages in order, each named and timed, and the count at the end.

use crate::workspace::{self, WASM};
use crate::{Profile, bundle, command, fuzz, server, setup, tidy};
use anyhow::{Result, bail};
use clap::ValueEnum;
use std::path::PathBuf;
use std::process::Command;
use std::time::Instant;

mod reports;

/// One part of the test run.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Stage {
    /// The rules that the compiler does not check
    Tidy,
    /// Every package's tests on this machine
    Native,
    /// The fuzzers, for a counted while
    Fuzz,
    /// The documentation, private items too, with warnings as errors, and the examples in it
    Doc,
    /// The tests that need a browser's wasm machine, in headless Chromium
    Wasm,
    /// Reports of the sample plans, native against browser, byte for byte
    Reports,
    /// The served app in Chromium, from end to end
    Browser,
}

/// How a stage ended without failing.
pub enum Ended {
    /// All was checked.
    Passed,
    /// There was nothing to check yet; the text says why.
    Skipped(&'static str),
}

impl Stage {
    fn run(self) -> Result<Ended> {
        match self {
            Stage::Tidy => tidy::run().map(passed),
            Stage::Native => native().map(passed),
            Stage::Fuzz => fuzz::short(),
            Stage::Doc => doc().map(passed),
            Stage::Wasm => wasm().map(passed),
            Stage::Reports => reports::run(),
            Stage::Browser => browser().map(passed),
        }
    }

    fn name(self) -> String {
        format!("{self:?}").to_lowercase()
    }
}

fn passed((): ()) -> Ended {
    Ended::Passed
}

/// Runs all stages, or the one given, and fails when one of them did.
pub fn run(only: Option<Stage>) -> Result<()> {
    let stages = only.map_or_else(|| Stage::value_variants().to_vec(), |stage| vec![stage]);
    let (mut passed, mut skipped, mut failed) = (0, 0, Vec::new());
    for stage in stages {
        println!("\n== {}", stage.name());
        let start = Instant::now();
        let ended = stage.run();
        let seconds = start.elapsed().as_secs_f64();
        match ended {
            Ok(Ended::Passed) => {
                passed += 1;
                println!("== {} passed in {seconds:.1} s", stage.name());
            }
            Ok(Ended::Skipped(reason)) => {
                skipped += 1;
                println!("== {} skipped: {reason}", stage.name());
            }
            Err(error) => {
                println!("== {} FAILED in {seconds:.1} s: {error:#}", stage.name());
                failed.push(stage.name());
            }
        }
    }
    println!(
        "\nstages: {passed} passed, {} failed, {skipped} skipped",
        failed.len()
    );
    if !failed.is_empty() {
        bail!("failed: {}", failed.join(", "));
    }
    Ok(())
}

fn native() -> Result<()> {
    let mut tests = command::cargo();
    tests.args([
        "test",
        "--quiet",
        "--workspace",
        "--lib",
        "--bins",
        "--tests",
        "--examples",
        // The published schema is held against the types.
        "--features",
        "lodewright-planfile/schema",
    ]);
    one_seed(&mut tests);
    command::run(&mut tests)
}

/// A run can be repeated: random cases of tests come from one seed, unless the caller sets another.
pub fn one_seed(tests: &mut Command) {
    if std::env::var_os("PROPTEST_RNG_SEED").is_none() {
        tests.env("PROPTEST_RNG_SEED", "20");
    }
}

fn doc() -> Result<()> {
    let mut pages = command::cargo();
    pages.args(["doc", "--quiet", "--workspace", "--no-deps"]);
    pages.arg("--document-private-items");
    command::run(pages.env("RUSTDOCFLAGS", "-D warnings"))?;
    command::run(command::cargo().args(["test", "--quiet", "--workspace", "--doc"]))
}

fn wasm() -> Result<()> {
    command::run(&mut wasm_test(&[
        "--package",
        "lodewright-web",
        "--test",
        "in_browser",
    ])?)
}

/// `cargo test` for the wasm target with this program as its runner.
pub fn wasm_test(arguments: &[&str]) -> Result<Command> {
    setup::wasm_target()?;
    let browser = setup::browser()?;
    let runner = [std::env::current_exe()?, PathBuf::from("wasm-runner")];
    let runner = format!("target.{WASM}.runner={}", serde_json::to_string(&runner)?);
    let mut test = command::cargo();
    let paths = bundle::remapped_paths()?;
    test.arg("test").args(arguments);
    test.args(["--target", WASM, "--config", &runner, "--config", &paths]);
    test.env("CHROMIUM", browser.chromium)
        .env("CHROMEDRIVER", browser.chromedriver);
    // Browser is the default for test files that do not say; solving on a busy machine takes a while.
    test.env("WASM_BINDGEN_USE_BROWSER", "1")
        .env("WASM_BINDGEN_TEST_TIMEOUT", "300");
    Ok(test)
}

fn browser() -> Result<()> {
    browser_tests(&[], &[])
}

/// The tests of the served app whose names hold one of `filter`, with more in their environment.
pub fn browser_tests(filter: &[&str], environment: &[(&str, &str)]) -> Result<()> {
    let browser = setup::browser()?;
    let site = workspace::target()?.join("site-web");
    server::rebuild(Profile::Web, &site)?;
    // Under a path of its own, so that an absolute address anywhere in the app is caught.
    let path = "/some/where/";
    let address = server::start(&site, 0, path)?;
    let axe = setup::axe()?;
    let shots = workspace::target()?.join("screenshots");
    println!(
        "Testing http://{address}{path}; pictures go to {}.",
        shots.display()
    );
    let mut test = command::cargo();
    test.args([
        "test",
        "--quiet",
        "--package",
        "lodewright-tests",
        "--features",
        "browser",
        "--test",
        "browser",
        "--",
        "--test-threads=1",
    ]);
    test.args(filter).envs(environment.iter().copied());
    test.env("APP_ADDRESS", format!("http://{address}{path}"))
        .env("SCREENSHOTS", shots)
        .env("AXE", axe);
    command::run(
        test.env("CHROMIUM", browser.chromium)
            .env("CHROMEDRIVER", browser.chromedriver),
    )
}
