//! Whether the joints that a step touches still hold with it.

use lodewright_assembly::Joint;
use lodewright_kit::Fit;

use super::holes::steels;
use super::{Candidate, Standing};
use crate::Filling;
use crate::initial_sizes::initial_sizes;
use crate::repair::{RemedyKind, margins, settled, steel_fit, uses};
use crate::context::Context;
use crate::plan_draft::Draft;

impl Candidate {
    /// Finds out whether the joints that it touches still reach their targets, all magnets taken as attracting.
    pub(crate) fn work_through(&mut self, context: &mut Context) {
        let target_g = context.board.plan.settings.hold_target_g;
        let standing = |margin_g: f64| match margin_g {
            m if m >= target_g => Standing::Fine,
            m if m > 0.0 => Standing::Short,
            _ => Standing::Dead,
        };
        self.standing = match self.kind.clone() {
            RemedyKind::Keeper { hole, .. } => {
                let mut best = (Standing::Dead, f64::NEG_INFINITY);
                for steel in steels(context, hole) {
                    let Some(fit) = steel_fit(context.board.plan, steel) else {
                        continue;
                    };
                    let margin_g = least_g(&with_fit(context, hole, fit).1);
                    if best.0 != Standing::Fine && margin_g > best.1 {
                        best = (standing(margin_g), margin_g);
                        self.kind = RemedyKind::Keeper { hole, steel };
                    }
                }
                best.0
            }
            RemedyKind::LeaveEmpty { .. }
            | RemedyKind::FreePole { .. }
            | RemedyKind::GiveUp { .. } => Standing::Fine,
            RemedyKind::Split { .. } | RemedyKind::Turn { .. } => {
                self.alone(context).map_or(Standing::Dead, standing)
            }
        };
    }

    /// Least margin of the joints that this step alone touches. Where the poles of other steps are still to be settled a
    /// joint may repel meanwhile; that counts as fine until the whole set is worked through.
    fn alone(&self, context: &Context) -> Option<f64> {
        let mut draft = Draft::new(context.board, &context.holes);
        self.carry_out(context, &mut draft)?;
        let joints: Vec<_> = match self.kind {
            RemedyKind::Turn { joint, pose } => vec![Joint {
                pose,
                ..context.board.joints[joint]
            }],
            RemedyKind::Split { hole, .. } => joints_at(context, hole),
            _ => Vec::new(),
        };
        let after = settled(&draft.plan, context, &joints)?;
        let least_g = least_g(&after.margins);
        Some(if after.contradicts && least_g <= 0.0 {
            f64::INFINITY
        } else {
            least_g
        })
    }
}

/// Least of the margins; infinite where there is none.
fn least_g(margins: &[(String, f64)]) -> f64 {
    let all = margins.iter().map(|(_, m)| *m);
    all.min_by(f64::total_cmp).unwrap_or(f64::INFINITY)
}

fn joints_at(context: &Context, hole: usize) -> Vec<Joint> {
    (0..context.board.joints.len())
        .filter(|j| uses(context, *j, hole))
        .map(|j| context.board.joints[j])
        .collect()
}

/// Fillings chosen anew if this went into a hole, and the margins of the joints that use it.
pub(super) fn with_fit(
    context: &mut Context,
    hole: usize,
    fit: Fit,
) -> (Vec<Filling>, Vec<(String, f64)>) {
    let before = std::mem::replace(&mut context.holes.holes[hole].fit, fit);
    let choice = initial_sizes(context);
    let joints = joints_at(context, hole);
    let out = margins(context, &choice.fillings, None, &joints);
    context.holes.holes[hole].fit = before;
    (choice.fillings, out)
}
