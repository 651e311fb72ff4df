//! The gap between two fillings and the pull across it.

use lodewright_field::{
    Disc, Family, FieldError, Grade, GradeReading, LastingLoss, Magnet, REFERENCE_TEMP_C,
    coaxial_attraction_n, effective_polarization_t, force, read_grade, steel_disc_attraction_n,
};
use lodewright_kit::{Ix, MagnetIx, MagnetStock, Plan, SteelIx, Table};
use serde::Serialize;

use crate::holes::{FaceIx, Hole, HoleIx, Holes};
use crate::mating::Mate;

/// What is in a hole, by its place in the plan's stock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Filling {
    /// Nothing.
    #[default]
    Empty,
    /// This magnet.
    Magnet(MagnetIx),
    /// This steel disc.
    Steel(SteelIx),
}

/// What goes in each hole.
pub type Fillings = Table<HoleIx, Filling>;

/// A side of a mating.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum PairSide {
    /// The host's.
    Socket,
    /// The part's.
    Plug,
}

/// Which end of all tolerances is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// Weakest: low end of the grade, warm, smallest under the thickest plating, gap at its largest.
    Weak,
    /// Strongest: high end of the grade, 20 °C, largest under the thinnest plating, gap at its smallest.
    Strong,
}

/// A thing between two magnet faces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum GapLayer {
    /// Wall left in front of a piece, or air where a short piece stays back in its hole.
    Wall(PairSide),
    /// Glue between a piece and its wall.
    GlueFilm(PairSide),
    /// Primer, paint and varnish.
    Paint(PairSide),
    /// Play between the two faces.
    Fit,
}

impl GapLayer {
    /// Whether it is a wall or a recess, which the drill makes, and not a coat or a film.
    pub fn is_wall(self) -> bool {
        matches!(self, Self::Wall(_))
    }
}

/// One layer with its thickness.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct GapPart {
    /// What it is.
    pub layer: GapLayer,
    /// How thick, mm.
    pub thickness_mm: f64,
}

/// Everything between two faces that meet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GapStack {
    /// From the socket's side to the plug's.
    pub layers: Vec<GapPart>,
    /// Their sum, mm.
    pub gap_mm: f64,
}

/// Builds the gap stack of two faces with these fillings.
pub fn gap_stack(plan: &Plan, holes: &Holes, mate: &Mate, fillings: &Fillings) -> GapStack {
    let side = |face: FaceIx, side: PairSide| {
        let f = &holes.faces[face];
        let from_behind = mate.from_behind && !f.owner.is_socket();
        let hole = &holes.holes[f.hole];
        let height_mm =
            filling_size(plan, fillings[f.hole]).map_or(0.0, |(_, height_mm)| height_mm);
        let wall_mm = if from_behind { 0.0 } else { f.wall_mm };
        // Set flush at the first face, a piece shorter than a through hole stays back at the second.
        let recess_mm = if f.far || from_behind {
            (hole.max_depth_mm - height_mm).max(0.0)
        } else {
            0.0
        };
        let film_mm = if wall_mm > 0.0 {
            plan.finish.glue_film_um / 1000.0
        } else {
            0.0
        };
        [
            GapPart {
                layer: GapLayer::Wall(side),
                thickness_mm: wall_mm + recess_mm,
            },
            GapPart {
                layer: GapLayer::GlueFilm(side),
                thickness_mm: film_mm,
            },
            GapPart {
                layer: GapLayer::Paint(side),
                thickness_mm: plan.finish.coats_mm(),
            },
        ]
    };
    let host = side(mate.socket_face, PairSide::Socket);
    let part = side(mate.plug_face, PairSide::Plug);
    let fit = GapPart {
        layer: GapLayer::Fit,
        thickness_mm: plan.finish.fit_um / 1000.0,
    };
    let mut layers = host.to_vec();
    layers.push(fit);
    layers.extend(part.into_iter().rev());
    layers.retain(|p| p.thickness_mm > 0.0);
    let gap_mm = layers.iter().map(|p| p.thickness_mm).sum();
    GapStack { layers, gap_mm }
}

/// Diameter and height of a filling, mm; `None` for an empty hole.
pub fn filling_size(plan: &Plan, filling: Filling) -> Option<(f64, f64)> {
    match filling {
        Filling::Empty => None,
        Filling::Magnet(i) => plan
            .stock
            .magnets
            .get(i.get())
            .map(|m| (m.diameter_mm, m.height_mm)),
        Filling::Steel(i) => plan
            .stock
            .steel
            .get(i.get())
            .map(|s| (s.diameter_mm, s.thickness_mm)),
    }
}

