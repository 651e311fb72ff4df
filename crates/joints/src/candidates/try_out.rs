//! Whether the joints that a step touches still hold with it.

use lodewright_assembly::Joint;
use lodewright_kit::Fit;

use super::holes::steels;
use super::{Candidate, Standing};
use crate::Filling;
use crate::choose::choose;
use crate::repair::{RemedyKind, margins, settled, steel_fit, uses};
use crate::scene::Scene;
use crate::sites::Draft;

impl Candidate {
    /// Finds out whether the joints that it touches still reach their targets, all magnets taken as attracting.
    pub(crate) fn work_through(&mut self, scene: &mut Scene<'_, '_>) {
        let target_g = scene.board.plan.settings.hold_target_g;
        let standing = |margin_g: f64| match margin_g {
            m if m >= target_g => Standing::Fine,
            m if m > 0.0 => Standing::Short,
            _ => Standing::Dead,
        };
        self.standing = match self.kind.clone() {
            RemedyKind::Keeper { hole, .. } => {
                let mut best = (Standing::Dead, f64::NEG_INFINITY);
                for steel in steels(scene, hole) {
                    let Some(fit) = steel_fit(scene.board.plan, steel) else {
                        continue;
                    };
                    let margin_g = least_g(&with_fit(scene, hole, fit).1);
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
                self.alone(scene).map_or(Standing::Dead, standing)
            }
        };
    }

    /// Least margin of the joints that this step alone touches. Where the poles of other steps are still to be settled a
    /// joint may repel meanwhile; that counts as fine until the whole set is worked through.
    fn alone(&self, scene: &Scene<'_, '_>) -> Option<f64> {
        let mut draft = Draft::new(scene.board, &scene.holes);
        self.carry_out(scene, &mut draft)?;
        let joints: Vec<_> = match self.kind {
            RemedyKind::Turn { joint, pose } => vec![Joint {
                pose,
                ..scene.board.joints[joint]
            }],
            RemedyKind::Split { hole, .. } => joints_at(scene, hole),
            _ => Vec::new(),
        };
        let after = settled(&draft.plan, scene, &joints)?;
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

fn joints_at(scene: &Scene<'_, '_>, hole: usize) -> Vec<Joint> {
    (0..scene.board.joints.len())
        .filter(|j| uses(scene, *j, hole))
        .map(|j| scene.board.joints[j])
        .collect()
}

/// Fillings chosen anew if this went into a hole, and the margins of the joints that use it.
pub(super) fn with_fit(
    scene: &mut Scene<'_, '_>,
    hole: usize,
    fit: Fit,
) -> (Vec<Filling>, Vec<(String, f64)>) {
    let before = std::mem::replace(&mut scene.holes.holes[hole].fit, fit);
    let choice = choose(scene);
    let joints = joints_at(scene, hole);
    let out = margins(scene, &choice.fillings, None, &joints);
    scene.holes.holes[hole].fit = before;
    (choice.fillings, out)
}
