//! Whether the joints that a step touches still do what is asked with it.

use lodewright_assembly::Joint;
use lodewright_kit::Fit;

use super::holes::steels;
use super::{Candidate, Viability};
use crate::context::Context;
use crate::holes::HoleIx;
use crate::initial_sizes::sizes_with;
use crate::plan_draft::Draft;
use crate::pull::Fillings;
use crate::remedy::RemedyKind;
use crate::settled::{Settled, SettledJoint};

impl Viability {
    fn of(joints: &[SettledJoint]) -> Self {
        if joints.iter().any(|j| j.margin_x_weight <= 0.0) {
            Self::Dead
        } else if joints.iter().all(|j| j.is_good) {
            Self::Fine
        } else {
            Self::Short
        }
    }
}

impl Candidate {
    /// Finds out whether the joints that it touches still do what is asked, all magnets taken as attracting.
    pub(crate) fn work_through(&mut self, context: &Context) {
        self.viability = match self.kind {
            RemedyKind::Keeper { hole, .. } => {
                let mut best = (Viability::Dead, f64::NEG_INFINITY);
                for steel in steels(context, hole) {
                    let fit = Fit::Steel(context.plan().stock.steel[steel].id.clone());
                    let then = with_fit(context, hole, &fit).1;
                    let margin = least(&then);
                    if best.0 != Viability::Fine && margin > best.1 {
                        best = (Viability::of(&then), margin);
                        self.kind = RemedyKind::Keeper { hole, steel };
                    }
                }
                best.0
            }
            RemedyKind::LeaveEmpty { .. }
            | RemedyKind::FreePole { .. }
            | RemedyKind::GiveUp { .. } => Viability::Fine,
            RemedyKind::Split { .. } | RemedyKind::Turn { .. } => {
                self.alone(context).unwrap_or(Viability::Dead)
            }
        };
    }

    /// The joints that this step alone touches. Where the poles of other steps are still to be settled a joint may repel
    /// meanwhile; that counts as fine until the whole set is worked through.
    fn alone(&self, context: &Context) -> Option<Viability> {
        let mut draft = Draft::new(context);
        self.carry_out(context, &mut draft)?;
        let joints: Vec<_> = match self.kind {
            RemedyKind::Turn { joint, pose } => vec![Joint {
                pose,
                ..context.board.joints[joint]
            }],
            RemedyKind::Split { hole, .. } => joints_at(context, hole),
            _ => Vec::new(),
        };
        let after = Settled::of(draft.plan, context, &joints)?;
        Some(match Viability::of(&after.joints) {
            Viability::Dead if after.contradicts => Viability::Fine,
            found => found,
        })
    }
}

/// Least of the margins; infinite where there is none.
fn least(joints: &[SettledJoint]) -> f64 {
    let all = joints.iter().map(|j| j.margin_x_weight);
    all.fold(f64::INFINITY, f64::min)
}

fn joints_at(context: &Context, hole: HoleIx) -> Vec<Joint> {
    let all = context.board.all_joints();
    all.filter(|j| context.uses(*j, hole))
        .map(|j| context.board.joints[j])
        .collect()
}

/// Fillings chosen anew if this went into a hole, and the joints that use it.
pub(super) fn with_fit(
    context: &Context,
    hole: HoleIx,
    fit: &Fit,
) -> (Fillings, Vec<SettledJoint>) {
    let fillings = sizes_with(context, Some((hole, fit))).fillings;
    let joints = joints_at(context, hole);
    let out = SettledJoint::all(context, &fillings, None, &joints);
    (fillings, out)
}
