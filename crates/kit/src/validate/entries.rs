//! Each entry by itself: ids, labels, numbers, counts.

use std::collections::BTreeSet;

use super::{Check, limits};
use crate::{
    Attach, Backdrop, Drawn, Finish, Fit, Mass, Part, Patch, Plan, Plug, Rates, Section, Settings,
    Site, Socket, Stock,
};

const MM: f64 = limits::MM;

pub(super) fn check(plan: &Plan, c: &mut Check) {
    c.label("title", &plan.title, limits::LABEL);
    c.label("note", &plan.note, limits::NOTE);
    c.label("kit.name", &plan.kit.name, limits::LABEL);
    c.count("parts", plan.parts.len(), limits::PARTS);
    c.count("sockets", plan.sockets.len(), limits::SOCKETS);
    c.count("variants", plan.variants.len(), limits::VARIANTS);
    if let Some(picture) = &plan.backdrop {
        backdrop(picture, c);
    }
    parts(plan, c);
    sockets(plan, c);
    variants(plan, c);
    materials(plan, c);
    stock(&plan.stock, c);
    finish(&plan.finish, c);
    settings(&plan.settings, c);
    rates(&plan.rates, c);
}

fn backdrop(backdrop: &Backdrop, c: &mut Check) {
    let long = backdrop.picture.address().len();
    if long > limits::PICTURE {
        c.refuse(
            "backdrop.picture",
            format!(
                "has {long} characters but may have at most {}.",
                limits::PICTURE
            ),
            "Take a smaller picture.",
        );
    } else if !backdrop.picture.is_legal() {
        c.refuse(
            "backdrop.picture",
            "is no JPEG or PNG picture within the plan.".to_owned(),
            "Pick the picture again.",
        );
    }
    for value in backdrop.middle_mm {
        c.range("backdrop", "middle_mm", value, -MM, MM);
    }
    c.numbers(
        "backdrop",
        0.1,
        MM,
        &[
            ("width_mm", backdrop.width_mm),
            ("height_mm", backdrop.height_mm),
        ],
    );
}

fn parts(plan: &Plan, c: &mut Check) {
    let mut seen = BTreeSet::new();
    for part in &plan.parts {
        c.id("parts", part.id.as_str(), part.id.is_legal(), &mut seen);
        self::part(part, c);
    }
}

fn part(part: &Part, c: &mut Check) {
    let place = format!("parts[{}]", part.id);
    c.label(&format!("{place}.name"), &part.name, limits::LABEL);
    c.label(
        &format!("{place}.sprue_number"),
        &part.sprue_number,
        limits::LABEL,
    );
    for value in part.size_mm {
        c.range(&place, "size_mm", value, 0.1, MM);
    }
    for value in part.centre_mm.iter().flatten().chain(&part.box_middle_mm) {
        c.range(&place, "centre_mm and box_middle_mm", *value, -MM, MM);
    }
    if let Drawn::Outline { points_mm, .. } = &part.drawn {
        let place = format!("{place}.drawn.outline.points_mm");
        c.count(&place, points_mm.len(), limits::POINTS);
        for value in points_mm.iter().flatten() {
            c.range(&place, "points", *value, -MM, MM);
        }
    }
    match &part.mass {
        Mass::Guessed | Mass::Shaped { wall_mm: None, .. } => {}
        Mass::Weighed { mass_g } => c.range(&place, "mass.mass_g", *mass_g, 0.0, 100_000.0),
        Mass::Volume { volume_cm3 } => {
            c.range(&place, "mass.volume_cm3", *volume_cm3, 0.0, 100_000.0)
        }
        Mass::Shaped {
            wall_mm: Some(wall),
            ..
        } => c.range(&place, "mass.wall_mm", *wall, 0.05, MM),
    }
    if let Some(thin) = &part.thin {
        let place = format!("{place}.thin");
        c.numbers(
            &place,
            0.05,
            MM,
            &[("length_mm", thin.length_mm), ("reach_mm", thin.reach_mm)],
        );
        c.range(&place, "notch_factor", thin.notch_factor, 1.0, 10.0);
        match thin.section {
            Section::Round { diameter_mm } => c.range(&place, "diameter_mm", diameter_mm, 0.05, MM),
            Section::Rectangle {
                width_mm,
                height_mm,
            } => {
                c.numbers(
                    &place,
                    0.05,
                    MM,
                    &[("width_mm", width_mm), ("height_mm", height_mm)],
                );
            }
        }
    }
    c.count(&format!("{place}.plugs"), part.plugs.len(), limits::PLUGS);
    let mut seen = BTreeSet::new();
    for plug in &part.plugs {
        c.id(
            &format!("{place}.plugs"),
            plug.id.as_str(),
            plug.id.is_legal(),
            &mut seen,
        );
        self::plug(&format!("{place}.plugs[{}]", plug.id), plug, c);
    }
}

