//! The last actions as data, for a report: what was done to which plan, so that it can be done again in a test.

use lodewright_planner::kit::{Edit, Plan};
use lodewright_planner::planfile;
use serde::{Deserialize, Serialize};

use super::{Action, AppState, PlanKey};
use crate::shared::Shared;

/// So many actions make one length of trail; the one before it is kept as well.
pub const LENGTH: usize = 50;

/// One action.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Step {
    /// When, milliseconds since 1970.
    pub at_ms: f64,
    /// What it is called; holds nothing that was typed.
    pub name: String,
    /// The edits it made, all or none; none where it was no edit.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub edits: Vec<Edit>,
}

/// Actions on one plan, from the state that they began with.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Trail {
    /// The plan file before the first of them; empty where no plan was open.
    pub base: String,
    /// What was done to it.
    pub steps: Vec<Step>,
}

impl Trail {
    /// The plan after all steps; refused edits are refused again and change nothing.
    ///
    /// # Errors
    /// Words, where the base is no plan.
    pub fn replay(&self) -> Result<Plan, String> {
        let loaded = planfile::read(self.base.as_bytes()).map_err(|e| e.to_string())?;
        let mut now = loaded.plan;
        let (mut past, mut future) = (Vec::new(), Vec::new());
        for step in &self.steps {
            let to = match step.name.as_str() {
                "undo" => past.pop().inspect(|_| future.push(now.clone())),
                "redo" => future.pop().inspect(|_| past.push(now.clone())),
                _ => {
                    let mut edited = Some(now.clone());
                    for edit in &step.edits {
                        edited = edited.and_then(|plan| plan.edited(edit).ok());
                    }
                    edited.filter(|plan| *plan != now).inspect(|_| {
                        past.push(now.clone());
                        future.clear();
                    })
                }
            };
            now = to.unwrap_or(now);
        }
        Ok(now)
    }
}

/// Keeps the trail of the open plan.
#[derive(Debug, Default)]
pub struct Recorder {
    key: Option<PlanKey>,
    /// The plan that the last recorded action should have led to is not known any more: begin anew.
    begin: bool,
    /// Steps of undo when the trail began: an undo beyond them leads where the trail does not know.
    steps: usize,
    /// Steps that were undone since and can be done again.
    undone: usize,
    trail: Trail,
}

/// What changed, to be stored.
#[derive(Debug, PartialEq)]
pub struct Noted<'a> {
    /// The trail before this one, where this one has just begun.
    pub before: Option<Trail>,
    /// The present one.
    pub now: &'a Trail,
}

impl Recorder {
    /// Notes an action that is about to be done to this state; none where it is not worth noting.
    pub fn note(&mut self, action: &Action, state: &AppState, now_ms: f64) -> Option<Noted<'_>> {
        let (name, edits) = described(action)?;
        let edits = edits.to_vec();
        let anew = self.begin || self.key != state.open || self.trail.steps.len() >= LENGTH;
        let before = anew.then(|| std::mem::take(&mut self.trail));
        if anew {
            self.key.clone_from(&state.open);
            self.begin = false;
            self.steps = state.track().map_or(0, |t| t.history.len());
            self.undone = 0;
            let plan: Option<&Shared<Plan>> = state.track().map(|t| &t.plan);
            self.trail.base = plan
                .and_then(|p| planfile::write(p).ok())
                .unwrap_or_default();
        }
        let steps = state.track().map_or(0, |t| t.history.len());
        match action {
            Action::Undo if steps > self.steps => self.undone += 1,
            Action::Redo if self.undone > 0 => self.undone -= 1,
            Action::Edit(_) | Action::EditAll { .. } => self.undone = 0,
            _ => self.begin = true,
        }
        self.trail.steps.push(Step {
            at_ms: now_ms,
            name,
            edits,
        });
        let before = before.filter(|trail| !trail.steps.is_empty());
        Some(Noted {
            before,
            now: &self.trail,
        })
    }
}

/// The name of an action and its edits. What the app tells itself is no action of the builder.
fn described(action: &Action) -> Option<(String, &[Edit])> {
    let plain = |name: &str| Some((name.to_owned(), [].as_slice()));
    match action {
        Action::Edit(edit) => Some((name_of(edit), std::slice::from_ref(edit))),
        Action::EditAll { edits, .. } => Some(("several".to_owned(), edits)),
        Action::Undo => plain("undo"),
        Action::Redo => plain("redo"),
        Action::Open(_) => plain("open"),
        Action::Add(_) => plain("add-plan"),
        Action::Duplicate(_) => plain("copy-plan"),
        Action::Rename(..) => plain("rename-plan"),
        Action::Delete(_) => plain("delete-plan"),
        Action::Undelete => plain("undelete-plan"),
        Action::Restore(..) => plain("restore-plan"),
        Action::Foreign(_) => plain("another-window"),
        Action::ForeignGone(_) => plain("another-window-deleted"),
        Action::BringBack(_) => plain("bring-back"),
        Action::Follows(..)
        | Action::Saved(_)
        | Action::Typing(_)
        | Action::Stamp(..)
        | Action::Tell(_)
        | Action::Dismiss(_) => None,
    }
}

/// The edit's own word in the file format: the tag of its JSON.
fn name_of(edit: &Edit) -> String {
    let text = serde_json::to_string(edit).unwrap_or_default();
    text.split('"').nth(1).unwrap_or("edit").to_owned()
}

#[cfg(test)]
#[path = "trail_tests.rs"]
mod tests;
