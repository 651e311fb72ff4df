//! Parts by themselves, and the picture to trace them from.

use super::check::At;
use super::sockets::{outline, patch, sites};
use crate::{Backdrop, Drawn, Inside, Mass, Part, Plug, Section, ThinSection, limits};

use limits::MM;

pub(super) fn part(at: &mut At<'_>, part: &Part) {
    at.label("name", &part.name, limits::LABEL);
    at.label("sprue_number", &part.sprue_number, limits::LABEL);
    at.each("size_mm", part.size_mm, 0.1, MM);
    let centre = part.centre_mm.into_iter().flatten();
    let places = centre.chain(part.box_middle_mm);
    at.each("centre_mm and box_middle_mm", places, -MM, MM);
    if let Drawn::Outline { points_mm, .. } = &part.drawn {
        outline(&mut at.within("drawn.outline.points_mm"), points_mm);
    }
    if let Inside::Shell { wall_mm } = part.inside {
        at.number("inside.wall_mm", wall_mm, 0.05, MM);
    }
    mass(at, part.mass);
    if let Some(thin) = &part.thin {
        self::thin(&mut at.within("thin"), thin);
    }
    at.list("plugs", &part.plugs, limits::PLUGS, |p| p.id.as_str(), plug);
}

fn mass(at: &mut At<'_>, mass: Mass) {
    match mass {
        Mass::Body => {}
        Mass::Weighed { mass_g } => at.number("mass.mass_g", mass_g, 0.0, 1e5),
        Mass::Volume { volume_cm3 } => at.number("mass.volume_cm3", volume_cm3, 0.0, 1e5),
    }
}

fn thin(at: &mut At<'_>, thin: &ThinSection) {
    at.number("length_mm", thin.length_mm, 0.05, MM);
    at.number("reach_mm", thin.reach_mm, 0.05, MM);
    at.number("notch_factor", thin.notch_factor, 1.0, 10.0);
    match thin.section {
        Section::Round { diameter_mm } => at.number("diameter_mm", diameter_mm, 0.05, MM),
        Section::Rectangle {
            width_mm,
            height_mm,
        } => {
            at.number("width_mm", width_mm, 0.05, MM);
            at.number("height_mm", height_mm, 0.05, MM);
        }
    }
}

fn plug(at: &mut At<'_>, plug: &Plug) {
    at.each("at_mm", plug.at_mm.into_iter().flatten(), -MM, MM);
    at.number("spin_deg", plug.spin_deg, -360.0, 360.0);
    if let Some(patch) = &plug.patch {
        self::patch(&mut at.within("patch"), patch);
    }
    at.each("thickness_mm", plug.thickness_mm, 0.1, MM);
    if let Some(list) = &plug.sites {
        sites(at, list);
    }
}

pub(super) fn backdrop(at: &mut At<'_>, backdrop: &Backdrop) {
    let long = backdrop.picture.address().len();
    if long > limits::PICTURE {
        let most = limits::PICTURE;
        at.refuse(
            "picture",
            format!("has {long} characters but may have at most {most}."),
            "Take a smaller picture.",
        );
    } else if !backdrop.picture.is_legal() {
        at.refuse(
            "picture",
            "is no JPEG or PNG picture within the plan.",
            "Pick the picture again.",
        );
    }
    at.each("middle_mm", backdrop.middle_mm, -MM, MM);
    at.number("width_mm", backdrop.width_mm, 0.1, MM);
    at.number("height_mm", backdrop.height_mm, 0.1, MM);
}