fn plug(place: &str, plug: &Plug, c: &mut Check) {
    for value in plug.at_mm.iter().flatten() {
        c.range(place, "at_mm", *value, -MM, MM);
    }
    c.range(place, "spin_deg", plug.spin_deg, -360.0, 360.0);
    if let Some(patch) = &plug.patch {
        self::patch(place, patch, c);
    }
    if let Some(thickness_mm) = plug.thickness_mm {
        c.range(place, "thickness_mm", thickness_mm, 0.1, MM);
    }
    if let Some(list) = &plug.sites {
        sites(place, list, c);
    }
}

fn sockets(plan: &Plan, c: &mut Check) {
    let mut seen = BTreeSet::new();
    for socket in &plan.sockets {
        c.id(
            "sockets",
            socket.id.as_str(),
            socket.id.is_legal(),
            &mut seen,
        );
        self::socket(&format!("sockets[{}]", socket.id), socket, c);
    }
}

fn socket(place: &str, socket: &Socket, c: &mut Check) {
    c.label(&format!("{place}.name"), &socket.name, limits::LABEL);
    for value in socket.at_mm.iter().flatten() {
        c.range(place, "at_mm", *value, -MM, MM);
    }
    c.range(place, "spin_deg", socket.spin_deg, -360.0, 360.0);
    patch(place, &socket.patch, c);
    for value in socket.peg.at_mm {
        c.range(place, "peg.at_mm", value, -MM, MM);
    }
    c.range(place, "peg.length_mm", socket.peg.length_mm, 0.1, MM);
    c.range(
        place,
        "peg.clearance_mm",
        socket.peg.clearance_mm,
        0.0,
        10.0,
    );
    if let Attach::Friction(pull_n) = socket.attach {
        c.range(place, "attach.friction", pull_n, 0.0, 1_000.0);
    }
    if let Some(pull_n) = socket.may_pin_n {
        c.range(place, "may_pin_n", pull_n, 0.0, 1_000.0);
    }
    sites(place, &socket.sites, c);
}

fn patch(place: &str, patch: &Patch, c: &mut Check) {
    let place = format!("{place}.patch");
    match patch {
        Patch::Rectangle {
            width_mm,
            height_mm,
        } => {
            c.numbers(
                &place,
                0.1,
                MM,
                &[("width_mm", *width_mm), ("height_mm", *height_mm)],
            );
        }
        Patch::Disc { diameter_mm } => c.range(&place, "diameter_mm", *diameter_mm, 0.1, MM),
        Patch::Points(points) => {
            c.count(&place, points.len(), limits::POINTS);
            for value in points.iter().flatten() {
                c.range(&place, "points", *value, -MM, MM);
            }
        }
    }
}

fn sites<Far>(place: &str, list: &[Site<Far>], c: &mut Check) {
    let place = format!("{place}.sites");
    c.count(&place, list.len(), limits::SITES);
    let mut seen = BTreeSet::new();
    for site in list {
        c.id(&place, site.id.as_str(), site.id.is_legal(), &mut seen);
        let place = format!("{place}[{}]", site.id);
        for value in site.at_mm {
            c.range(&place, "at_mm", value, -MM, MM);
        }
        c.numbers(
            &place,
            0.1,
            100.0,
            &[
                ("max_diameter_mm", site.max_diameter_mm),
                ("max_depth_mm", site.max_depth_mm),
            ],
        );
        c.range(&place, "wall_mm", site.wall_mm, 0.0, 50.0);
    }
}

fn variants(plan: &Plan, c: &mut Check) {
    let mut seen = BTreeSet::new();
    for variant in &plan.variants {
        c.id(
            "variants",
            variant.id.as_str(),
            variant.id.is_legal(),
            &mut seen,
        );
        let place = format!("variants[{}]", variant.id);
        c.label(&format!("{place}.name"), &variant.name, limits::LABEL);
        c.count(
            &format!("{place}.cells"),
            variant.cells.len(),
            limits::SOCKETS,
        );
        for cell in &variant.cells {
            let place = format!("{place}.cells[{}]", cell.socket);
            c.count(&place, cell.seats.len(), limits::SEATS);
            for seat in &cell.seats {
                c.range(&place, "turn_deg", seat.pose.turn_deg, -360.0, 360.0);
            }
        }
    }
}

fn materials(plan: &Plan, c: &mut Check) {
    c.count("materials", plan.materials.len(), limits::LIST);
    let mut seen = BTreeSet::new();
    for m in &plan.materials {
        c.id("materials", m.id.as_str(), m.id.is_legal(), &mut seen);
        let place = format!("materials[{}]", m.id);
        c.label(&format!("{place}.name"), &m.name, limits::LABEL);
        c.range(&place, "density_g_cm3", m.density_g_cm3, 0.01, 25.0);
        c.range(&place, "strength_mpa", m.strength_mpa, 0.1, 5_000.0);
    }
}

