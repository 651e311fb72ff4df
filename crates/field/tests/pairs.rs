//! Force and torque in any pose against the reference tables.

// A test may stop on a bad value, and need not give the same bits on every machine.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    clippy::print_stdout
)]

mod support;

use lodewright_field::{Magnet, Pose, force, wrench};
use support::{Row, table};

/// Relative errors of the force seen over a table, and how often the estimate was too small.
#[derive(Default)]
struct Tally {
    rows: usize,
    over_estimate: usize,
    worst_force: f64,
    worst_force_alone: f64,
    worst_torque: f64,
    worst_estimate: f64,
}

impl Tally {
    fn add(&mut self, row: &Row, first: &Magnet, second: &Magnet, pose: &Pose) {
        let w = wrench(first, second, pose).unwrap();
        let (fx, fz, ty) = (
            row.num("Fx_on_2_N"),
            row.num("Fz_on_2_N"),
            row.num("Ty_on_2_about_centroid_Nmm"),
        );
        let off = |[x, y, z]: [f64; 3]| (x - fx).hypot(z - fz).hypot(y);
        let error = off(w.force_n);
        let size = fx.hypot(fz);
        // The table's own error: its 12 digits and the stated difference of its two methods.
        let table_error = size * row.num("est_rel_error_force").max(2e-12);
        self.rows += 1;
        self.worst_force = self.worst_force.max((error - table_error) / size);
        self.worst_estimate = self.worst_estimate.max(w.error_n / size);
        let alone = force(first, second, pose).unwrap();
        let error_alone = off(alone.force_n);
        self.worst_force_alone = self
            .worst_force_alone
            .max((error_alone - table_error) / size);
        if error - table_error > w.error_n || error_alone - table_error > alone.error_n {
            self.over_estimate += 1;
        }
        let torque_error = (w.torque_nmm[1] - ty).abs() - row.num("est_abs_error_torque_Nmm");
        let lever = second.half_diagonal_mm();
        self.worst_torque = self
            .worst_torque
            .max(torque_error / (size * lever).max(ty.abs()));
    }

    fn report(&self, name: &str) {
        println!(
            "{name}: {} rows, worst relative error of the force {:.1e} (alone {:.1e}), of the torque {:.1e}, worst estimate {:.1e}, estimate too small in {}",
            self.rows,
            self.worst_force,
            self.worst_force_alone,
            self.worst_torque,
            self.worst_estimate,
            self.over_estimate
        );
    }

    fn check(&self, name: &str, relative: f64) {
        self.report(name);
        assert!(self.worst_force < relative, "{name}");
        assert!(self.worst_force_alone < relative, "{name}");
        assert!(self.worst_torque < relative, "{name}");
        assert!(self.worst_estimate < 1e-4, "{name}");
        assert!(self.over_estimate * 100 <= self.rows, "{name}");
    }
}

fn magnets(row: &Row) -> (Magnet, Magnet) {
    let j = row.num("Br_T");
    let second_j = if row.has("orientation") && row.text("orientation") == "antiparallel" {
        -j
    } else {
        j
    };
    (
        Magnet::disc(row.num("D1_mm"), row.num("h1_mm"), j).unwrap(),
        Magnet::disc(row.num("D2_mm"), row.num("h2_mm"), second_j).unwrap(),
    )
}

#[test]
fn offset_table() {
    let mut tally = Tally::default();
    for row in table("offset.csv", 1100) {
        let (a, b) = magnets(&row);
        let z = 0.5 * (row.num("h1_mm") + row.num("h2_mm")) + row.num("gap_mm");
        tally.add(
            &row,
            &a,
            &b,
            &Pose::shifted([row.num("offset_x_mm"), 0.0, z]).unwrap(),
        );
    }
    tally.check("offset", 1e-6);
}

#[test]
fn side_by_side_table() {
    let mut tally = Tally::default();
    for row in table("side_by_side.csv", 500) {
        let (a, b) = magnets(&row);
        let pose = Pose::shifted([
            row.num("centre_spacing_mm"),
            0.0,
            row.num("z_centroid_offset_mm"),
        ])
        .unwrap();
        tally.add(&row, &a, &b, &pose);
    }
    tally.check("side by side", 1e-6);
}

#[test]
fn tilt_table() {
    let mut tally = Tally::default();
    for row in table("tilt.csv", 150) {
        let (a, b) = magnets(&row);
        let (angle, half) = (row.num("tilt_deg_about_y"), 0.5 * row.num("h2_mm"));
        let (sin, cos) = angle.to_radians().sin_cos();
        let pivot_z = 0.5 * row.num("h1_mm") + row.num("pivot_gap_mm");
        let pose = Pose::shifted([half * sin, 0.0, pivot_z + half * cos]).unwrap();
        tally.add(&row, &a, &b, &pose.turned([0.0, 1.0, 0.0], angle).unwrap());
    }
    tally.check("tilt", 1e-5);
}
