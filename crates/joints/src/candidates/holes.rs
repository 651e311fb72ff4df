//! Steps at one hole: steel, nothing, a free pole or two holes in place of the magnet that is there.

use lodewright_kit::Fit;
use tiny_sort::stable::sort_by;

use super::evaluate::with_fit;
use super::{Candidate, SPLIT_WALL_MM, Standing};
use crate::Filling;
use crate::pole_constraints::{Asks, Links};
use crate::pull::takes;
use crate::repair::{RemedyKind, uses};
use crate::context::Context;

pub(super) fn of_hole(
    context: &Context,
    links: &Links,
    hole: usize,
    list: &mut Vec<Candidate>,
) {
    let glued = is_glued(context, hole);
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

/// Whether a hole's piece is glued in.
fn is_glued(context: &Context, hole: usize) -> bool {
    let board = context.board;
    let h = &context.holes.holes[hole];
    let key = format!("glue:{}:{}", board.part(h.part).id, h.label);
    board.plan.progress.done.contains(&key)
}

/// Leaving a hole empty, where its joints reach their targets without it. Magnets that then face nothing go as well.
pub(super) fn left_empty(
    context: &mut Context,
    fillings: &[Filling],
    links: &Links,
    hole: usize,
) -> Option<Candidate> {
    let filled = |f: usize| fillings[context.holes.faces[f].hole] != Filling::Empty;
    let pairs = |joint: usize| {
        let mates = context.mates[joint].iter();
        mates
            .filter(|m| filled(m.socket_face) && filled(m.plug_face))
            .count()
    };
    let mut joints =
        (0..context.mates.len()).filter(|j| context.is_magnetic(*j) && uses(context, *j, hole));
    if joints.any(|j| pairs(j) < 2) {
        return None;
    }
    let target_g = context.board.plan.settings.hold_target_g;
    let (after, margins) = with_fit(context, hole, Fit::Empty);
    if margins.iter().any(|(_, m)| *m < target_g) {
        return None;
    }
    let magnet = |f: &Filling| matches!(f, Filling::Magnet(_));
    let gone: Vec<usize> = (0..fillings.len())
        .filter(|h| magnet(&fillings[*h]) && !magnet(&after[*h]))
        .collect();
    let (removes, unpins) = links.of_holes(&gone);
    Some(Candidate {
        standing: Standing::Fine,
        glued: is_glued(context, hole),
        removes,
        unpins,
        ..Candidate::plain(RemedyKind::LeaveEmpty { hole })
    })
}

/// Steel of the stock that fits a hole with its allowances, smallest first.
pub(super) fn steels(context: &Context, hole: usize) -> Vec<usize> {
    let plan = context.board.plan;
    let stock = &plan.stock.steel;
    let hole = &context.holes.holes[hole];
    let mut fit: Vec<usize> = (0..stock.len())
        .filter(|i| takes(plan, hole, Filling::Steel(*i)))
        .collect();
    let size = |i: usize| (stock[i].diameter_mm, stock[i].thickness_mm);
    sort_by(&mut fit, |a, b| {
        let ((da, ta), (db, tb)) = (size(*a), size(*b));
        da.total_cmp(&db).then(ta.total_cmp(&tb))
    });
    fit
}

/// Depth of each of two blind holes in place of a through hole, where some magnet of the stock fits them.
fn split_depth_mm(context: &Context, hole: usize) -> Option<f64> {
    let plan = context.board.plan;
    let h = &context.holes.holes[hole];
    let depth_mm = (h.max_depth_mm - SPLIT_WALL_MM) / 2.0;
    let fits = plan.stock.magnets.iter().any(|m| {
        m.diameter_mm + plan.settings.hole_allowance_mm <= h.max_diameter_mm
            && m.height_mm + plan.settings.glue_allowance_mm <= depth_mm
    });
    (h.through && fits).then_some(depth_mm)
}
