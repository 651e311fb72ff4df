//! What holds for the whole plan: coats, targets, rates.

use super::check::At;
use crate::{Finish, MagnetMake, Rates, Scatter, Settings, limits};

pub(super) fn finish(at: &mut At<'_>, f: &Finish) {
    let films = [
        ("primer_um", f.primer_um),
        ("colour_um", f.colour_um),
        ("varnish_um", f.varnish_um),
        ("glue_film_um", f.glue_film_um),
        ("fit_um", f.fit_um),
    ];
    at.numbers(0.0, 5_000.0, &films);
}

pub(super) fn settings(at: &mut At<'_>, s: &Settings) {
    at.number("hold_target_g", s.hold_target_g, 0.0, 1_000.0);
    at.number("friction", s.friction, 0.0, 2.0);
    at.number("gap_tolerance_mm", s.gap_tolerance_mm, 0.0, 10.0);
    at.number("facing_tolerance_mm", s.facing_tolerance_mm, 0.0, 10.0);
    at.number("hole_allowance_mm", s.hole_allowance_mm, 0.0, 10.0);
    at.number("glue_allowance_mm", s.glue_allowance_mm, 0.0, 10.0);
    at.number("warmest_c", s.warmest_c, -40.0, 200.0);
    at.number("snap_safety", s.snap_safety, 1.0, 100.0);
    at.number("bond_safety", s.bond_safety, 1.0, 100.0);
    at.number("glue_strength_mpa", s.glue_strength_mpa, 0.01, 1_000.0);
    at.number("hand_limit_n", s.hand_limit_n, 0.1, 1_000.0);
    at.number("spare_percent", s.spare_percent, 0.0, 1_000.0);
    at.number("shake_g", s.shake_g, 0.0, 1_000.0);
    at.number("stranger_limit_n", s.stranger_limit_n, 0.001, 1_000.0);
    at.number("overlap_tolerance_mm", s.overlap_tolerance_mm, 0.0, 10.0);
    magnet_make(&mut at.within("magnet_make"), &s.magnet_make);
    scatter(&mut at.within("scatter"), &s.scatter);
    at.label("currency", &s.currency, 12);
}

fn magnet_make(at: &mut At<'_>, make: &MagnetMake) {
    at.number("size_tolerance_mm", make.size_tolerance_mm, 0.0, 1.0);
    at.number("thinnest_plating_um", make.thinnest_plating_um, 0.0, 200.0);
    at.number("thickest_plating_um", make.thickest_plating_um, 0.0, 200.0);
}

fn scatter(at: &mut At<'_>, s: &Scatter) {
    at.number("position_sd_mm", s.position_sd_mm, 0.0, 5.0);
    at.number("depth_sd_mm", s.depth_sd_mm, 0.0, 5.0);
    at.number("tilt_sd_deg", s.tilt_sd_deg, 0.0, 20.0);
    at.number("coats_sd_share", s.coats_sd_share, 0.0, 2.0);
}

pub(super) fn rates(at: &mut At<'_>, r: &Rates) {
    let minutes = [
        ("bit_change_min", r.bit_change_min),
        ("hole_min", r.hole_min),
        ("pole_check_min", r.pole_check_min),
        ("glue_magnet_min", r.glue_magnet_min),
        ("glue_joint_min", r.glue_joint_min),
        ("dry_fit_min", r.dry_fit_min),
        ("cut_peg_min", r.cut_peg_min),
        ("mask_min", r.mask_min),
        ("paint_part_min", r.paint_part_min),
        ("magnet_cure_min", r.magnet_cure_min),
        ("joint_cure_min", r.joint_cure_min),
        ("paint_dry_min", r.paint_dry_min),
    ];
    at.numbers(0.0, 100_000.0, &minutes);
    at.at_most("hour_cents", r.hour_cents, limits::CENTS);
}
