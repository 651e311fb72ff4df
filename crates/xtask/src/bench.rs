//! `cargo xtask bench`: forces per second on this machine, in Chromium and, where it can be had, in magpylib, as one table; the
//! app's size, start, answers and memory as another.

use crate::{command, stages};
use anyhow::{Context, Result, bail};
use serde_json::Value;
use std::process::Command;

mod app;
mod magpylib;
mod table;

/// What the timing test writes before each line of results.
const MARK: &str = "speed: ";
const TEST: [&str; 6] = [
    "--package",
    "lodewright-tests",
    "--features",
    "speed",
    "--test",
    "speed",
];

/// What can be measured by itself.
#[derive(Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Part {
    /// Forces per second
    Kernels,
    /// The app in Chromium
    App,
}

/// Measures everything, or one part, and prints the tables.
pub fn run(only: Option<Part>) -> Result<()> {
    if only != Some(Part::App) {
        kernels()?;
    }
    if only != Some(Part::Kernels) {
        print!("\n{}", app::table()?);
    }
    Ok(())
}

fn kernels() -> Result<()> {
    println!("Timing the kernels on this machine.");
    let native = timings(command::cargo().args(["test", "--release"]).args(TEST))?;
    println!("Timing them as wasm in headless Chromium, compiled as the app is.");
    let as_the_app: Vec<&str> = ["--profile", "web"].into_iter().chain(TEST).collect();
    let wasm = timings(&mut stages::wasm_test(&as_the_app)?)?;
    let others = magpylib::compare(&native);
    if let Err(reason) = &others {
        println!("The comparison with magpylib is left out: {reason:#}.");
    }
    print!(
        "\n{}",
        table::text(&native, &wasm, &others.unwrap_or_default())?
    );
    Ok(())
}

/// One object for each kernel that the timing test told of.
fn timings(test: &mut Command) -> Result<Vec<Value>> {
    results(&command::text(test.args(["--quiet", "--", "--nocapture"]))?)
}

fn results(output: &str) -> Result<Vec<Value>> {
    let lines = output
        .lines()
        .filter_map(|line| line.trim().strip_prefix(MARK));
    let results = lines
        .map(|line| serde_json::from_str(line).context("a line of timings is no JSON"))
        .collect::<Result<Vec<_>>>()?;
    if results.is_empty() {
        bail!("the timing test told of no kernel: {output}");
    }
    Ok(results)
}

/// The object of that kernel, if it is there.
fn of<'a>(results: &'a [Value], kernel: &str) -> Option<&'a Value> {
    results.iter().find(|result| result["kernel"] == kernel)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_are_found_among_the_harness_s_own_lines() {
        let output = "running 1 test\n  speed: {\"kernel\":\"a\",\"per_s\":2.5}\nspeed: {\"kernel\":\"b\",\"per_s\":1.0}\nok\n";
        let found = results(output).unwrap();
        assert_eq!(found.len(), 2);
        assert_eq!(of(&found, "a").unwrap()["per_s"], 2.5);
        assert!(of(&found, "c").is_none());
    }

    #[test]
    fn no_result_and_a_torn_one_are_errors() {
        assert!(results("running 0 tests").is_err());
        assert!(results("speed: {\"kernel\":").is_err());
    }
}
