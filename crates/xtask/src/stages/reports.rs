//! The same plan must give the same report everywhere: each sample plan's native report is compared, byte for byte, with the
//! one that wasm makes in Chromium.

use super::{Ended, wasm_test};
use crate::{command, workspace};
use anyhow::{Context, Result};
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// Writes the native reports, then lets the browser make its own and compare.
pub fn run() -> Result<Ended> {
    let examples = workspace::root().join("examples");
    if !examples.join("report.rs").is_file() {
        return Ok(Ended::Skipped(
            "examples/report.rs, which writes the native reports, is not there yet",
        ));
    }
    let plans = plans(&examples)?;
    if plans.is_empty() {
        return Ok(Ended::Skipped("there is no plan in examples/ yet"));
    }
    let folder = workspace::target()?.join("reports");
    std::fs::create_dir_all(&folder)?;
    let cases = plans
        .iter()
        .map(|plan| native_report(plan, &folder))
        .collect::<Result<Vec<_>>>()?;
    std::fs::write(folder.join("cases.rs"), list(&cases))?;
    println!("Comparing {} reports in Chromium.", cases.len());
    // Compiled as the app itself is: the most eager optimiser is the likeliest to differ.
    let mut test = wasm_test(&[
        "--profile",
        "web",
        "--package",
        "lodewright-tests",
        "--features",
        "reports",
        "--test",
        "reports",
    ])?;
    command::run(test.env("REPORTS", &folder))?;
    Ok(Ended::Passed)
}

/// One plan and the report this machine made of it.
struct Case {
    name: String,
    plan: PathBuf,
    report: PathBuf,
}

fn plans(folder: &Path) -> Result<Vec<PathBuf>> {
    let entries = std::fs::read_dir(folder)?.collect::<Result<Vec<_>, _>>()?;
    let mut plans: Vec<PathBuf> = entries.into_iter().map(|entry| entry.path()).collect();
    plans.retain(|path| path.extension().is_some_and(|end| end == "json"));
    plans.sort();
    Ok(plans)
}

fn native_report(plan: &Path, folder: &Path) -> Result<Case> {
    let name = plan
        .file_stem()
        .and_then(|stem| stem.to_str())
        .context("a plan's file name is not text")?
        .to_owned();
    println!("Reporting on {name} on this machine.");
    let mut report = command::cargo();
    report
        .args([
            "run",
            "--quiet",
            "--release",
            "--package",
            "lodewright-examples",
            "--example",
            "report",
            "--",
        ])
        .arg(plan);
    let path = folder.join(format!("{name}.report"));
    std::fs::write(&path, command::output(&mut report)?)?;
    Ok(Case {
        name,
        plan: plan.to_path_buf(),
        report: path,
    })
}

/// The cases as Rust that the browser test includes: a browser test can read no files.
fn list(cases: &[Case]) -> String {
    let mut text = String::from("&[\n");
    for Case { name, plan, report } in cases {
        // Writing to a text cannot fail.
        let _ = writeln!(
            text,
            "    ({name:?}, include_bytes!({plan:?}), include_str!({report:?})),"
        );
    }
    text.push_str("]\n");
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plans_are_the_json_files_in_order() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["b.json", "a.json", "report.rs"] {
            std::fs::write(folder.path().join(name), "{}").unwrap();
        }
        let names: Vec<_> = plans(folder.path())
            .unwrap()
            .iter()
            .map(|path| path.file_name().unwrap().to_owned())
            .collect();
        assert_eq!(names, ["a.json", "b.json"]);
    }

    #[test]
    fn the_list_names_plan_and_report() {
        let case = Case {
            name: "one".into(),
            plan: "/x/one.json".into(),
            report: "/y/one.report".into(),
        };
        assert_eq!(
            list(&[case]),
            "&[\n    (\"one\", include_bytes!(\"/x/one.json\"), include_str!(\"/y/one.report\")),\n]\n"
        );
    }
}
