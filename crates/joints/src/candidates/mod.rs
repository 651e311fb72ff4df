//! Single steps that take a contradiction of poles away: which there are, what each changes, whether it still holds.

mod enumerate;
mod evaluate;
mod holes;
mod joints;

pub(crate) use enumerate::candidates;

use lodewright_kit::Fit;
use lodewright_solve::parity::Repair;

use crate::context::Context;
use crate::plan_draft::Draft;
use crate::remedy::{RemedyKind, RemedyStep, price};

/// Wall left between the two blind holes that take the place of a through hole, mm. Common practice, no source.
pub const SPLIT_WALL_MM: f64 = 0.5;

/// What is known of a candidate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Viability {
    /// Not worked through: priced as if all went well.
    Unknown,
    /// Its joints do all that is asked.
    Fine,
    /// A joint holds, but does not do all that is asked.
    Short,
    /// It is of no use.
    Dead,
}

/// One step that could be taken.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    pub kind: RemedyKind,
    pub viability: Viability,
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
            viability: Viability::Unknown,
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
        let short = if self.viability == Viability::Short {
            price::SHORT
        } else {
            0
        };
        kind + short + if self.glued { price::GLUED } else { 0 }
    }

    /// The step as the parity system sees it; one of no use takes nothing away.
    pub(crate) fn repair(&self) -> Repair {
        if self.viability == Viability::Dead {
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

    /// The step as it is handed over.
    pub(crate) fn step(&self) -> RemedyStep {
        RemedyStep {
            kind: self.kind,
            weight: self.weight(),
            glued: self.glued,
        }
    }

    /// Carries the step out on a draft of the plan; `None` where it cannot be.
    pub(crate) fn carry_out(&self, context: &Context, draft: &mut Draft<'_>) -> Option<()> {
        match self.kind {
            RemedyKind::Keeper { hole, steel } => {
                let stock = &context.plan().stock.steel[steel];
                draft.fit(hole, &Fit::Steel(stock.id.clone()))
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
