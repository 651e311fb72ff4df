//! Whether a magnet fits its hole and its wall, what plastic is left, and the largest that would.

use lodewright_geometry::{distance, inside_mm};
use lodewright_kit::Plan;

use super::{JointModel, PairSide};
use crate::holes::{Hole, Holes};
use crate::pull::{End, Filling, disc, filling_size, fits};

/// Least wall that is left anywhere, mm: common practice, no source.
pub const LEAST_WALL_MM: f64 = 0.5;
/// Wall that is better left, mm: common practice, no source.
pub const GOOD_WALL_MM: f64 = 0.8;
/// Length of a twist drill's point over its diameter: half over the tangent of half the 118 degrees that it is ground to.
pub const DRILL_POINT: f64 = 0.300_430_309_513_78;

/// One hole with what is in it.
#[derive(Clone, Debug, PartialEq)]
pub struct FitFacts {
    /// Diameter of the hole, mm.
    pub hole_mm: f64,
    /// Depth at full diameter, mm.
    pub depth_mm: f64,
    /// How much deeper the point of a twist drill goes, mm; none for a hole that goes right through.
    pub point_mm: f64,
    /// Left of the deepest that the site allows, below the full diameter, mm; negative where it does not fit.
    pub below_mm: f64,
    /// The same below the drill's point; a flat-bottomed cutter is needed where this is negative and the other is not.
    pub below_point_mm: f64,
    /// Wall in front, mm.
    pub front_mm: f64,
    /// From the hole's rim to the edge of the contact, mm; negative where it runs over.
    pub edge_mm: f64,
    /// From the hole's rim to the next one's in the same face, mm.
    pub neighbour_mm: Option<f64>,
    /// Whether it fits the site's diameter and depth.
    pub fits: bool,
    /// The strongest stock magnet that fits the site.
    pub largest: Option<usize>,
    /// The tallest stock magnet that fits the site.
    pub tallest: Option<usize>,
}

impl FitFacts {
    /// Sentences on what is wrong or tight; empty where all is well.
    pub fn warnings(&self) -> Vec<String> {
        let mut said = Vec::new();
        if !self.fits {
            said.push("It does not fit what the site allows.".to_owned());
        } else if self.below_point_mm < 0.0 && self.point_mm > 0.0 {
            said.push(format!(
                "The point of a twist drill would go {:.1} mm too deep: finish with a flat-bottomed cutter.",
                -self.below_point_mm
            ));
        }
        for (what, wall_mm) in [
            ("the edge of the contact", Some(self.edge_mm)),
            ("the next hole", self.neighbour_mm),
        ] {
            let Some(wall_mm) = wall_mm else { continue };
            if wall_mm < 0.0 {
                said.push(format!("The hole runs {:.1} mm over {what}.", -wall_mm));
            } else if wall_mm < LEAST_WALL_MM {
                said.push(format!(
                    "Only {wall_mm:.1} mm are left to {what}: at least {LEAST_WALL_MM} mm, better {GOOD_WALL_MM} mm."
                ));
            }
        }
        said
    }
}

/// The facts of one side of a pair; `None` where the hole is not there or empty.
pub fn fit_facts(
    plan: &Plan,
    holes: &Holes,
    model: &JointModel,
    pair: usize,
    side: PairSide,
) -> Option<FitFacts> {
    let piece = |i: usize| Some(*model.pairs.get(i)?.side(side));
    let mine = piece(pair)?;
    let hole = holes.holes.get(mine.hole)?;
    let (across_mm, height_mm) = filling_size(plan, mine.filling)?;
    let hole_mm = across_mm + plan.settings.hole_allowance_mm;
    let glue_mm = if hole.through {
        0.0
    } else {
        plan.settings.glue_allowance_mm
    };
    let depth_mm = height_mm + glue_mm;
    let point_mm = if hole.through {
        0.0
    } else {
        DRILL_POINT * hole_mm
    };
    let below_mm = hole.max_depth_mm - depth_mm;
    let others = (0..model.pairs.len())
        .filter(|i| *i != pair)
        .filter_map(piece)
        .filter_map(|other| {
            let (d, _) = filling_size(plan, other.filling)?;
            let other_mm = d + plan.settings.hole_allowance_mm;
            Some(distance(mine.at_mm, other.at_mm) - (hole_mm + other_mm) / 2.0)
        });
    let moment = |i: usize| {
        let magnet = plan.stock.magnets.get(i);
        magnet
            .and_then(|m| disc(plan, m, End::Weak).ok())
            .map_or(0.0, |d| d.moment_a_m2())
    };
    let height = |i: usize| plan.stock.magnets.get(i).map_or(0.0, |m| m.height_mm);
    Some(FitFacts {
        hole_mm,
        depth_mm,
        point_mm,
        below_mm,
        below_point_mm: below_mm - point_mm,
        front_mm: hole.wall_mm,
        edge_mm: inside_mm(&model.contact_mm, mine.at_mm) - hole_mm / 2.0,
        neighbour_mm: others.reduce(f64::min),
        fits: match mine.filling {
            Filling::Magnet(i) => fits(plan, hole, i),
            _ => hole_mm <= hole.max_diameter_mm && depth_mm <= hole.max_depth_mm,
        },
        largest: best(plan, hole, moment),
        tallest: best(plan, hole, height),
    })
}

fn best(plan: &Plan, hole: &Hole, of: impl Fn(usize) -> f64) -> Option<usize> {
    let fitting = (0..plan.stock.magnets.len()).filter(|i| fits(plan, hole, *i));
    fitting.max_by(|a, b| of(*a).total_cmp(&of(*b)).then(b.cmp(a)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A 118 degree point is D / (2 tan 59 degrees) long: 1.5 mm for a 5 mm bit (worked out from the angle of the usual
    /// twist drill).
    #[test]
    fn the_point_of_a_drill() {
        let by_angle = 0.5 / libm::tan((59.0_f64).to_radians());
        assert!((DRILL_POINT - by_angle).abs() < 1e-12, "{by_angle}");
    }
}
