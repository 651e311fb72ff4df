//! `cargo xtask mutants`: one small fault at a time is put into the code (cargo-mutants); a fault that no test sees is a rule
//! that no test holds. What is never mutated, and why, stands in `.cargo/mutants.toml`.

use crate::{cargo_tool, stages, workspace};
use anyhow::{Context, Result, bail, ensure};
use clap::Args;
use serde_json::Value;
use std::path::Path;
use std::process::Command;

/// Pinned, so that a sample is the same one everywhere.
const VERSION: &str = "27.1.0";
/// How cargo-mutants ends when it ran to its end: nothing missed, some missed, some ran out of time.
const TO_THE_END: [i32; 3] = [0, 2, 3];

/// Which mutants are tried, and which tests may see them.
#[derive(Args)]
pub struct Asked {
    /// Packages to mutate, by their folder in crates/; all of the core where none is named
    #[arg(short, long)]
    package: Vec<String>,
    /// Let the tests of these packages count besides the package's own
    #[arg(long)]
    tests_of: Vec<String>,
    /// The Kth of N shares of the mutants, K from 0
    #[arg(long, value_name = "K/N", conflicts_with = "sample")]
    shard: Option<String>,
    /// About this many of a hundred mutants: each so-manieth of the list, from the seed on
    #[arg(long, value_name = "PERCENT", value_parser = clap::value_parser!(u32).range(1..=100))]
    sample: Option<u32>,
    /// Where in the list a sample begins
    #[arg(long, default_value_t = 0)]
    seed: u32,
    /// Seconds that the tests may take; spares the first run, without a mutant, that finds them otherwise
    #[arg(long)]
    timeout: Option<u32>,
    /// Mutants at a time
    #[arg(short, long, default_value_t = 1)]
    jobs: u32,
}

/// Tries the mutants asked for and says how many of the viable ones were caught, and which were not.
pub fn run(asked: &Asked) -> Result<()> {
    let folder = workspace::target()?.join("mutants");
    std::fs::create_dir_all(&folder)?;
    let mut mutants = Command::new(cargo_tool::program("cargo-mutants", VERSION)?);
    mutants.current_dir(workspace::root()).arg("mutants");
    mutants.args(arguments(asked)).arg("--output").arg(&folder);
    stages::one_seed(&mut mutants);
    let status = mutants.status().context("could not start cargo-mutants")?;
    if !status.code().is_some_and(|code| TO_THE_END.contains(&code)) {
        bail!("cargo-mutants ended with {status}: do the tests pass without a mutant?");
    }
    println!("{}", told(&folder.join("mutants.out"))?);
    Ok(())
}

fn arguments(asked: &Asked) -> Vec<String> {
    let full = |name: &String| match name.starts_with("lodewright-") {
        true => name.clone(),
        false => format!("lodewright-{name}"),
    };
    let mut all = vec![format!("--jobs={}", asked.jobs), "--no-shuffle".to_owned()];
    all.extend(
        asked
            .package
            .iter()
            .map(|p| format!("--package={}", full(p))),
    );
    if asked.package.is_empty() {
        all.push("--workspace".to_owned());
    }
    let tests_of = asked.package.iter().chain(&asked.tests_of);
    if !asked.tests_of.is_empty() {
        all.extend(tests_of.map(|p| format!("--test-package={}", full(p))));
    }
    let share = asked.shard.clone().or_else(|| {
        let of = 100 / asked.sample?;
        Some(format!("{}/{of}", asked.seed % of))
    });
    all.extend(share.map(|share| format!("--shard={share}")));
    if let Some(seconds) = asked.timeout {
        all.extend(["--baseline=skip".to_owned(), format!("--timeout={seconds}")]);
    }
    all
}

/// The counts and the survivors that the run left in its folder.
fn told(folder: &Path) -> Result<String> {
    let read = |name: &str| std::fs::read_to_string(folder.join(name));
    let outcomes: Value = serde_json::from_str(&read("outcomes.json")?)?;
    let count = |name: &str| outcomes[name].as_u64().context("a count is missing");
    let (missed, unviable) = (count("missed")?, count("unviable")?);
    // A mutant that never ends is seen by whoever waits for the test.
    let caught = count("caught")? + count("timeout")?;
    let viable = caught + missed;
    ensure!(
        viable > 0,
        "no mutant could be compiled, so nothing was measured"
    );
    let share = 100.0 * caught as f64 / viable as f64;
    Ok(format!(
        "caught: {caught} of {viable} viable mutants = {share:.1} % ({unviable} did not compile)\nnot caught:\n{}",
        read("missed.txt")?
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::Parser;

    #[derive(Parser)]
    struct Line {
        #[command(flatten)]
        asked: Asked,
    }

    fn shown(line: &[&str]) -> String {
        let line = Line::parse_from(std::iter::once(&"mutants").chain(line));
        arguments(&line.asked).join(" ")
    }

    #[test]
    fn packages_samples_and_tests_are_handed_on() {
        assert!(shown(&[]).contains("--workspace"));
        let sample = shown(&["-p", "kit", "--sample", "5", "--seed", "23"]);
        assert!(sample.contains("--package=lodewright-kit"), "{sample}");
        assert!(sample.ends_with("--shard=3/20"), "{sample}");
        assert!(!sample.contains("--test-package"), "{sample}");
        let tests = shown(&["-p", "joints", "--tests-of", "planner", "--timeout", "90"]);
        for part in ["joints", "planner"] {
            assert!(tests.contains(&format!("--test-package=lodewright-{part}")));
        }
        assert!(tests.ends_with("--baseline=skip --timeout=90"), "{tests}");
    }

    #[test]
    fn a_mutant_that_never_ends_is_caught_and_one_that_does_not_compile_counts_for_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let outcomes = r#"{"missed": 1, "unviable": 5, "caught": 2, "timeout": 1}"#;
        std::fs::write(folder.path().join("outcomes.json"), outcomes).unwrap();
        std::fs::write(folder.path().join("missed.txt"), "a.rs:1: replace f\n").unwrap();
        let said = told(folder.path()).unwrap();
        assert!(
            said.starts_with("caught: 3 of 4 viable mutants = 75.0 % (5 did"),
            "{said}"
        );
        assert!(said.ends_with("a.rs:1: replace f\n"), "{said}");
    }
}
