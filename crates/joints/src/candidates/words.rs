//! A step in words.

use lodewright_kit::Pose;

use super::{Candidate, SPLIT_WALL_MM};
use crate::poles::name;
use crate::repair::{RemedyKind, RemedyStep, steel_words};
use crate::context::Context;

impl Candidate {
    /// The step as it is handed over.
    pub(crate) fn step(&self, context: &Context) -> Option<RemedyStep> {
        let magnet = |hole: usize| name(context.board, &context.holes, hole);
        let words = |joint: usize| context.board.words(joint);
        let mut said = match self.kind {
            RemedyKind::Keeper { hole, steel } => format!(
                "Fit {} in place of {}: steel has no poles and is drawn by either.",
                steel_words(context.board.plan, steel),
                magnet(hole)
            ),
            RemedyKind::LeaveEmpty { hole } => format!(
                "Leave out {}: the other magnets of its joints are enough.",
                magnet(hole)
            ),
            RemedyKind::Split { hole, depth_mm } => format!(
                "Drill the hole of {} from both sides, {depth_mm:.1} mm deep each, with {SPLIT_WALL_MM} mm left \
                 between, and glue a magnet into each, one after the other has set: they may push each other out.",
                magnet(hole)
            ),
            RemedyKind::FreePole { hole } => {
                format!("Leave the pole of {} to the planner.", magnet(hole))
            }
            RemedyKind::Turn { joint, pose } => {
                format!("Put {} {} instead.", words(joint), pose_words(pose))
            }
            RemedyKind::GiveUp { joint } => format!("Do without {}.", words(joint)),
        };
        if self.glued {
            said.push_str(" It is glued already and would have to come out.");
        }
        Some(RemedyStep {
            kind: self.kind.clone(),
            weight: self.weight(),
            glued: self.glued,
            said,
        })
    }
}

/// A pose in words.
pub(crate) fn pose_words(pose: Pose) -> String {
    let turn = if pose.turn_deg == 0.0 {
        "straight".to_owned()
    } else {
        format!("turned {}°", pose.turn_deg)
    };
    let over = if pose.over { ", turned over" } else { "" };
    format!("{turn}{over}")
}
