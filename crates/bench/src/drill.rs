//! Drill list: for every hole the bit, the steps up to it, and how deep.

use lodewright_joints::{
    Context, DRILL_POINT, Fillings, Hole, HoleIx, Misfit, bit_for, filling_size, glue_room_mm,
    misfit,
};
use lodewright_kit::{Inside, Ix, PartIx, Plan};
use serde::Serialize;
use tiny_sort::stable::sort_by;

/// One hole to drill.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DrillLine {
    /// The hole.
    #[serde(skip)]
    pub hole: HoleIx,
    /// Its part.
    #[serde(skip)]
    pub part: PartIx,
    /// The bit, mm.
    pub bit_mm: f64,
    /// Whether that bit is among the bits at the desk (always, where none are listed).
    pub bit_in_hand: bool,
    /// Smaller bits before it, mm.
    pub pilots_mm: Vec<f64>,
    /// Full-diameter depth from the face that is drilled, mm; from inside down to the wall that stays.
    pub depth_mm: f64,
    /// What a 118° point goes deeper than that, mm.
    pub point_mm: f64,
    /// Whether the bottom is finished with a flat cutter, the drill stopping short by its point.
    pub finish_flat: bool,
    /// Why it must not be drilled so.
    pub misfit: Option<Misfit>,
    /// Where to drill from.
    pub from: DrillFrom,
    /// Wall that must be left in front, mm.
    pub wall_left_mm: f64,
    /// How far the hole may be out of place before the magnets miss each other by a tenth of their diameter, mm.
    pub place_within_mm: f64,
    /// How far the hole may lean before one edge of the magnet stands proud by the gap tolerance, degrees.
    pub lean_within_deg: f64,
}

/// Where a hole is drilled from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DrillFrom {
    /// From the mating face.
    MatingFace,
    /// From inside, leaving a wall towards the mating face.
    Inside,
    /// Right through.
    Through,
}

/// Bits grow by at most this in soft plastic before the next one is taken, mm (common practice, no source).
const PILOT_STEP_MM: f64 = 1.5;
/// First bit, mm (common practice, no source).
const FIRST_PILOT_MM: f64 = 1.0;

/// Lists the holes, ordered by bit, then part.
pub fn drill_list(context: &Context, fillings: &Fillings) -> Vec<DrillLine> {
    let plan = context.plan();
    let mut lines: Vec<DrillLine> = Vec::new();
    for (h, hole) in HoleIx::each(&context.holes.holes) {
        let Some((diameter_mm, height_mm)) = filling_size(plan, fillings[h]) else {
            continue;
        };
        let (bit_mm, bit_in_hand) = bit_for(
            diameter_mm + plan.settings.hole_allowance_mm,
            &plan.stock.bits_mm,
        );
        let from = match hole {
            _ if hole.through => DrillFrom::Through,
            _ if hole.wall_mm > 0.0 => DrillFrom::Inside,
            _ => DrillFrom::MatingFace,
        };
        lines.push(DrillLine {
            hole: h,
            part: hole.part,
            bit_mm,
            bit_in_hand,
            pilots_mm: pilots(bit_mm),
            depth_mm: match from {
                DrillFrom::Through => Some(hole.max_depth_mm),
                DrillFrom::Inside => from_inside_mm(plan, hole, bit_mm),
                DrillFrom::MatingFace => None,
            }
            .unwrap_or(height_mm + glue_room_mm(plan, hole)),
            point_mm: DRILL_POINT * bit_mm,
            finish_flat: plan.settings.flat_cutter && from != DrillFrom::Through,
            misfit: misfit(plan, hole, fillings[h]).or_else(|| context.crowding(fillings, h)),
            from,
            wall_left_mm: hole.wall_mm,
            place_within_mm: diameter_mm / 10.0,
            lean_within_deg: lean_within_deg(plan.settings.gap_tolerance_mm, diameter_mm),
        });
    }
    sort_by(&mut lines, |a, b| {
        a.bit_mm
            .total_cmp(&b.bit_mm)
            .then(a.part.cmp(&b.part))
            .then(a.hole.cmp(&b.hole))
    });
    lines
}

/// How deep a hole is drilled from behind until its wall is left, where it is known what is there.
fn from_inside_mm(plan: &Plan, hole: &Hole, bit_mm: f64) -> Option<f64> {
    let is_said = plan.parts[hole.part].inside != Inside::Unsaid || hole.room.is_measured();
    let material_mm = hole.room.behind_mm(bit_mm).filter(|_| is_said)?;
    Some((material_mm - hole.wall_mm).max(0.0))
}

/// asin(tolerance / diameter), at most ten degrees: more is no hole any more.
fn lean_within_deg(gap_tolerance_mm: f64, diameter_mm: f64) -> f64 {
    let share = (gap_tolerance_mm / diameter_mm.max(0.1)).clamp(0.0, 1.0);
    libm::asin(share).to_degrees().min(10.0)
}

fn pilots(bit_mm: f64) -> Vec<f64> {
    let mut list = Vec::new();
    let mut at_mm = FIRST_PILOT_MM;
    while at_mm + 0.25 < bit_mm {
        list.push(at_mm);
        at_mm += PILOT_STEP_MM;
    }
    list
}
