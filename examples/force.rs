//! Appends the attraction of two coaxial discs to rows of sizes read from standard input as CSV.

use std::io::{self, Write};
use std::process::ExitCode;

use lodewright_field::{Disc, coaxial_attraction_n};

const HEADER: [&str; 6] = ["D1_mm", "h1_mm", "D2_mm", "h2_mm", "gap_mm", "J_T"];

#[path = "support/columns.rs"]
mod columns;

fn attraction_n(row: &[f64]) -> Result<Vec<f64>, String> {
    let [d1, h1, d2, h2, gap, j] =
        <[f64; 6]>::try_from(row).map_err(|_| "six numbers are needed".to_owned())?;
    let pair = || coaxial_attraction_n(&Disc::new(d1, h1, j)?, &Disc::new(d2, h2, j)?, gap);
    pair().map(|n| vec![n]).map_err(|e| e.to_string())
}

fn main() -> ExitCode {
    match columns::append(io::stdin().lock(), &HEADER, &["attraction_N"], attraction_n) {
        Ok(text) => columns::print(&text),
        Err(why) => {
            let _ = writeln!(io::stderr(), "force: {why}");
            ExitCode::FAILURE
        }
    }
}
