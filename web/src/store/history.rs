//! Undo and redo: whole plans as they were, with what was done to them.

use lodewright_planner::kit::Plan;

use crate::shared::Shared;

/// Steps that are kept.
pub const STEPS: usize = 400;

#[derive(Clone, Debug)]
struct Step {
    label: &'static str,
    plan: Shared<Plan>,
}

/// The plans before and after the present one.
#[derive(Clone, Debug, Default)]
pub struct History {
    past: Vec<Step>,
    future: Vec<Step>,
}

impl History {
    /// With one more step behind: `plan` is what was there before it. What lay ahead is forgotten.
    pub fn done(&self, label: &'static str, plan: Shared<Plan>) -> Self {
        let skip = (self.past.len() + 1).saturating_sub(STEPS);
        let mut past: Vec<Step> = self.past.iter().skip(skip).cloned().collect();
        past.push(Step { label, plan });
        Self {
            past,
            future: Vec::new(),
        }
    }

    /// One step back from `now`.
    pub fn back(&self, now: Shared<Plan>) -> Option<(Self, Shared<Plan>)> {
        let mut next = self.clone();
        let step = next.past.pop()?;
        next.future.push(Step {
            label: step.label,
            plan: now,
        });
        Some((next, step.plan))
    }

    /// One step forward from `now`.
    pub fn forward(&self, now: Shared<Plan>) -> Option<(Self, Shared<Plan>)> {
        let mut next = self.clone();
        let step = next.future.pop()?;
        next.past.push(Step {
            label: step.label,
            plan: now,
        });
        Some((next, step.plan))
    }

    /// What undo would take back.
    pub fn undo_label(&self) -> Option<&'static str> {
        self.past.last().map(|s| s.label)
    }

    /// What redo would do again.
    pub fn redo_label(&self) -> Option<&'static str> {
        self.future.last().map(|s| s.label)
    }

    /// Steps behind.
    pub fn len(&self) -> usize {
        self.past.len()
    }

    /// Whether there is nothing to undo.
    pub fn is_empty(&self) -> bool {
        self.past.is_empty()
    }
}
