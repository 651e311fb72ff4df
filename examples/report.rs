//! Prints the whole analysis of a plan file as JSON: `cargo run --release --example report -- PLAN`.
//!
//! The keys are documented on `lodewright_planner::report::Report` and the types under it.

use std::io::Write;
use std::process::ExitCode;

#[allow(clippy::print_stderr, reason = "for a terminal")]
fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(said) => {
            eprintln!("report: {said}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), String> {
    let mut arguments = std::env::args_os().skip(1);
    let (Some(path), None) = (arguments.next(), arguments.next()) else {
        return Err("Name one plan file: report PLAN.lodewright.json".to_owned());
    };
    let file = std::fs::read(&path).map_err(|e| format!("{}: {e}", path.display()))?;
    let report = lodewright_planner::report_json(&file).map_err(|e| one_line(&e.to_string()))?;
    std::io::stdout()
        .write_all(report.as_bytes())
        .map_err(|e| format!("cannot print: {e}"))
}

/// A refusal may list several problems; a program's last word is one line.
fn one_line(said: &str) -> String {
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}
