//! Magnets of a choice that must keep apart: in one part, where they would jump together while the glue is wet, and between a
//! seated part and its host beside the pairs that are meant to meet.

use std::collections::{BTreeMap, BTreeSet};

use lodewright_assembly::JointIx;
use lodewright_choice::Demand;
use lodewright_kit::{Fit, Frame, Ix, MagnetIx, Table};

use super::groups::Group;
use crate::context::Context;
use crate::holes::HoleIx;
use crate::pull::Filling;
use crate::unintended_pairs::{Placed, meant, placed};

/// Pairs of holes, the lower first, with the pairs of magnets that would come too near each other there.
type TooNear = BTreeMap<[HoleIx; 2], Magnets>;
/// Pairs of magnets from stock, in the order of their holes.
type Magnets = BTreeSet<[MagnetIx; 2]>;

/// A demand that keeps magnets apart.
pub(super) struct Apart {
    /// The pairs of holes that it is about.
    pub holes: Vec<[HoleIx; 2]>,
    pub demand: Demand,
}

/// Every demand of that kind that rules something out and that the planner can meet: a pair that the builder has filled is the
/// builder's own affair.
pub(super) fn apart(context: &Context, groups: &[Group]) -> Vec<Apart> {
    let mut group_of = Table::of(&context.holes.holes, |_, _| 0);
    for (g, group) in groups.iter().enumerate() {
        for hole in &group.holes {
            group_of[*hole] = g;
        }
    }
    let mut by_groups: BTreeMap<[usize; 2], Vec<([HoleIx; 2], Magnets)>> = BTreeMap::new();
    for ([a, b], magnets) in too_near(context, groups, &group_of) {
        let [g, h] = [group_of[a], group_of[b]];
        // The two holes in the order of their groups.
        let (key, holes, magnets) = if g <= h {
            ([g, h], [a, b], magnets)
        } else {
            (
                [h, g],
                [b, a],
                magnets.into_iter().map(|[x, y]| [y, x]).collect(),
            )
        };
        by_groups.entry(key).or_default().push((holes, magnets));
    }
    by_groups
        .into_iter()
        .filter_map(|(key, pairs)| demand(groups, key, &pairs))
        .collect()
}

fn demand(groups: &[Group], [g, h]: [usize; 2], pairs: &[([HoleIx; 2], Magnets)]) -> Option<Apart> {
    let place = |group: usize, hole: HoleIx| groups[group].holes.iter().position(|x| *x == hole);
    let placed: Vec<([usize; 2], &Magnets)> = pairs
        .iter()
        .filter_map(|([a, b], magnets)| Some(([place(g, *a)?, place(h, *b)?], magnets)))
        .collect();
    let allowed = |i: usize, j: usize| {
        let (one, other) = (
            &groups[g].options[i].fillings,
            &groups[h].options[j].fillings,
        );
        placed
            .iter()
            .all(|([a, b], magnets)| match (one[*a], other[*b]) {
                (Filling::Magnet(x), Filling::Magnet(y)) => !magnets.contains(&[x, y]),
                _ => true,
            })
    };
    let (sites, asked): (Vec<usize>, Vec<Vec<usize>>) = if g == h {
        let all = 0..groups[g].options.len();
        (vec![g], all.map(|i| vec![i]).collect())
    } else {
        let all = 0..groups[g].options.len();
        let other = groups[h].options.len();
        (
            vec![g, h],
            all.flat_map(|i| (0..other).map(move |j| vec![i, j]))
                .collect(),
        )
    };
    let count = asked.len();
    let rows: Vec<Vec<u16>> = asked
        .into_iter()
        .filter(|row| allowed(row[0], row[row.len() - 1]))
        .map(|row| {
            row.into_iter()
                .map(|o| u16::try_from(o).unwrap_or(u16::MAX))
                .collect()
        })
        .collect();
    (rows.len() < count).then(|| Apart {
        holes: pairs.iter().map(|(holes, _)| *holes).collect(),
        demand: Demand { sites, rows },
    })
}

fn too_near(context: &Context, groups: &[Group], group_of: &Table<HoleIx, usize>) -> TooNear {
    let holes = &context.holes.holes;
    let pieces: Table<HoleIx, Vec<(MagnetIx, Placed)>> = Table::of(holes, |hole, _| {
        let magnets = magnets_at(&groups[group_of[hole]], hole).into_iter();
        magnets
            .filter_map(|m| Some((m, placed(context, hole, m)?)))
            .collect()
    });
    let is_free = |hole: HoleIx| holes[hole].fit == Fit::Auto;
    let limit_n = context.plan().settings.stranger_limit_n;
    let mut found = TooNear::new();
    let mut look = |a: HoleIx, b: HoleIx, seated: Option<(JointIx, &Frame)>| {
        if !is_free(a) && !is_free(b) {
            return;
        }
        for (x, one) in &pieces[a] {
            for (y, other) in &pieces[b] {
                let other = match seated {
                    Some((joint, frame)) => other.on_host(context, joint, frame),
                    None => Some(*other),
                };
                if other.is_some_and(|other| one.is_too_near(&other, limit_n)) {
                    let (key, pair) = if a < b {
                        ([a, b], [*x, *y])
                    } else {
                        ([b, a], [*y, *x])
                    };
                    found.entry(key).or_default().insert(pair);
                }
            }
        }
    };
    let in_part = |part| {
        let mine = HoleIx::each(holes).filter(move |(_, h)| h.part == part);
        mine.map(|(h, _)| h)
    };
    for (a, hole) in HoleIx::each(holes) {
        for b in in_part(hole.part).filter(|b| *b > a) {
            look(a, b, None);
        }
    }
    for (joint, j) in JointIx::each(&context.board.joints) {
        let on_host = context.board.part_on_host(joint);
        let (host, meant) = (context.board.host(j.socket), meant(context, joint));
        for a in in_part(host) {
            for b in in_part(j.part) {
                if a != b && !meant.contains(&[a, b]) {
                    look(a, b, Some((joint, &on_host)));
                }
            }
        }
    }
    found
}

/// Magnets that an option of the group puts in a hole.
fn magnets_at(group: &Group, hole: HoleIx) -> BTreeSet<MagnetIx> {
    let place = group.holes.iter().position(|h| *h == hole);
    let fillings = group.options.iter().filter_map(|o| o.fillings.get(place?));
    fillings
        .filter_map(|f| match f {
            Filling::Magnet(m) => Some(*m),
            _ => None,
        })
        .collect()
}
