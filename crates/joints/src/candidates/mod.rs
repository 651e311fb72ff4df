//! Single steps that take a contradiction of poles away: which there are, what each changes, whether it still holds.

mod enumerate;
mod holes;
mod joints;
mod evaluate;
mod words;

pub(crate) use enumerate::candidates;
pub(crate) use words::pose_words;

use lodewright_kit::Fit;
use lodewright_solve::parity::Repair;

use crate::repair::{RemedyKind, price, steel_fit};
use crate::context::Context;
use crate::plan_draft::Draft;

/// Wall left between the two blind holes that take the place of a through hole, mm. Common practice, no source.
pub const SPLIT_WALL_MM: f64 = 0.5;

/// What is known of a candidate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Standing {
    /// Not worked through: priced as if all went well.
    Unknown,
    /// Its joints reach their targets.
    Fine,
    /// A joint misses its target.
    Short,
    /// It is of no use.
    Dead,
}

/// One step that could be taken.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    pub kind: RemedyKind,
    pub standing: Standing,
    glued: bool,
    removes: Vec<usize>,
    unpins: Vec<usize>,
    adds: Vec<usize>,
}

impl Candidate {
    /// A step that changes nothing yet.
    fn plain(kind: RemedyKind) -> Self {
        Self {
            kind,
            standing: Standing::Unknown,
            glued: false,
            removes: Vec::new(),
            unpins: Vec::new(),
            adds: Vec::new(),
        }
    }

    fn weight(&self) -> u64 {
        let kind = match self.kind {
            RemedyKind::Keeper { .. } => price::KEEPER,
            RemedyKind::LeaveEmpty { .. } => price::LEAVE_EMPTY,
            RemedyKind::Split { .. } => price::SPLIT,
            RemedyKind::FreePole { .. } => price::FREE_POLE,
            RemedyKind::Turn { .. } => price::TURN,
            RemedyKind::GiveUp { .. } => price::GIVE_UP,
        };
        let short = if self.standing == Standing::Short {
            price::SHORT
        } else {
            0
        };
        kind + short + if self.glued { price::GLUED } else { 0 }
    }

    /// The step as the parity system sees it; one of no use takes nothing away.
    pub(crate) fn repair(&self) -> Repair {
        if self.standing == Standing::Dead {
            return Repair {
                weight: self.weight(),
                ..Repair::default()
            };
        }
        Repair {
            removes: self.removes.clone(),
            unpins: self.unpins.clone(),
            adds: self.adds.clone(),
            weight: self.weight(),
        }
    }

    /// Carries the step out on a draft of the plan; `None` where it cannot be.
    pub(crate) fn carry_out(&self, context: &Context, draft: &mut Draft<'_>) -> Option<()> {
        match self.kind {
            RemedyKind::Keeper { hole, steel } => {
                draft.fit(hole, &steel_fit(context.board.plan, steel)?)
            }
            RemedyKind::LeaveEmpty { hole } => draft.fit(hole, &Fit::Empty),
            RemedyKind::Split { hole, depth_mm } => draft.split(hole, depth_mm),
            RemedyKind::FreePole { hole } => draft.pole(hole, None),
            RemedyKind::Turn { joint, pose } => {
                draft.seat(context.board.joints[joint], Some(pose));
                Some(())
            }
            RemedyKind::GiveUp { joint } => {
                draft.seat(context.board.joints[joint], None);
                Some(())
            }
        }
    }
}
