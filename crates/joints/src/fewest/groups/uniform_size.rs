//! The custom of one size: holes of one kind in a face take magnets of one size.

use lodewright_kit::{Ix, MagnetIx};

use super::options::every_way;
use crate::context::Context;
use crate::holes::HoleIx;

/// So many ways to give magnets to holes of different kinds are tried for one pattern; beyond, all of a face take one size.
const MOST_MIXED: usize = 64;

/// What makes two holes alike: width, depth and wall, mm, as bits.
type Kind = [u64; 3];

fn kind(context: &Context, hole: HoleIx) -> Kind {
    let faces = context.holes.faces.iter().filter(|f| f.hole == hole);
    let wall_mm = faces.map(|f| f.wall_mm).fold(0.0, f64::max);
    let hole = &context.holes.holes[hole];
    [hole.max_diameter_mm, hole.max_depth_mm, wall_mm].map(f64::to_bits)
}

/// Which magnet of the stock goes in each hole, in every way that the custom allows, where those in `taking` take one; what
/// is said of the others means nothing. Holes of different kinds may take different sizes where that is wanted.
pub fn sizes(
    context: &Context,
    holes: &[HoleIx],
    taking: &[HoleIx],
    may_differ: bool,
) -> Vec<Vec<MagnetIx>> {
    let stock = &context.plan().stock.magnets;
    let mut kinds: Vec<Kind> = Vec::new();
    for hole in taking {
        let kind = kind(context, *hole);
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    if kinds.is_empty() {
        return vec![vec![MagnetIx::new(0); holes.len()]];
    }
    let ways = u32::try_from(kinds.len())
        .ok()
        .and_then(|k| stock.len().checked_pow(k));
    if !may_differ || ways.is_none_or(|ways| ways > MOST_MIXED) {
        return MagnetIx::all(stock)
            .map(|size| vec![size; holes.len()])
            .collect();
    }
    let kind_of = |h: &HoleIx| {
        let kind = kind(context, *h);
        kinds.iter().position(|k| *k == kind).unwrap_or(0)
    };
    let kind_of: Vec<usize> = holes.iter().map(kind_of).collect();
    every_way(&vec![MagnetIx::all(stock).collect(); kinds.len()])
        .iter()
        .map(|size_of| kind_of.iter().map(|kind| size_of[*kind]).collect())
        .collect()
}
