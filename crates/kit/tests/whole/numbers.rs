//! Every number and amount of a plan is taken up to its limit and refused beyond it, with the place named.

use crate::full::{full, refused, refused_at};
use lodewright_kit::*;

type Number = (&'static str, f64, f64, fn(&mut Plan) -> &mut f64);

const MM: f64 = limits::MM;

const NUMBERS: &[Number] = &[
    ("backdrop.middle_mm", -MM, MM, |p| {
        &mut picture(p).middle_mm[1]
    }),
    ("backdrop.width_mm", 0.1, MM, |p| &mut picture(p).width_mm),
    ("backdrop.height_mm", 0.1, MM, |p| &mut picture(p).height_mm),
    ("parts[plough].size_mm", 0.1, MM, |p| {
        &mut p.parts[1].size_mm[2]
    }),
    ("parts[base].centre_mm and box_middle_mm", -MM, MM, |p| {
        &mut p.parts[0].centre_mm.as_mut().unwrap()[0]
    }),
    ("parts[lamp].centre_mm and box_middle_mm", -MM, MM, |p| {
        &mut p.parts[2].box_middle_mm[1]
    }),
    (
        "parts[plough].drawn.outline.points_mm.points",
        -MM,
        MM,
        |p| match &mut p.parts[1].drawn {
            Drawn::Outline { points_mm, .. } => &mut points_mm[1][0],
            other => panic!("{other:?}"),
        },
    ),
    (
        "parts[base].mass.mass_g",
        0.0,
        100_000.0,
        |p| match &mut p.parts[0].mass {
            Mass::Weighed { mass_g } => mass_g,
            other => panic!("{other:?}"),
        },
    ),
    (
        "parts[plough].mass.volume_cm3",
        0.0,
        100_000.0,
        |p| match &mut p.parts[1].mass {
            Mass::Volume { volume_cm3 } => volume_cm3,
            other => panic!("{other:?}"),
        },
    ),
    ("parts[lamp].inside.wall_mm", 0.05, MM, |p| {
        match &mut p.parts[2].inside {
            Inside::Shell { wall_mm } => wall_mm,
            other => panic!("{other:?}"),
        }
    }),
    ("parts[plough].thin.length_mm", 0.05, MM, |p| {
        &mut thin(p, 1).length_mm
    }),
    ("parts[plough].thin.reach_mm", 0.05, MM, |p| {
        &mut thin(p, 1).reach_mm
    }),
    ("parts[plough].thin.notch_factor", 1.0, 10.0, |p| {
        &mut thin(p, 1).notch_factor
    }),
    (
        "parts[plough].thin.diameter_mm",
        0.05,
        MM,
        |p| match &mut thin(p, 1).section {
            Section::Round { diameter_mm } => diameter_mm,
            other => panic!("{other:?}"),
        },
    ),
    (
        "parts[lamp].thin.width_mm",
        0.05,
        MM,
        |p| match &mut thin(p, 2).section {
            Section::Rectangle { width_mm, .. } => width_mm,
            other => panic!("{other:?}"),
        },
    ),
    (
        "parts[lamp].thin.height_mm",
        0.05,
        MM,
        |p| match &mut thin(p, 2).section {
            Section::Rectangle { height_mm, .. } => height_mm,
            other => panic!("{other:?}"),
        },
    ),
    ("plugs[main].at_mm", -MM, MM, |p| {
        &mut plug(p).at_mm.as_mut().unwrap()[2]
    }),
    ("plugs[main].spin_deg", -360.0, 360.0, |p| {
        &mut plug(p).spin_deg
    }),
    ("plugs[main].thickness_mm", 0.1, MM, |p| {
        plug(p).thickness_mm.as_mut().unwrap()
    }),
    ("plugs[main].patch.points", -MM, MM, |p| {
        match &mut plug(p).patch {
            Some(Patch::Points(points)) => &mut points[2][1],
            other => panic!("{other:?}"),
        }
    }),
    ("plugs[main].sites[p].at_mm", -MM, MM, |p| {
        &mut plug_site(p).at_mm[0]
    }),
    ("plugs[main].sites[p].wall_mm", 0.0, 50.0, |p| {
        &mut plug_site(p).wall_mm
    }),
    ("sockets[nose].at_mm", -MM, MM, |p| {
        &mut p.sockets[0].at_mm.as_mut().unwrap()[0]
    }),
    ("sockets[nose].spin_deg", -360.0, 360.0, |p| {
        &mut p.sockets[0].spin_deg
    }),
    ("sockets[nose].patch.width_mm", 0.1, MM, |p| {
        match &mut p.sockets[0].patch {
            Patch::Rectangle { width_mm, .. } => width_mm,
            other => panic!("{other:?}"),
        }
    }),
    ("sockets[nose].patch.height_mm", 0.1, MM, |p| {
        match &mut p.sockets[0].patch {
            Patch::Rectangle { height_mm, .. } => height_mm,
            other => panic!("{other:?}"),
        }
    }),
    (
        "sockets[roof].patch.diameter_mm",
        0.1,
        MM,
        |p| match &mut p.sockets[1].patch {
            Patch::Disc { diameter_mm } => diameter_mm,
            other => panic!("{other:?}"),
        },
    ),
    ("sockets[nose].peg.diameter_mm", 0.2, 50.0, |p| {
        &mut p.sockets[0].peg.diameter_mm
    }),
    ("sites[a].measured_mm", 0.1, MM, |p| {
        p.sockets[0].sites[0].measured_mm.as_mut().unwrap()
    }),
    ("settings.overlap_tolerance_mm", 0.0, 10.0, |p| {
        &mut p.settings.overlap_tolerance_mm
    }),
    ("sockets[nose].peg.at_mm", -MM, MM, |p| {
        &mut p.sockets[0].peg.at_mm[1]
    }),
    ("sockets[nose].peg.length_mm", 0.1, MM, |p| {
        &mut p.sockets[0].peg.length_mm
    }),
    ("sockets[nose].peg.clearance_mm", 0.0, 10.0, |p| {
        &mut p.sockets[0].peg.clearance_mm
    }),
    (
        "sockets[nose].attach.friction",
        0.0,
        1_000.0,
        |p| match &mut p.sockets[0].attach {
            Attach::Friction(pull_n) => pull_n,
            other => panic!("{other:?}"),
        },
    ),
    ("sockets[nose].may_pin_n", 0.0, 1_000.0, |p| {
        p.sockets[0].may_pin_n.as_mut().unwrap()
    }),
    ("sites[a].max_diameter_mm", 0.1, 100.0, |p| {
        &mut p.sockets[0].sites[0].max_diameter_mm
    }),
    ("sites[a].max_depth_mm", 0.1, 100.0, |p| {
        &mut p.sockets[0].sites[0].max_depth_mm
    }),
    ("cells[nose].turn_deg", -360.0, 360.0, |p| {
        &mut p.variants[0].cells[0].seats[0].pose.turn_deg
    }),
    ("materials[styrene].density_g_cm3", 0.01, 25.0, |p| {
        &mut p.materials[0].density_g_cm3
    }),
    ("materials[styrene].strength_mpa", 0.1, 5_000.0, |p| {
        &mut p.materials[0].strength_mpa
    }),
    ("stock.magnets[disc-2x1].diameter_mm", 0.2, 100.0, |p| {
        &mut p.stock.magnets[0].diameter_mm
    }),
    ("stock.magnets[disc-2x1].height_mm", 0.2, 100.0, |p| {
        &mut p.stock.magnets[0].height_mm
    }),
    ("stock.steel[steel-5x1].diameter_mm", 0.05, 200.0, |p| {
        &mut p.stock.steel[0].diameter_mm
    }),
    ("stock.steel[steel-5x1].thickness_mm", 0.05, 200.0, |p| {
        &mut p.stock.steel[0].thickness_mm
    }),
    ("stock.bits_mm", 0.1, 50.0, |p| &mut p.stock.bits_mm[0]),
    ("finish.primer_um", 0.0, 5_000.0, |p| {
        &mut p.finish.primer_um
    }),
    ("finish.colour_um", 0.0, 5_000.0, |p| {
        &mut p.finish.colour_um
    }),
    ("finish.varnish_um", 0.0, 5_000.0, |p| {
        &mut p.finish.varnish_um
    }),
    ("finish.glue_film_um", 0.0, 5_000.0, |p| {
        &mut p.finish.glue_film_um
    }),
    ("finish.fit_um", 0.0, 5_000.0, |p| &mut p.finish.fit_um),
    ("settings.hold_target_g", 0.0, 1_000.0, |p| {
        &mut p.settings.hold_target_g
    }),
    ("settings.friction", 0.0, 2.0, |p| &mut p.settings.friction),
    ("settings.gap_tolerance_mm", 0.0, 10.0, |p| {
        &mut p.settings.gap_tolerance_mm
    }),
    ("settings.facing_tolerance_mm", 0.0, 10.0, |p| {
        &mut p.settings.facing_tolerance_mm
    }),
    ("settings.hole_allowance_mm", 0.0, 10.0, |p| {
        &mut p.settings.hole_allowance_mm
    }),
    ("settings.glue_allowance_mm", 0.0, 10.0, |p| {
        &mut p.settings.glue_allowance_mm
    }),
    ("settings.warmest_c", -40.0, 200.0, |p| {
        &mut p.settings.warmest_c
    }),
    ("settings.snap_safety", 1.0, 100.0, |p| {
        &mut p.settings.snap_safety
    }),
    ("settings.bond_safety", 1.0, 100.0, |p| {
        &mut p.settings.bond_safety
    }),
    ("settings.glue_strength_mpa", 0.01, 1_000.0, |p| {
        &mut p.settings.glue_strength_mpa
    }),
    ("settings.hand_limit_n", 0.1, 1_000.0, |p| {
        &mut p.settings.hand_limit_n
    }),
    ("settings.spare_percent", 0.0, 1_000.0, |p| {
        &mut p.settings.spare_percent
    }),
    ("settings.shake_g", 0.0, 1_000.0, |p| {
        &mut p.settings.shake_g
    }),
    ("settings.stranger_limit_n", 0.001, 1_000.0, |p| {
        &mut p.settings.stranger_limit_n
    }),
    ("settings.scatter.position_sd_mm", 0.0, 5.0, |p| {
        &mut p.settings.scatter.position_sd_mm
    }),
    ("settings.scatter.depth_sd_mm", 0.0, 5.0, |p| {
        &mut p.settings.scatter.depth_sd_mm
    }),
    ("settings.scatter.tilt_sd_deg", 0.0, 20.0, |p| {
        &mut p.settings.scatter.tilt_sd_deg
    }),
    ("settings.scatter.coats_sd_share", 0.0, 2.0, |p| {
        &mut p.settings.scatter.coats_sd_share
    }),
    ("rates.hole_min", 0.0, 100_000.0, |p| &mut p.rates.hole_min),
    ("rates.paint_dry_min", 0.0, 100_000.0, |p| {
        &mut p.rates.paint_dry_min
    }),
    ("progress.marks.took_min", 0.0, 100_000.0, |p| {
        p.progress.marks[0].took_min.as_mut().unwrap()
    }),
    ("own_work.steps[own:1].hands_min", 0.0, 100_000.0, |p| {
        &mut p.own_work.steps[0].hands_min
    }),
    (
        "own_work.splits[paint:lamp].wait_min",
        0.0,
        100_000.0,
        |p| &mut p.own_work.splits[0].goes[0].wait_min,
    ),
    ("quote.margin_percent", 0.0, 1_000.0, |p| {
        &mut p.quote.margin_percent
    }),
    ("quote.tax_percent", 0.0, 1_000.0, |p| {
        &mut p.quote.tax_percent
    }),
    ("stowing.padding_mm", 0.0, 100.0, |p| {
        &mut p.stowing.padding_mm
    }),
    ("stowing.spaces[tray].inside_mm", 0.1, MM, |p| {
        &mut p.stowing.spaces[0].inside_mm[0]
    }),
];

fn picture(plan: &mut Plan) -> &mut Backdrop {
    plan.backdrop.as_mut().unwrap()
}

fn thin(plan: &mut Plan, part: usize) -> &mut ThinSection {
    plan.parts[part].thin.as_mut().unwrap()
}

fn plug(plan: &mut Plan) -> &mut Plug {
    &mut plan.parts[1].plugs[0]
}

fn plug_site(plan: &mut Plan) -> &mut Site<PlugSiteRef> {
    &mut plug(plan).sites.as_mut().unwrap()[0]
}

#[test]
fn a_plan_with_one_of_everything_has_no_problem() {
    assert_eq!(full().problems(), []);
}

#[test]
fn every_number_is_taken_up_to_its_limits_and_refused_beyond_them() {
    for (place, low, high, entry) in NUMBERS {
        let with = |value: f64| {
            let mut plan = full();
            *entry(&mut plan) = value;
            plan
        };
        for taken in [*low, *high] {
            assert_eq!(refused(&with(taken)), [""; 0], "{place} {taken}");
        }
        for beyond in [low.next_down(), high.next_up(), f64::NAN] {
            refused_at(&with(beyond), place);
        }
    }
}

type Amount = (&'static str, u32, u32, fn(&mut Plan) -> &mut u32);

const AMOUNTS: &[Amount] = &[
    ("stock.magnets[disc-2x1].packs", 1, 100_000, |p| {
        &mut p.stock.magnets[0].packs[0].count
    }),
    ("stock.steel[steel-5x1].packs", 0, limits::CENTS, |p| {
        &mut p.stock.steel[0].packs[0].price_cents
    }),
    ("rates.hour_cents", 0, limits::CENTS, |p| {
        &mut p.rates.hour_cents
    }),
    ("quote.extras.cents", 0, limits::CENTS, |p| {
        &mut p.quote.extras[0].cents
    }),
    ("quote.valid_days", 0, 10_000, |p| &mut p.quote.valid_days),
    ("kit.price_cents", 0, limits::CENTS, |p| {
        &mut p.kit.price_cents
    }),
    ("stowing.spaces[tray].count", 1, 20, |p| {
        &mut p.stowing.spaces[0].count
    }),
];

#[test]
fn every_amount_is_taken_up_to_its_limits_and_refused_beyond_them() {
    for (place, low, high, entry) in AMOUNTS {
        let with = |value: u32| {
            let mut plan = full();
            *entry(&mut plan) = value;
            plan
        };
        for taken in [*low, *high] {
            assert_eq!(refused(&with(taken)), [""; 0], "{place} {taken}");
        }
        refused_at(&with(high + 1), place);
        if let Some(below) = low.checked_sub(1) {
            refused_at(&with(below), place);
        }
    }
}