/// Room that glue takes behind a piece, mm: a hole drilled through has no bottom that glue has to fill.
pub fn glue_room_mm(plan: &Plan, hole: &Hole) -> f64 {
    if hole.through {
        0.0
    } else {
        plan.settings.glue_allowance_mm
    }
}

/// Mass of a filling, g: published densities of sintered NdFeB 7.5 and steel 7.85 g/cm³.
pub fn filling_mass_g(plan: &Plan, filling: Filling) -> f64 {
    let density_g_cm3 = if matches!(filling, Filling::Steel(_)) {
        7.85
    } else {
        7.5
    };
    filling_size(plan, filling).map_or(0.0, |(d, h)| {
        std::f64::consts::FRAC_PI_4 * d * d * h * density_g_cm3 / 1000.0
    })
}

/// Pull along the joint's normal between two fillings across a gap, N, for poles that attract; zero where one is empty
/// or both are steel. Magnets whose axes lie `offset_mm` apart pull less (and push, far enough apart); steel is taken
/// as on the axis. The gap is between the faces; the plating under them comes on top.
///
/// # Errors
/// [`FieldError`] where a size or gap is beyond the field formulas' limits.
pub fn pull_n(
    plan: &Plan,
    a: Filling,
    b: Filling,
    gap_mm: f64,
    offset_mm: f64,
    end: End,
) -> Result<f64, FieldError> {
    let magnet = |i: MagnetIx| {
        let stock = plan.stock.magnets.get(i.get());
        stock.map(|m| material(plan, m, end))
    };
    match (a, b) {
        (Filling::Magnet(i), Filling::Magnet(j)) => match (magnet(i), magnet(j)) {
            (Some(a), Some(b)) => {
                let gap_mm = gap_mm + a.plating_mm + b.plating_mm;
                magnets_n(&a.polarised()?, &b.polarised()?, gap_mm, offset_mm)
            }
            _ => Ok(0.0),
        },
        (Filling::Magnet(i), Filling::Steel(j)) | (Filling::Steel(j), Filling::Magnet(i)) => {
            match (magnet(i), plan.stock.steel.get(j.get())) {
                (Some(m), Some(s)) => steel_disc_attraction_n(
                    &m.remanent()?,
                    s.diameter_mm,
                    s.thickness_mm,
                    gap_mm + m.plating_mm,
                    m.recoil_mu_r,
                ),
                _ => Ok(0.0),
            }
        }
        _ => Ok(0.0),
    }
}

/// Centres closer than this count as on one axis, mm: the pull then differs by less than a thousandth.
const ON_AXIS_MM: f64 = 0.02;

fn magnets_n(a: &Disc, b: &Disc, gap_mm: f64, offset_mm: f64) -> Result<f64, FieldError> {
    if offset_mm <= ON_AXIS_MM {
        return coaxial_attraction_n(a, b, gap_mm);
    }
    let apart_mm = gap_mm + (a.height_mm + b.height_mm) / 2.0;
    let pose = lodewright_field::Pose::shifted([offset_mm, 0.0, apart_mm])?;
    // Both polarised along +z they attract: the force on the upper one points down.
    Ok(-force(&Magnet::from(*a), &Magnet::from(*b), &pose)?.force_n[2])
}

/// A magnet of the stock as a uniformly polarised disc: what lies under its plating.
///
/// # Errors
/// [`FieldError`] where its size is beyond the field formulas' limits.
pub fn disc(plan: &Plan, magnet: &MagnetStock, end: End) -> Result<Disc, FieldError> {
    material(plan, magnet, end).polarised()
}

/// What is known of a magnet's strength: read from its grade, or given by hand.
pub fn strength_of(magnet: &MagnetStock) -> GradeReading {
    let reading = read_grade(&magnet.grade);
    magnet
        .br_by_hand_t
        .map_or(reading, |br_t| reading.with_br_t(br_t))
}

