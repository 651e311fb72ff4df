//! A step of the work: what is done, to what, and what must come before.

use lodewright_assembly::JointIx;
use lodewright_joints::HoleIx;
use lodewright_kit::{PartIx, SocketIx, VariantIx};
use serde::Serialize;

/// What a step does, and to what.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    /// Mark and drill a hole.
    Drill(HoleIx),
    /// Put a variant together without glue.
    DryFit(VariantIx),
    /// Find and mark the pole of the magnet for a hole.
    PoleCheck(HoleIx),
    /// Cut a peg off a part.
    CutPeg(PartIx),
    /// Glue a magnet or piece of steel into a hole.
    GluePiece(HoleIx),
    /// Glue a joint for good.
    GlueJoint(JointIx),
    /// Mask a socket of the host.
    MaskSocket(SocketIx),
    /// Mask the mounting face that a part brings to a joint.
    MaskPlug(JointIx),
    /// Paint a part, with all that is glued to it.
    Paint(PartIx),
    /// Put a variant together, finished.
    FinalFit(VariantIx),
    /// A step that the builder wrote.
    Own,
}

impl Task {
    /// The kind of step.
    pub fn kind(self) -> StepKind {
        match self {
            Self::Drill(_) => StepKind::Drill,
            Self::DryFit(_) => StepKind::DryFit,
            Self::PoleCheck(_) => StepKind::PoleCheck,
            Self::CutPeg(_) => StepKind::CutPeg,
            Self::GluePiece(_) => StepKind::GluePiece,
            Self::GlueJoint(_) => StepKind::GlueJoint,
            Self::MaskSocket(_) | Self::MaskPlug(_) => StepKind::Mask,
            Self::Paint(_) => StepKind::Paint,
            Self::FinalFit(_) => StepKind::FinalFit,
            Self::Own => StepKind::Own,
        }
    }

    /// The hole that it works on.
    pub fn hole(self) -> Option<HoleIx> {
        match self {
            Self::Drill(hole) | Self::PoleCheck(hole) | Self::GluePiece(hole) => Some(hole),
            _ => None,
        }
    }
}

/// What kind of step it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepKind {
    /// Mark and drill one hole.
    Drill,
    /// Put one variant together without glue.
    DryFit,
    /// Find and mark the pole of one magnet.
    PoleCheck,
    /// Cut a peg off.
    CutPeg,
    /// Glue one magnet or piece of steel.
    GluePiece,
    /// Glue two parts for good.
    GlueJoint,
    /// Mask a mating face.
    Mask,
    /// Paint one part or group.
    Paint,
    /// Put one variant together, finished.
    FinalFit,
    /// A step that the builder wrote.
    Own,
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkStep {
    /// A key that stays the same while the plan's ids stay.
    pub key: String,
    /// What it does.
    pub task: Task,
    /// The key of the whole step and what the builder calls this go of it, for one go of a split step; no key and the builder's
    /// words for a step of their own.
    pub own: Option<OwnName>,
    /// Hands-on time, min.
    pub hands_min: f64,
    /// Wait after it, min.
    pub wait_min: f64,
    /// Steps that come before, by their places in the list; `true` where their wait must be over.
    pub after: Vec<(usize, bool)>,
    /// Whether it cannot be undone.
    pub no_return: bool,
}

/// What the builder calls a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnName {
    /// The name.
    pub name: String,
    /// The key of the whole step, where this is one go of it.
    pub go_of: Option<String>,
}

impl WorkStep {
    /// The kind of step.
    pub fn kind(&self) -> StepKind {
        self.task.kind()
    }
}
