//! Holes of one part that come near each other.

use lodewright_body::{Cylinder, cylinders_apart_mm};
use lodewright_kit::{Ix, PartIx, Plan, Table};

use crate::bits::{BIT_MORE_MM, hole_mm};
use crate::holes::{Hole, HoleIx, Holes};
use crate::pull::{Filling, Fillings, filling_size, glue_room_mm};
use crate::room::{LEAST_WALL_MM, Misfit, point_mm};

/// Of each hole the others of its part that it could come too near.
#[derive(Clone, Debug, Default)]
pub(crate) struct Crowding {
    near: Table<HoleIx, Vec<HoleIx>>,
}

impl Crowding {
    pub(crate) fn of(plan: &Plan, holes: &Holes) -> Self {
        let mut in_part = Table::<PartIx, Vec<HoleIx>>::of(&plan.parts, |_, _| Vec::new());
        for (hole, h) in HoleIx::each(&holes.holes) {
            in_part[h.part].push(hole);
        }
        let largest = |h: HoleIx| {
            let hole = &holes.holes[h];
            let widest_mm = hole.max_diameter_mm + BIT_MORE_MM;
            cylinder(plan, hole, widest_mm, hole.max_depth_mm)
        };
        let near = |hole: HoleIx, h: &Hole| {
            let others = in_part[h.part].iter().copied().filter(|o| *o != hole);
            let meets =
                |other: &HoleIx| is_near(holes, [hole, *other], [largest(hole), largest(*other)]);
            others.filter(meets).collect()
        };
        Self {
            near: Table::of(&holes.holes, near),
        }
    }

    /// Whether a hole with its piece comes too near another one that is filled.
    pub(crate) fn misfit(
        &self,
        plan: &Plan,
        holes: &Holes,
        fillings: &Fillings,
        hole: HoleIx,
    ) -> Option<Misfit> {
        let near = self.near[hole].iter();
        let mut left = near.filter_map(|other| {
            let pair = [hole, *other];
            let left_mm = too_little_mm(plan, holes, pair, pair.map(|h| fillings[h]))?;
            Some(Misfit::NearHole {
                hole: *other,
                left_mm,
            })
        });
        left.next()
    }

    /// Whether two holes could come too near each other with some pieces.
    pub(crate) fn could_meet(&self, [a, b]: [HoleIx; 2]) -> bool {
        self.near[a].contains(&b)
    }
}

/// What is left between two holes of one part with these pieces, mm, where that is too little.
pub(crate) fn too_little_mm(
    plan: &Plan,
    holes: &Holes,
    pair: [HoleIx; 2],
    fillings: [Filling; 2],
) -> Option<f64> {
    left_mm(plan, holes, pair, fillings).filter(|mm| *mm < LEAST_WALL_MM - 1e-6)
}

/// What is left between two holes of one part with these pieces, mm; `None` where one is empty or it is not known how they lie.
fn left_mm(plan: &Plan, holes: &Holes, pair: [HoleIx; 2], fillings: [Filling; 2]) -> Option<f64> {
    let of = |n: usize| {
        let hole = &holes.holes[pair[n]];
        let (across_mm, height_mm) = filling_size(plan, fillings[n])?;
        let deep_mm = if hole.through {
            hole.max_depth_mm
        } else {
            height_mm + glue_room_mm(plan, hole)
        };
        cylinder(plan, hole, hole_mm(plan, across_mm), deep_mm)
    };
    let [a, b] = pair.map(|h| holes.holes[h].run);
    a?.is_comparable(&b?)
        .then(|| Some(cylinders_apart_mm(&of(0)?, &of(1)?)))?
}

fn is_near(holes: &Holes, pair: [HoleIx; 2], sizes: [Option<Cylinder>; 2]) -> bool {
    let [a, b] = pair.map(|h| holes.holes[h].run);
    let comparable = a.zip(b).is_some_and(|(a, b)| a.is_comparable(&b));
    let [a, b] = sizes;
    comparable
        && a.zip(b)
            .is_some_and(|(a, b)| cylinders_apart_mm(&a, &b) < LEAST_WALL_MM)
}

/// A hole of this size, behind the wall in front of it, as far as the drill's point goes: the point counts as if it were as wide
/// as the hole, which errs to the safe side.
fn cylinder(plan: &Plan, hole: &Hole, diameter_mm: f64, deep_mm: f64) -> Option<Cylinder> {
    let run = hole.run?;
    let point_mm = point_mm(plan, hole, diameter_mm);
    // A hole with a wall in front is drilled from behind: its point looks to the front.
    let (from_mm, long_mm) = if hole.wall_mm > 0.0 {
        (hole.wall_mm - point_mm, deep_mm + point_mm)
    } else {
        (0.0, deep_mm + point_mm)
    };
    Some(Cylinder {
        mouth_mm: run.at_depth_mm(from_mm),
        axis: run.inward,
        long_mm,
        radius_mm: diameter_mm / 2.0,
    })
}
