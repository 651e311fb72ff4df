//! The same pairs in magpylib, a general field library in Python: fetched into an environment of its own, run on one core.

use crate::{command, workspace};
use anyhow::{Context, Result, ensure};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The release that the script is written for.
const WANTED: &str = "magpylib>=6,<7";
/// The numeric libraries that start threads of their own unless told not to.
const THREADS: [&str; 4] = [
    "OMP_NUM_THREADS",
    "OPENBLAS_NUM_THREADS",
    "MKL_NUM_THREADS",
    "VECLIB_MAXIMUM_THREADS",
];

/// What the script measured for each kernel that has a pair.
pub fn compare(kernels: &[Value]) -> Result<Vec<Value>> {
    let folder = workspace::target()?.join("magpylib");
    let python = environment(&folder).map_err(in_one_line)?;
    let pairs = folder.join("pairs.jsonl");
    std::fs::write(&pairs, with_pairs(kernels))?;
    println!("Timing the same pairs in magpylib; this takes a minute or two.");
    let mut script = Command::new(python);
    script
        .arg(workspace::root().join("tests/magpylib_compare.py"))
        .arg("speeds")
        .arg(&pairs);
    let text = command::text(script.envs(THREADS.map(|name| (name, "1"))))?;
    text.lines()
        .map(|line| serde_json::from_str(line).context("a line of the script is no JSON"))
        .collect()
}

/// The interpreter of an environment that has the library.
fn environment(folder: &Path) -> Result<PathBuf> {
    let python = folder.join("bin/python");
    if has_library(&python) {
        return Ok(python);
    }
    let system = command::find("python3").context("there is no python3 on the search path")?;
    println!(
        "Installing magpylib into {} (venv and pip).",
        folder.display()
    );
    command::output(Command::new(system).args(["-m", "venv"]).arg(folder))
        .context("Python's venv failed")?;
    command::output(
        Command::new(&python)
            .args([
                "-m",
                "pip",
                "install",
                "--quiet",
                "--disable-pip-version-check",
            ])
            .arg(WANTED),
    )
    .context("pip could not install it")?;
    ensure!(
        has_library(&python),
        "pip installed it but it cannot be imported"
    );
    Ok(python)
}

fn has_library(python: &Path) -> bool {
    let check = "import magpylib; assert magpylib.__version__.startswith('6.')";
    command::output(Command::new(python).args(["-c", check])).is_ok()
}

/// What pip complains of takes many lines, of which the first says enough.
fn in_one_line(error: anyhow::Error) -> anyhow::Error {
    let text = format!("{error:#}");
    let line = text.lines().next().unwrap_or_default();
    anyhow::anyhow!(line.trim_end_matches('.').to_owned())
}

fn with_pairs(kernels: &[Value]) -> String {
    kernels
        .iter()
        .filter(|kernel| kernel["pair"].is_object())
        .map(|kernel| {
            let line = json!({ "kernel": kernel["kernel"], "pair": kernel["pair"] });
            format!("{line}\n")
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_kernels_with_a_pair_are_compared() {
        let kernels = [
            json!({ "kernel": "a", "per_s": 1.0, "pair": { "lift": 1.0 } }),
            json!({ "kernel": "b", "per_s": 1.0 }),
        ];
        assert_eq!(
            with_pairs(&kernels),
            "{\"kernel\":\"a\",\"pair\":{\"lift\":1.0}}\n"
        );
    }

    #[test]
    fn a_reason_fits_into_a_sentence() {
        let error = anyhow::anyhow!("no network.\nmore\nand more").context("pip failed");
        assert_eq!(in_one_line(error).to_string(), "pip failed: no network");
    }
}
