//! Pieces of a choice that must keep apart. Magnets by their force: in one part, where they would jump together while the glue is
//! wet, and between a seated part and its host beside the pairs that are meant to meet. Anything by its hole: a wall must be left
//! between two holes of one part.

use std::collections::{BTreeMap, BTreeSet};

use lodewright_assembly::JointIx;
use lodewright_choice::Demand;
use lodewright_kit::{Frame, Ix, Table};

use super::groups::{Choice, Group};
use crate::context::Context;
use crate::crowding::too_little_mm;
use crate::holes::HoleIx;
use crate::pull::Filling;
use crate::unintended_pairs::{Placed, meant, placed};

/// Pairs of holes, the lower first, with the pairs of pieces that would come too near each other there.
type TooNear = BTreeMap<(Why, [HoleIx; 2]), Pieces>;
/// Pairs of pieces from stock, in the order of their holes.
type Pieces = BTreeSet<[Filling; 2]>;

/// One pair of holes of that kind.
type Pair = ([HoleIx; 2], Pieces);

/// Why two pieces must keep apart.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Why {
    /// They draw or push each other: better avoided.
    Force,
    /// Too little would be left between their holes: impossible.
    Wall,
}

/// A demand that keeps pieces apart.
pub(super) struct Apart {
    pub why: Why,
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
    let mut by_groups: BTreeMap<(Why, [usize; 2]), Vec<Pair>> = BTreeMap::new();
    for ((why, [a, b]), pieces) in too_near(context, groups, &group_of) {
        let [g, h] = [group_of[a], group_of[b]];
        // The two holes in the order of their groups.
        let (key, holes, pieces) = if g <= h {
            ([g, h], [a, b], pieces)
        } else {
            (
                [h, g],
                [b, a],
                pieces.into_iter().map(|[x, y]| [y, x]).collect(),
            )
        };
        by_groups
            .entry((why, key))
            .or_default()
            .push((holes, pieces));
    }
    by_groups
        .into_iter()
        .filter_map(|((why, key), pairs)| demand(groups, why, key, &pairs))
        .collect()
}

fn demand(groups: &[Group], why: Why, [g, h]: [usize; 2], pairs: &[Pair]) -> Option<Apart> {
    let place = |group: usize, hole: HoleIx| groups[group].holes.iter().position(|x| *x == hole);
    let placed: Vec<([usize; 2], &Pieces)> = pairs
        .iter()
        .filter_map(|([a, b], pieces)| Some(([place(g, *a)?, place(h, *b)?], pieces)))
        .collect();
    let allowed = |i: usize, j: usize| {
        let (one, other) = (
            &groups[g].options[i].fillings,
            &groups[h].options[j].fillings,
        );
        placed
            .iter()
            .all(|([a, b], pieces)| !pieces.contains(&[one[*a], other[*b]]))
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
        why,
        holes: pairs.iter().map(|(holes, _)| *holes).collect(),
        demand: Demand { sites, rows },
    })
}

fn too_near(context: &Context, groups: &[Group], group_of: &Table<HoleIx, usize>) -> TooNear {
    let holes = &context.holes.holes;
    let pieces: Table<HoleIx, Vec<Piece>> = Table::of(holes, |hole, _| {
        let fillings = pieces_at(&groups[group_of[hole]], hole).into_iter();
        fillings.map(|f| Piece::of(context, hole, f)).collect()
    });
    let is_free = |hole: HoleIx| may_change(&groups[group_of[hole]], hole);
    let mut found = TooNear::new();
    let mut look = |a: HoleIx, b: HoleIx, seated: Option<(JointIx, &Frame)>| {
        if !is_free(a) && !is_free(b) {
            return;
        }
        for one in &pieces[a] {
            for other in &pieces[b] {
                let apart = [
                    (Why::Force, force_parts(context, one, other, seated)),
                    (
                        Why::Wall,
                        seated.is_none() && wall_parts(context, [a, b], [one, other]),
                    ),
                ];
                for (why, _) in apart.iter().filter(|(_, is)| *is) {
                    let (key, pair) = if a < b {
                        ([a, b], [one.filling, other.filling])
                    } else {
                        ([b, a], [other.filling, one.filling])
                    };
                    found.entry((*why, key)).or_default().insert(pair);
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

/// A piece that an option puts in a hole.
struct Piece {
    filling: Filling,
    /// Where it lies, if it is a magnet and that is known.
    magnet: Option<Placed>,
}

impl Piece {
    fn of(context: &Context, hole: HoleIx, filling: Filling) -> Self {
        let magnet = match filling {
            Filling::Magnet(magnet) => placed(context, hole, magnet),
            _ => None,
        };
        Self { filling, magnet }
    }
}

/// Whether two magnets draw or push each other too much: of one part, or the second one's part seated by a joint.
fn force_parts(
    context: &Context,
    one: &Piece,
    other: &Piece,
    seated: Option<(JointIx, &Frame)>,
) -> bool {
    let (Some(one), Some(other)) = (one.magnet, other.magnet) else {
        return false;
    };
    let other = match seated {
        Some((joint, frame)) => other.on_host(context, joint, frame),
        None => Some(other),
    };
    let limit_n = context.plan().settings.stranger_limit_n;
    other.is_some_and(|other| one.is_too_near(&other, limit_n))
}

/// Whether too little would be left between two holes of one part.
fn wall_parts(context: &Context, holes: [HoleIx; 2], pieces: [&Piece; 2]) -> bool {
    let fillings = pieces.map(|p| p.filling);
    context.crowding.could_meet(holes)
        && too_little_mm(context.plan(), &context.holes, holes, fillings).is_some()
}

/// What the options of a group put in a hole, one by one.
fn fillings_at(group: &Group, hole: HoleIx) -> impl Iterator<Item = Filling> {
    let place = group.holes.iter().position(|h| *h == hole);
    let fillings = move |o: &Choice| o.fillings.get(place?).copied();
    group.options.iter().filter_map(fillings)
}

/// Pieces that an option of the group puts in a hole.
fn pieces_at(group: &Group, hole: HoleIx) -> BTreeSet<Filling> {
    let all = fillings_at(group, hole);
    all.filter(|f| *f != Filling::Empty).collect()
}

/// Whether the planner may choose what is in a hole.
fn may_change(group: &Group, hole: HoleIx) -> bool {
    let mut all = fillings_at(group, hole);
    let first = all.next();
    all.any(|f| Some(f) != first)
}
