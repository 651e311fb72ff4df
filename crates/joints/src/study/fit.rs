//! Whether a magnet fits its hole and its wall, what plastic is left, and the largest that would.

use lodewright_geometry::{distance, inside_mm};
use lodewright_kit::{Ix, MagnetIx, Plan};

use crate::bits;
use crate::holes::Hole;
use crate::pull::{End, Filling, PairSide, disc, filling_size, glue_room_mm};
use crate::room::{Misfit, point_mm, takes};
use crate::statics::JointModel;
use lodewright_body::LEAST_WALL_MM;

/// One hole with what is in it.
#[derive(Clone, Debug, PartialEq)]
pub struct FitFacts {
    /// Diameter of the hole, mm.
    pub hole_mm: f64,
    /// Depth at full diameter, mm.
    pub depth_mm: f64,
    /// How much deeper the point of a drill goes, mm; none for a hole that goes right through or is finished flat.
    pub point_mm: f64,
    /// Material behind the face there, mm; `None` where that is not known.
    pub material_mm: Option<f64>,
    /// Wall in front, mm.
    pub front_mm: f64,
    /// From the hole's rim to the edge of the contact or to the side of the part, whichever is nearer, mm; negative where it
    /// runs over.
    pub edge_mm: f64,
    /// From the hole's rim to the next one's in the same face, mm.
    pub neighbour_mm: Option<f64>,
    /// Why the hole cannot be.
    pub misfit: Option<Misfit>,
    /// The strongest stock magnet that fits the site.
    pub largest: Option<MagnetIx>,
    /// The tallest stock magnet that fits the site.
    pub tallest: Option<MagnetIx>,
}

/// What is wrong or tight at a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FitWarning {
    /// The hole cannot be.
    Misfit(Misfit),
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
    /// What is wrong or tight, each once; empty where all is well.
    pub fn warnings(&self) -> Vec<FitWarning> {
        let mut found: Vec<_> = self.misfit.map(FitWarning::Misfit).into_iter().collect();
        let beside = [
            (Neighbour::Edge, Some(self.edge_mm)),
            (Neighbour::Hole, self.neighbour_mm),
        ];
        let told = match self.misfit {
            Some(Misfit::NearSide { .. }) => Some(Neighbour::Edge),
            Some(Misfit::NearHole { .. }) => Some(Neighbour::Hole),
            _ => None,
        };
        let untold = beside.into_iter().filter(|(n, _)| Some(*n) != told);
        found.extend(untold.filter_map(|(neighbour, wall_mm)| {
            let wall_mm = wall_mm.filter(|mm| *mm < LEAST_WALL_MM)?;
            Some(FitWarning::Beside { neighbour, wall_mm })
        }));
        found
    }
}

/// The facts of one side of a pair; `None` where the hole is not there or empty.
pub fn fit_facts(model: &JointModel, pair: usize, side: PairSide) -> Option<FitFacts> {
    let plan = &*model.plan;
    let piece = |i: usize| Some(*model.pairs.get(i)?.side(side));
    let mine = piece(pair)?;
    let hole = &model.hole_at(mine.hole, side, mine.at_mm);
    let (across_mm, height_mm) = filling_size(plan, mine.filling)?;
    let hole_mm = bits::hole_mm(plan, across_mm);
    let depth_mm = height_mm + glue_room_mm(plan, hole);
    let others = (0..model.pairs.len())
        .filter(|i| *i != pair)
        .filter_map(piece)
        .filter_map(|other| {
            let (d, _) = filling_size(plan, other.filling)?;
            let other_mm = bits::hole_mm(plan, d);
            Some(distance(mine.at_mm, other.at_mm) - (hole_mm + other_mm) / 2.0)
        });
    let moment = |i: MagnetIx| {
        let disc = disc(plan, &plan.stock.magnets[i], End::Weak);
        disc.map_or(0.0, |d| d.moment_a_m2())
    };
    let height = |i: MagnetIx| plan.stock.magnets[i].height_mm;
    let contact_mm = inside_mm(&model.contact_mm, mine.at_mm) - hole_mm / 2.0;
    let bottom_mm = hole.wall_mm + depth_mm;
    Some(FitFacts {
        hole_mm,
        depth_mm,
        point_mm: point_mm(plan, hole, hole_mm),
        material_mm: hole.room.behind_mm(hole_mm),
        front_mm: hole.wall_mm,
        edge_mm: contact_mm.min(hole.room.left_beside_mm(hole_mm, bottom_mm)),
        neighbour_mm: others.reduce(f64::min),
        misfit: mine.misfit,
        largest: best(plan, hole, moment),
        tallest: best(plan, hole, height),
    })
}

fn best(plan: &Plan, hole: &Hole, of: impl Fn(MagnetIx) -> f64) -> Option<MagnetIx> {
    let fitting = |i: &MagnetIx| takes(plan, hole, Filling::Magnet(*i));
    let all = MagnetIx::all(&plan.stock.magnets).filter(fitting);
    all.max_by(|a, b| of(*a).total_cmp(&of(*b)).then(b.cmp(a)))
}
