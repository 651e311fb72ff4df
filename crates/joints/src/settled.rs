//! What a changed plan comes to: chosen, poled and judged anew.

use std::rc::Rc;

use lodewright_assembly::{Board, Joint, glue_answer};
use lodewright_kit::{CheckedPlan, Plan, Pole, Table};

use crate::context::Context;
use crate::holes::HoleIx;
use crate::initial_sizes::initial_sizes;
use crate::poles::poles;
use crate::pull::Fillings;

/// What a changed plan comes to.
pub(crate) struct Settled {
    pub contradicts: bool,
    pub joints: Vec<SettledJoint>,
}

/// A joint that is asked for and held by magnets.
pub(crate) struct SettledJoint {
    pub joint: Joint,
    /// Least margin, multiples of what it carries.
    pub margin_x_weight: f64,
    /// Whether it does all that is asked.
    pub is_good: bool,
}

impl Settled {
    /// Works a changed plan through that has the stock and settings of a context's plan.
    pub(crate) fn of(plan: Plan, like: &Context, joints: &[Joint]) -> Option<Self> {
        let board = Rc::new(Board::of(CheckedPlan::of(plan).ok()?));
        let glue = Rc::new(glue_answer(&board));
        let context = like.like(board, glue);
        let fillings = initial_sizes(&context).fillings;
        let poles = poles(&context.holes, &context.mates, &fillings);
        Some(Self {
            contradicts: !poles.contradictions.is_empty(),
            joints: SettledJoint::all(&context, &fillings, Some(&poles.poles), joints),
        })
    }
}

impl SettledJoint {
    /// These joints, as far as they are held by magnets and something loads them.
    pub(crate) fn all(
        context: &Context,
        fillings: &Fillings,
        poles: Option<&Table<HoleIx, Option<Pole>>>,
        joints: &[Joint],
    ) -> Vec<Self> {
        let index = joints.iter().filter_map(|j| context.board.find(j));
        let magnetic = index.filter(|j| context.is_magnetic(*j));
        let settled = |joint| {
            let verdict = context.model(joint, fillings, poles)?.judge();
            Some(Self {
                joint: context.board.joints[joint],
                margin_x_weight: verdict.margin_x_weight()?,
                is_good: verdict.is_good_so_far(),
            })
        };
        magnetic.filter_map(settled).collect()
    }
}
