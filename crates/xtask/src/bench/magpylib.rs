//! The same pairs in magpylib, a general field library in Python: fetched into an environment of its own, run on one core.

use crate::{command, workspace};
use anyhow::{Context, Result, anyhow, ensure};
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
    let python = environment(&folder)?;
    let pairs = folder.join("pairs.jsonl");
    std::fs::write(&pairs, with_pairs(kernels))?;
    println!("Timing the same pairs in magpylib; this takes a minute or two.");
    let mut script = Command::new(python);
    script
        .arg(workspace::root().join("tests/magpylib_compare.py"))
        .arg("speeds")
        .arg(&pairs);
    let text = text(script.envs(THREADS.map(|name| (name, "1"))))
        .context("tests/magpylib_compare.py failed")?;
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
    text(Command::new(system).args(["-m", "venv"]).arg(folder)).context("Python's venv failed")?;
    text(
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

/// What the program printed; of a complaint only the last line, which in pip and in Python says what went wrong.
fn text(command: &mut Command) -> Result<String> {
    command::text(command).map_err(|error| anyhow!(last_line(&format!("{error:#}"))))
}

fn last_line(complaint: &str) -> String {
    let line = complaint.trim().lines().last().unwrap_or_default();
    line.trim().trim_end_matches('.').to_owned()
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
    fn a_complaint_fits_into_a_sentence() {
        assert_eq!(last_line("retrying\nno network.\n\n"), "no network");
    }
}
