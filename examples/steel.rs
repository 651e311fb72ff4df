//! Appends the pull of a disc magnet on a coaxial disc of mild steel to rows of sizes read from standard input as CSV.

use std::io::{self, Write};
use std::process::ExitCode;

use lodewright_field::{Disc, steel_disc_attraction_n};

const HEADER: [&str; 7] = [
    "D_mm",
    "h_mm",
    "steel_D_mm",
    "steel_t_mm",
    "gap_mm",
    "Br_T",
    "mu_r",
];

#[path = "support/columns.rs"]
mod columns;

fn attraction_n(row: &[f64]) -> Result<Vec<f64>, String> {
    let [d, h, steel_d, steel_t, gap, br, mu_r] =
        <[f64; 7]>::try_from(row).map_err(|_| "seven numbers are needed".to_owned())?;
    let pull = || steel_disc_attraction_n(&Disc::new(d, h, br)?, steel_d, steel_t, gap, mu_r);
    pull().map(|n| vec![n]).map_err(|e| e.to_string())
}

fn main() -> ExitCode {
    match columns::append(io::stdin().lock(), &HEADER, &["attraction_N"], attraction_n) {
        Ok(text) => columns::print(&text),
        Err(why) => {
            let _ = writeln!(io::stderr(), "steel: {why}");
            ExitCode::FAILURE
        }
    }
}
