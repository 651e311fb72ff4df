//! Appends force and torque between two discs in any pose to rows read from standard input as CSV.
//!
//! Disc 1 lies at the origin, axis z. The centroid of disc 2 is at dx, dy, dz; the disc is turned right-handed by the tilt
//! about the y direction. Force and torque act on disc 2, the torque about its centroid.

use std::io::{self, Write};
use std::process::ExitCode;

use lodewright_field::{FieldError, Magnet, Pose, Wrench, wrench};

const HEADER: [&str; 10] = [
    "D1_mm", "h1_mm", "D2_mm", "h2_mm", "dx_mm", "dy_mm", "dz_mm", "tilt_deg", "J1_T", "J2_T",
];
const ADDED: [&str; 7] = [
    "Fx_N",
    "Fy_N",
    "Fz_N",
    "Tx_Nmm",
    "Ty_Nmm",
    "Tz_Nmm",
    "est_error_N",
];

#[path = "support/columns.rs"]
mod columns;

fn load(row: &[f64; 10]) -> Result<Wrench, FieldError> {
    let [d1, h1, d2, h2, dx, dy, dz, tilt, j1, j2] = *row;
    let pose = Pose::shifted([dx, dy, dz])?.turned([0.0, 1.0, 0.0], tilt)?;
    wrench(
        &Magnet::disc(d1, h1, j1)?,
        &Magnet::disc(d2, h2, j2)?,
        &pose,
    )
}

fn columns_of(row: &[f64]) -> Result<Vec<f64>, String> {
    let row = <[f64; 10]>::try_from(row).map_err(|_| "ten numbers are needed".to_owned())?;
    let w = load(&row).map_err(|e| e.to_string())?;
    Ok([&w.force_n[..], &w.torque_nmm[..], &[w.error_n]].concat())
}

fn main() -> ExitCode {
    match columns::append(io::stdin().lock(), &HEADER, &ADDED, columns_of) {
        Ok(text) => columns::print(&text),
        Err(why) => {
            let _ = writeln!(io::stderr(), "wrench: {why}");
            ExitCode::FAILURE
        }
    }
}
