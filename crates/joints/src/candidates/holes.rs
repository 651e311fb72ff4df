//! Steps at one hole: steel, nothing, a free pole or two holes in place of the magnet that is there.

use lodewright_kit::{Fit, Ix, SteelIx};
use tiny_sort::stable::sort_by;

use super::evaluate::with_fit;
use super::{Candidate, SPLIT_WALL_MM, Viability};
use crate::bits::hole_mm;
use crate::context::Context;
use crate::holes::HoleIx;
use crate::pole_constraints::{Asks, Links};
use crate::pull::{Filling, Fillings};
use crate::remedy::RemedyKind;
use crate::room::{blind_point_mm, takes};

pub(super) fn of_hole(context: &Context, links: &Links, hole: HoleIx, list: &mut Vec<Candidate>) {
    let glued = context.is_glued(hole);
    let (removes, unpins) = links.of_holes(&[hole]);
    let of = |kind, removes: &[usize], unpins: &[usize]| Candidate {
        glued,
        removes: removes.to_vec(),
        unpins: unpins.to_vec(),
        ..Candidate::plain(kind)
    };
    if let Some(&steel) = steels(context, hole).first() {
        list.push(of(RemedyKind::Keeper { hole, steel }, &removes, &unpins));
    }
    if !unpins.is_empty() {
        list.push(of(RemedyKind::FreePole { hole }, &[], &unpins));
    }
    if let Some(depth_mm) = split_depth_mm(context, hole) {
        let tie: Vec<usize> = (0..links.asks.len())
            .filter(|i| links.asks[*i] == Asks::Magnet(hole))
            .collect();
        list.push(of(RemedyKind::Split { hole, depth_mm }, &tie, &[]));
    }
}

/// Leaving a hole empty, where its joints reach their targets without it. Magnets that then face nothing go as well.
pub(super) fn left_empty(
    context: &Context,
    fillings: &Fillings,
    links: &Links,
    hole: HoleIx,
) -> Option<Candidate> {
    let filled = |h: HoleIx| fillings[h] != Filling::Empty;
    let pairs = |joint| {
        let mates = context.mates[joint].iter();
        mates
            .filter(|m| m.holes(&context.holes).into_iter().all(filled))
            .count()
    };
    let lone = |j| context.uses(j, hole) && pairs(j) < 2;
    if context.magnetic().any(lone) {
        return None;
    }
    let (after, then) = with_fit(context, hole, &Fit::Empty);
    if then.iter().any(|j| !j.is_good) {
        return None;
    }
    let magnet = |f: &Filling| matches!(f, Filling::Magnet(_));
    let gone: Vec<HoleIx> = HoleIx::all(&context.holes.holes)
        .filter(|h| magnet(&fillings[*h]) && !magnet(&after[*h]))
        .collect();
    let (removes, unpins) = links.of_holes(&gone);
    Some(Candidate {
        viability: Viability::Fine,
        glued: context.is_glued(hole),
        removes,
        unpins,
        ..Candidate::plain(RemedyKind::LeaveEmpty { hole })
    })
}

/// Steel of the stock that fits a hole with its allowances, smallest first.
pub(super) fn steels(context: &Context, hole: HoleIx) -> Vec<SteelIx> {
    let plan = context.plan();
    let stock = &plan.stock.steel;
    let hole = &context.holes.holes[hole];
    let mut fit: Vec<SteelIx> = SteelIx::all(stock)
        .filter(|i| takes(plan, hole, Filling::Steel(*i)))
        .collect();
    let size = |i: SteelIx| (stock[i].diameter_mm, stock[i].thickness_mm);
    sort_by(&mut fit, |a, b| {
        let ((da, ta), (db, tb)) = (size(*a), size(*b));
        da.total_cmp(&db).then(ta.total_cmp(&tb))
    });
    fit
}

/// Depth of each of two blind holes in place of a through hole, where some magnet of the stock fits them.
fn split_depth_mm(context: &Context, hole: HoleIx) -> Option<f64> {
    let plan = context.plan();
    let h = &context.holes.holes[hole];
    let depth_mm = (h.max_depth_mm - SPLIT_WALL_MM) / 2.0;
    let fits = plan.stock.magnets.iter().any(|m| {
        let point_mm = blind_point_mm(plan, hole_mm(plan, m.diameter_mm));
        m.diameter_mm + plan.settings.hole_allowance_mm <= h.max_diameter_mm
            && m.height_mm + plan.settings.glue_allowance_mm + point_mm <= depth_mm
    });
    (h.through && fits).then_some(depth_mm)
}
