//! Glue or separate: a joint may be glued exactly if, in every legal model in which either of its parts occurs, both
//! occur in this joint.

use crate::{Board, census::Census, fixed::FixedPlaces};

/// What may be glued.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GlueAnswer {
    /// By joint: `None` where it may be glued, else why it must stay separable.
    pub separable: Vec<Option<Lone>>,
    /// Parts that become one piece, each group in index order, groups of one part left out.
    pub groups: Vec<Vec<usize>>,
    /// Parts that no variant uses.
    pub idle: Vec<usize>,
}

/// A model in which one part of a joint occurs without the joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lone {
    /// Index of the variant; `None` where there was too much to search, and the joint is kept separable to be safe.
    pub variant: Option<usize>,
    /// Index of the part.
    pub part: usize,
}

/// Finds what may be glued.
pub fn glue_answer(board: &Board) -> GlueAnswer {
    let fixed: Vec<_> = (0..board.counts().2)
        .map(|variant| FixedPlaces::of(board, variant))
        .collect();
    let mut census = Census::new(board);
    let separable: Vec<_> = (0..board.joints.len())
        .map(|joint| lone(board, &fixed, &mut census, joint))
        .collect();
    let mut group: Vec<usize> = (0..board.counts().0).collect();
    for (j, why) in separable.iter().enumerate() {
        if why.is_none() {
            let joint = board.joints[j];
            let (a, b) = (group[board.host(joint.socket)], group[joint.part]);
            for g in &mut group {
                if *g == a.max(b) {
                    *g = a.min(b);
                }
            }
        }
    }
    let groups = (0..group.len())
        .map(|g| {
            (0..group.len())
                .filter(|p| group[*p] == g)
                .collect::<Vec<_>>()
        })
        .filter(|members| members.len() > 1)
        .collect();
    let idle = (0..board.counts().0)
        .filter(|p| *p != board.base() && board.joints.iter().all(|j| j.part != *p))
        .collect();
    GlueAnswer {
        separable,
        groups,
        idle,
    }
}

fn lone(
    board: &Board,
    fixed: &[Option<FixedPlaces<'_>>],
    census: &mut Census<'_>,
    joint: usize,
) -> Option<Lone> {
    let j = board.joints[joint];
    for (variant, fixed) in fixed.iter().enumerate() {
        for part in [board.host(j.socket), j.part] {
            let stands_alone = match fixed {
                Some(fixed) => Some(fixed.has_model(part, joint)),
                None => {
                    (census.without, census.with) = (Some(joint), Some(part));
                    census.count(&[variant]).map(|n| n > 0)
                }
            };
            if stands_alone != Some(false) {
                return Some(Lone {
                    variant: stands_alone.map(|_| variant),
                    part,
                });
            }
        }
    }
    None
}
