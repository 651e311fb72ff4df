//! Holes of one part that come near each other.

use lodewright_body::{Cylinder, cylinders_apart_mm};
use lodewright_kit::{Ix, PartIx, Plan, Table};

use crate::bits::{BIT_MORE_MM, hole_mm};
use crate::holes::{Hole, HoleIx, Holes};
use crate::pull::{Filling, Fillings, filling_size, glue_room_mm};
use crate::room::{Misfit, point_mm};
use lodewright_body::LEAST_WALL_MM;

/// Of each hole the others of its part that it could come too near.
#[derive(Clone, Debug, Default)]
pub(crate) struct Crowding {
    near: Table<HoleIx, Vec<HoleIx>>,
}

impl Crowding {
    pub(crate) fn of(plan: &Plan, holes: &Holes) -> Self {
        let mut in_part = Table::<PartIx, Vec<_>>::of(&plan.parts, |_, _| Vec::new());
        for (hole, h) in HoleIx::each(&holes.holes) {
            let largest = cylinder(plan, h, h.max_diameter_mm + BIT_MORE_MM, h.max_depth_mm);
            in_part[h.part].extend(largest.zip(h.run).map(|(c, run)| (hole, c, run.adrift)));
        }
        let mut near = Table::<HoleIx, Vec<HoleIx>>::of(&holes.holes, |_, _| Vec::new());
        for list in in_part.values() {
            for (i, (a, first, on)) in list.iter().enumerate() {
                for (b, second, _) in list[i + 1..].iter().filter(|other| other.2 == *on) {
                    if first.is_nearer(second, LEAST_WALL_MM) {
                        near[*a].push(*b);
                        near[*b].push(*a);
                    }
                }
            }
        }
        Self { near }
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
