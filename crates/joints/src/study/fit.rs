//! Whether a magnet fits its hole and its wall, what plastic is left, and the largest that would.

use lodewright_geometry::{distance, inside_mm};
use lodewright_kit::{Ix, MagnetIx, Plan};

use crate::holes::{Hole, Holes};
use crate::pull::{End, PairSide, disc, filling_size, fits, glue_room_mm, takes};
use crate::statics::JointModel;

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
    pub largest: Option<MagnetIx>,
    /// The tallest stock magnet that fits the site.
    pub tallest: Option<MagnetIx>,
}

/// What is wrong or tight at a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FitWarning {
    /// It does not fit what the site allows.
    TooLarge,
    /// The point of a twist drill would go too deep.
    PointTooDeep {
        /// By how much, mm.
        by_mm: f64,
    },
    /// Too little is left beside it; negative where it runs over.
    Beside {
        /// What it comes near.
        neighbour: Neighbour,
        /// What is left, mm.
        wall_mm: f64,
    },
}

/// What a hole may come near.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Neighbour {
    /// The edge of the contact.
    Edge,
    /// The next hole in the face.
    Hole,
}

impl FitFacts {
    /// What is wrong or tight; empty where all is well.
    pub fn warnings(&self) -> Vec<FitWarning> {
        let mut found = Vec::new();
        if !self.fits {
            found.push(FitWarning::TooLarge);
        } else if self.below_point_mm < 0.0 && self.point_mm > 0.0 {
            found.push(FitWarning::PointTooDeep {
                by_mm: -self.below_point_mm,
            });
        }
        let beside = [
            (Neighbour::Edge, Some(self.edge_mm)),
            (Neighbour::Hole, self.neighbour_mm),
        ];
        found.extend(beside.into_iter().filter_map(|(neighbour, wall_mm)| {
            let wall_mm = wall_mm.filter(|mm| *mm < LEAST_WALL_MM)?;
            Some(FitWarning::Beside { neighbour, wall_mm })
        }));
        found
    }
}

/// The facts of one side of a pair; `None` where the hole is not there or empty.
pub fn fit_facts(
    holes: &Holes,
    model: &JointModel,
    pair: usize,
    side: PairSide,
) -> Option<FitFacts> {
    let plan = &*model.plan;
    let piece = |i: usize| Some(*model.pairs.get(i)?.side(side));
    let mine = piece(pair)?;
    let hole = &holes.holes[mine.hole];
    let (across_mm, height_mm) = filling_size(plan, mine.filling)?;
    let hole_mm = across_mm + plan.settings.hole_allowance_mm;
    let depth_mm = height_mm + glue_room_mm(plan, hole);
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
    let moment = |i: MagnetIx| {
        let disc = disc(plan, &plan.stock.magnets[i], End::Weak);
        disc.map_or(0.0, |d| d.moment_a_m2())
    };
    let height = |i: MagnetIx| plan.stock.magnets[i].height_mm;
    Some(FitFacts {
        hole_mm,
        depth_mm,
        point_mm,
        below_mm,
        below_point_mm: below_mm - point_mm,
        front_mm: hole.wall_mm,
        edge_mm: inside_mm(&model.contact_mm, mine.at_mm) - hole_mm / 2.0,
        neighbour_mm: others.reduce(f64::min),
        fits: takes(plan, hole, mine.filling),
        largest: best(plan, hole, moment),
        tallest: best(plan, hole, height),
    })
}

fn best(plan: &Plan, hole: &Hole, of: impl Fn(MagnetIx) -> f64) -> Option<MagnetIx> {
    let fitting = MagnetIx::all(&plan.stock.magnets).filter(|i| fits(plan, hole, *i));
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
