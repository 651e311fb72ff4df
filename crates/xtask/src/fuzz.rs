//! The fuzzers of crates/fuzz: built with coverage counters, run for a counted number of executions.

use crate::stages::{Ended, browser_tests};
use crate::{command, workspace};
use anyhow::{Context, Result};
use std::path::PathBuf;
use std::process::Command;

/// A target, its share of the executions asked for as a divisor, and the longest input, bytes.
const TARGETS: [(&str, u64, u32); 4] = [
    ("plan_file", 1, 4_600),
    ("link", 1, 4_600),
    ("grid", 1, 128),
    ("analysis", 1_000, 96),
];

/// Executions of each target in the short form: about half a minute in all.
const SHORT: u64 = 100_000;

/// LLVM's coverage counters, which libFuzzer steers by; they need no nightly compiler.
const COUNTERS: &str = "-Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4 -Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Cllvm-args=-sanitizer-coverage-pc-table";

/// The short form, from one seed, so that a run can be repeated.
pub fn short() -> Result<Ended> {
    if command::find("c++").is_none() {
        return Ok(Ended::Skipped(
            "libFuzzer needs a C++ compiler; the native stage runs the same targets on seeded changes",
        ));
    }
    run(SHORT, Some(20))?;
    Ok(Ended::Passed)
}

/// The long form: the fuzzers, then 200 kills of the browser.
pub fn soak(runs: u64) -> Result<()> {
    run(runs, None)?;
    browser_tests(&["kill::"], &[("KILLS", "200")])
}

fn run(runs: u64, seed: Option<u32>) -> Result<()> {
    let programs = build()?;
    let work = workspace::target()?.join("fuzz-corpus");
    for (name, share, longest) in TARGETS {
        // New inputs of a long run stay beside the target folder; the short form starts from the seeds alone.
        let found = match seed {
            Some(_) => work.join("short"),
            None => work.join(name),
        };
        if seed.is_some() && found.is_dir() {
            std::fs::remove_dir_all(&found)?;
        }
        std::fs::create_dir_all(&found)?;
        let seeds = workspace::root().join("crates/fuzz/corpus").join(name);
        let mut fuzzer = Command::new(programs.join(name));
        fuzzer.arg(&found).arg(&seeds);
        fuzzer.arg(format!("-runs={}", runs / share));
        fuzzer.arg(format!("-max_len={longest}"));
        fuzzer.args([
            "-timeout=60",
            "-rss_limit_mb=3000",
            "-verbosity=0",
            "-print_final_stats=1",
        ]);
        fuzzer.arg(format!("-artifact_prefix={}/", work.display()));
        fuzzer.args(seed.map(|seed| format!("-seed={seed}")));
        println!("fuzzing {name}: {} executions", runs / share);
        command::run(&mut fuzzer).with_context(|| {
            format!("{name} broke a promise; the input is in {}", work.display())
        })?;
    }
    Ok(())
}

/// Builds the fuzzers beside everything else, for the counters are in every package; gives their folder.
fn build() -> Result<PathBuf> {
    let host = command::text(Command::new("rustc").args(["--print", "host-tuple"]))?;
    let host = host.trim();
    let target = workspace::target()?.join("fuzzing");
    let mut build = command::cargo();
    build.args(["build", "--quiet", "--package", "lodewright-fuzz", "--bins"]);
    build.args(["--features", "libfuzzer", "--profile", "fuzz"]);
    // Named, so that build scripts and macros stay without counters.
    build.args(["--target", host]);
    build
        .env("RUSTFLAGS", COUNTERS)
        .env("CARGO_TARGET_DIR", &target);
    command::run(&mut build)?;
    Ok(target.join(host).join("fuzz"))
}
