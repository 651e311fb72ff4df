//! Prints the ways out of contradicting poles and the mistakes that poles can prevent:
//! `cargo run --release --example poles -- PLAN`.

use std::fmt::Write as _;
use std::io::Write as _;
use std::process::ExitCode;

use lodewright_planner::joints::Feel;
use lodewright_planner::{Analysis, planfile};

#[allow(clippy::print_stderr, reason = "for a terminal")]
fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(said) => {
            eprintln!("poles: {said}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), String> {
    let mut arguments = std::env::args_os().skip(1);
    let (Some(path), None) = (arguments.next(), arguments.next()) else {
        return Err("Name one plan file: poles PLAN.lodewright.json".to_owned());
    };
    let file = std::fs::read(&path).map_err(|e| format!("{}: {e}", path.display()))?;
    let plan = planfile::read(&file).map_err(|e| e.to_string())?.plan;
    let analysis = Analysis::of(plan).map_err(|all| all[0].to_string())?;
    let mut out = String::new();
    let ways = analysis.repairs();
    for clash in &ways.clashes {
        let _ = writeln!(out, "{}", analysis.contradiction_words(clash).headline);
    }
    for (i, remedy) in ways.remedies.iter().enumerate() {
        let sure = if i < ways.proven { "" } else { " (not proven)" };
        let _ = writeln!(
            out,
            "  price {}{sure}: {}",
            remedy.weight,
            analysis.remedy_words(remedy).join(" ")
        );
    }
    let proof = analysis.propose_poles();
    for m in &proof.mistakes {
        let words = analysis.wrong_placement_words(m);
        let why = words.why.unwrap_or_default();
        let _ = writeln!(
            out,
            "{:9.3} N {:9.3} N  {}. {why}",
            m.now_n, m.after_n, words.what
        );
    }
    for (feel, name) in [
        (Feel::Attracts, "attract"),
        (Feel::Nothing, "are not felt"),
        (Feel::Repels, "repel"),
    ] {
        let [now, after] = proof.count(feel);
        let _ = writeln!(
            out,
            "{now} mistakes {name} now, {after} with the poles proposed"
        );
    }
    let _ = writeln!(
        out,
        "{} of {} free families change; proven: {}",
        proof.changed_families, proof.free_families, proof.proven
    );
    std::io::stdout()
        .write_all(out.as_bytes())
        .map_err(|e| format!("cannot print: {e}"))
}
