//! Glue or separate: a joint may be glued exactly if, in every legal model in which either of its parts occurs, both
//! occur in this joint.

use lodewright_kit::{Ix, PartIx, Table, VariantIx};

use crate::{Board, JointIx, fixed::FixedPlaces, model_count::ModelCount};

/// What may be glued.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GlueAnswer {
    /// `None` where a joint may be glued, else why it must stay separable.
    pub separable: Table<JointIx, Option<Lone>>,
    /// Parts that become one piece, each group in the plan's order, groups of one part left out.
    pub groups: Vec<Vec<PartIx>>,
    /// Parts that no variant uses.
    pub idle: Vec<PartIx>,
}

/// A model in which one part of a joint occurs without the joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lone {
    /// The variant; `None` where there was too much to search, and the joint is kept separable to be safe.
    pub variant: Option<VariantIx>,
    /// The part.
    pub part: PartIx,
}

/// Finds what may be glued.
pub fn glue_answer(board: &Board) -> GlueAnswer {
    let parts = &board.plan.parts;
    let fixed = Table::of(&board.plan.variants, |variant, _| {
        FixedPlaces::of(board, variant)
    });
    let mut count = ModelCount::new(board);
    let separable = Table::<JointIx, _>::of(&board.joints, |joint, _| {
        lone(board, &fixed, &mut count, joint)
    });
    let mut group = Table::<PartIx, _>::of(parts, |part, _| part);
    for (j, why) in separable.iter() {
        if why.is_none() {
            let joint = board.joints[j];
            let (a, b) = (group[board.host(joint.socket)], group[joint.part]);
            for part in PartIx::all(parts)
                .filter(|p| group[*p] == a.max(b))
                .collect::<Vec<_>>()
            {
                group[part] = a.min(b);
            }
        }
    }
    let groups = PartIx::all(parts)
        .map(|g| {
            PartIx::all(parts)
                .filter(|p| group[*p] == g)
                .collect::<Vec<_>>()
        })
        .filter(|members| members.len() > 1)
        .collect();
    let idle = PartIx::all(parts)
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
    fixed: &Table<VariantIx, Option<FixedPlaces<'_>>>,
    count: &mut ModelCount<'_>,
    joint: JointIx,
) -> Option<Lone> {
    let j = board.joints[joint];
    for (variant, fixed) in fixed.iter() {
        for part in [board.host(j.socket), j.part] {
            let stands_alone = match fixed {
                Some(fixed) => Some(fixed.has_model(part, joint)),
                None => {
                    (count.without, count.with) = (Some(joint), Some(part));
                    count.count(&[variant]).map(|n| n > 0)
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