/// Whether the model's warmest takes strength from a magnet for good, lying by itself.
///
/// # Errors
/// [`FieldError`] where its size is beyond the field formulas' limits.
pub fn lasting_loss(plan: &Plan, magnet: &MagnetStock) -> Result<LastingLoss, FieldError> {
    let size = material(plan, magnet, End::Weak);
    grade_of(magnet).lasting_loss(size.diameter_mm, size.height_mm, warmest_c(plan))
}

/// The figures of a magnet's grade.
pub(crate) fn grade_of(magnet: &MagnetStock) -> Grade {
    *strength_of(magnet).grade()
}

/// Warmest that the model gets, °C; figures of strength begin at room temperature.
pub(crate) fn warmest_c(plan: &Plan) -> f64 {
    plan.settings.warmest_c.max(REFERENCE_TEMP_C)
}

/// The magnetic part of a magnet at one end of its tolerances.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Material {
    /// Under the plating, mm.
    pub diameter_mm: f64,
    /// Under the plating, mm.
    pub height_mm: f64,
    /// On each face, mm.
    pub plating_mm: f64,
    /// Remanence, T.
    pub br_t: f64,
    /// Relative recoil permeability.
    pub recoil_mu_r: f64,
}

/// No magnet is ground or plated away to less than this, mm.
const LEAST_MM: f64 = 0.01;

/// A magnet at one end of its tolerances.
pub(crate) fn material(plan: &Plan, magnet: &MagnetStock, end: End) -> Material {
    let (make, reading) = (&plan.settings.magnet_make, strength_of(magnet));
    let [low_t, _] = reading.grade().br_range_t(warmest_c(plan));
    let plating = [make.thinnest_plating_um, make.thickest_plating_um];
    let (more_mm, plating_um, br_t) = match end {
        End::Weak => (-make.size_tolerance_mm, plating[0].max(plating[1]), low_t),
        End::Strong => (
            make.size_tolerance_mm,
            plating[0].min(plating[1]),
            reading.grade().br_max_t,
        ),
    };
    // Of an unknown material the worse is taken.
    let bare = match reading.family() {
        Some(family) => !is_plated(family),
        None => end == End::Strong,
    };
    let plating_um = if bare { 0.0 } else { plating_um };
    Material::under(magnet, more_mm, plating_um / 1000.0, br_t, reading.grade())
}

/// A magnet of the size it is sold by, under plating of middling thickness, at the low end of its strength.
pub(crate) fn typical(plan: &Plan, magnet: &MagnetStock) -> Material {
    let (make, reading) = (&plan.settings.magnet_make, strength_of(magnet));
    let [low_t, _] = reading.grade().br_range_t(warmest_c(plan));
    let plating_um = if reading.family().is_none_or(is_plated) {
        (make.thinnest_plating_um + make.thickest_plating_um) / 2.0
    } else {
        0.0
    };
    Material::under(magnet, 0.0, plating_um / 1000.0, low_t, reading.grade())
}

/// Neodymium rusts; ferrite and samarium cobalt do not and are sold bare.
fn is_plated(family: Family) -> bool {
    family == Family::Neodymium
}

impl Material {
    fn under(
        magnet: &MagnetStock,
        more_mm: f64,
        plating_mm: f64,
        br_t: f64,
        grade: &Grade,
    ) -> Self {
        let inside = |size_mm: f64| (size_mm + more_mm - 2.0 * plating_mm).max(LEAST_MM);
        Self {
            diameter_mm: inside(magnet.diameter_mm),
            height_mm: inside(magnet.height_mm),
            plating_mm,
            br_t,
            recoil_mu_r: grade.recoil_permeability,
        }
    }

    /// With the remanence for its polarisation, as the formulas of steel want it.
    pub(crate) fn remanent(&self) -> Result<Disc, FieldError> {
        Disc::new(self.diameter_mm, self.height_mm, self.br_t)
    }

    /// With the mean polarisation that its own field leaves it.
    pub(crate) fn polarised(&self) -> Result<Disc, FieldError> {
        let (d, h) = (self.diameter_mm, self.height_mm);
        Disc::new(
            d,
            h,
            effective_polarization_t(self.br_t, self.recoil_mu_r, d, h)?,
        )
    }
}

/// The gap at one end of its tolerance, mm.
pub fn gap_at(plan: &Plan, nominal_mm: f64, end: End) -> f64 {
    match end {
        End::Weak => nominal_mm + plan.settings.gap_tolerance_mm,
        End::Strong => (nominal_mm - plan.settings.gap_tolerance_mm).max(0.0),
    }
}