fn stock(stock: &Stock, c: &mut Check) {
    c.count("stock.magnets", stock.magnets.len(), limits::STOCK);
    c.count("stock.steel", stock.steel.len(), limits::STOCK);
    c.count("stock.bits_mm", stock.bits_mm.len(), limits::LIST);
    let mut seen = BTreeSet::new();
    for m in &stock.magnets {
        c.id("stock.magnets", m.id.as_str(), m.id.is_legal(), &mut seen);
        let place = format!("stock.magnets[{}]", m.id);
        c.numbers(
            &place,
            0.2,
            100.0,
            &[("diameter_mm", m.diameter_mm), ("height_mm", m.height_mm)],
        );
        c.label(&format!("{place}.grade"), &m.grade, limits::LABEL);
        if let Some(br_t) = m.br_by_hand_t {
            c.range(&place, "br_by_hand_t", br_t, 0.05, 1.6);
        }
        packs(&place, &m.packs, c);
    }
    for s in &stock.steel {
        c.id("stock.steel", s.id.as_str(), s.id.is_legal(), &mut seen);
        let place = format!("stock.steel[{}]", s.id);
        c.numbers(
            &place,
            0.05,
            200.0,
            &[
                ("diameter_mm", s.diameter_mm),
                ("thickness_mm", s.thickness_mm),
            ],
        );
        packs(&place, &s.packs, c);
    }
    for bit in &stock.bits_mm {
        c.range("stock", "bits_mm", *bit, 0.1, 50.0);
    }
}

fn packs(place: &str, packs: &[crate::Pack], c: &mut Check) {
    c.count(&format!("{place}.packs"), packs.len(), limits::PACKS);
    for pack in packs {
        if pack.count == 0 || pack.count > 100_000 || pack.price_cents > 100_000_000 {
            c.refuse(
                &format!("{place}.packs"),
                format!(
                    "has a pack of {} for {} cents.",
                    pack.count, pack.price_cents
                ),
                "Give 1 to 100000 pieces and at most 100000000 cents.",
            );
        }
    }
}

fn finish(f: &Finish, c: &mut Check) {
    let films = [
        ("primer_um", f.primer_um),
        ("colour_um", f.colour_um),
        ("varnish_um", f.varnish_um),
        ("glue_film_um", f.glue_film_um),
        ("fit_um", f.fit_um),
    ];
    c.numbers("finish", 0.0, 5_000.0, &films);
}

fn settings(s: &Settings, c: &mut Check) {
    let at = "settings";
    c.range(at, "hold_target_g", s.hold_target_g, 0.0, 1_000.0);
    c.range(at, "friction", s.friction, 0.0, 2.0);
    c.numbers(
        at,
        0.0,
        10.0,
        &[
            ("gap_tolerance_mm", s.gap_tolerance_mm),
            ("facing_tolerance_mm", s.facing_tolerance_mm),
            ("hole_allowance_mm", s.hole_allowance_mm),
            ("glue_allowance_mm", s.glue_allowance_mm),
        ],
    );
    c.range(at, "warmest_c", s.warmest_c, -40.0, 200.0);
    c.numbers(
        at,
        1.0,
        100.0,
        &[
            ("snap_safety", s.snap_safety),
            ("bond_safety", s.bond_safety),
        ],
    );
    c.range(at, "glue_strength_mpa", s.glue_strength_mpa, 0.01, 1_000.0);
    c.range(at, "hand_limit_n", s.hand_limit_n, 0.1, 1_000.0);
    c.range(at, "spare_percent", s.spare_percent, 0.0, 1_000.0);
    c.range(at, "shake_g", s.shake_g, 0.0, 1_000.0);
    c.range(at, "stranger_limit_n", s.stranger_limit_n, 0.001, 1_000.0);
    let (at, make) = ("settings.magnet_make", &s.magnet_make);
    c.range(at, "size_tolerance_mm", make.size_tolerance_mm, 0.0, 1.0);
    c.numbers(
        at,
        0.0,
        200.0,
        &[
            ("thinnest_plating_um", make.thinnest_plating_um),
            ("thickest_plating_um", make.thickest_plating_um),
        ],
    );
    let at = "settings.scatter";
    c.range(at, "position_sd_mm", s.scatter.position_sd_mm, 0.0, 5.0);
    c.range(at, "depth_sd_mm", s.scatter.depth_sd_mm, 0.0, 5.0);
    c.range(at, "tilt_sd_deg", s.scatter.tilt_sd_deg, 0.0, 20.0);
    c.range(at, "coats_sd_share", s.scatter.coats_sd_share, 0.0, 2.0);
    c.label("settings.currency", &s.currency, 12);
}

fn rates(r: &Rates, c: &mut Check) {
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
    c.numbers("rates", 0.0, 100_000.0, &minutes);
    if r.hour_cents > 100_000_000 {
        c.refuse(
            "rates.hour_cents",
            format!("is {} but may be at most 100000000.", r.hour_cents),
            "Correct it.",
        );
    }
}

/// Stock words of a site's fit, where it names one.
pub(super) fn named_stock(fit: &Fit) -> Option<(&'static str, &crate::StockId)> {
    match fit {
        Fit::Auto | Fit::Empty => None,
        Fit::Magnet(id) => Some(("magnet", id)),
        Fit::Steel(id) => Some(("steel", id)),
    }
}
