//! How each action changes the store. Nothing here touches storage, the page or a clock.

use std::rc::Rc;

use lodewright_planner::kit::{Edit, Plan, Refusal};
use yew::Reducible;

use super::{
    Action, AppState, Content, Entry, Notice, Offer, OpenDocument, PlanKey, SaveState, Shelf,
};
use crate::shared::Shared;

impl Reducible for AppState {
    type Action = Action;

    fn reduce(self: Rc<Self>, action: Action) -> Rc<Self> {
        match self.after(action) {
            Some(next) => Rc::new(next),
            None => self,
        }
    }
}

impl AppState {
    /// The store after an action; none where nothing changes.
    fn after(&self, action: Action) -> Option<Self> {
        match action {
            Action::Edit(edit) => self.edited(edit.label(), std::slice::from_ref(&edit)),
            Action::EditAll { label, edits } => self.edited(label, &edits),
            Action::Undo => self.moved(OpenDocument::undone),
            Action::Redo => self.moved(OpenDocument::redone),
            Action::Open(key) => (self.open != key).then(|| Self {
                open: key,
                follows: false,
                ..self.clone()
            }),
            Action::Add(plan) => Some(self.added(*plan)),
            Action::Duplicate(key) => self.duplicated(&key),
            Action::Rename(key, title) => self.renamed(&key, title),
            Action::Delete(key) => self.deleted(&key),
            Action::Undelete => self.undeleted(),
            Action::Restore(key, plan) => Some(self.restored(&key, *plan)),
            Action::Foreign(entry) => self.foreign(*entry),
            Action::ForeignGone(key) => self.foreign_gone(&key),
            Action::Follows(key, follows) => self.following(&key, follows),
            Action::BringBack(plan) => self.brought_back(*plan),
            Action::Saved(save) => (self.save != save).then(|| Self {
                save,
                ..self.clone()
            }),
            Action::Typing(typing) => (self.typing != typing).then(|| Self {
                typing,
                ..self.clone()
            }),
            Action::Stamp(keys, at_ms) => Some(self.stamped(&keys, at_ms)),
            Action::Tell(notice) => Some(self.telling(notice)),
            Action::Dismiss(number) => self
                .notice
                .as_ref()
                .is_some_and(|n| n.number == number)
                .then(|| Self {
                    notice: None,
                    ..self.clone()
                }),
        }
    }

    fn edited(&self, label: &'static str, edits: &[Edit]) -> Option<Self> {
        let key = self.open.clone()?;
        let track = self.track()?;
        if self.follows {
            return Some(self.refusing_to_edit());
        }
        match track.edited(label, edits) {
            Ok(None) => None,
            Ok(Some(next)) => Some(self.with_track(&key, next).without_notice()),
            Err(refusal) => Some(self.telling(Notice::refused(refusal.to_string()))),
        }
    }

    fn moved(&self, step: fn(&OpenDocument) -> Option<OpenDocument>) -> Option<Self> {
        let key = self.open.clone()?;
        let next = step(self.track()?)?;
        if self.follows {
            return Some(self.refusing_to_edit());
        }
        Some(self.with_track(&key, next).without_notice())
    }

    fn added(&self, mut plan: Plan) -> Self {
        plan.title = self.fresh_title(&plan.title);
        let key = self.fresh_key(&plan.title);
        let entry = Entry::of(key.clone(), plan);
        Self {
            open: Some(key),
            follows: false,
            save: SaveState::Pending,
            ..self.with_shelf(|shelf| shelf.insert(0, entry))
        }
        .without_notice()
    }

    fn duplicated(&self, key: &PlanKey) -> Option<Self> {
        let mut plan = (*self.entry(key)?.track()?.plan).clone();
        plan.title = self.fresh_title(&plan.title);
        let said = format!("\u{201c}{}\u{201d} is a copy of its own now.", plan.title);
        let entry = Entry::of(self.fresh_key(&plan.title), plan);
        let next = Self {
            save: SaveState::Pending,
            ..self.with_shelf(|shelf| shelf.insert(0, entry))
        };
        Some(next.telling(Notice::told(said)))
    }

    fn renamed(&self, key: &PlanKey, title: String) -> Option<Self> {
        let edit = Edit::SetTitle(title);
        let track = self.entry(key)?.track()?;
        match track.edited(edit.label(), std::slice::from_ref(&edit)) {
            Ok(next) => Some(self.with_track(key, next?)),
            Err(refusal) => Some(self.telling(Notice::refused(refusal.to_string()))),
        }
    }

    fn deleted(&self, key: &PlanKey) -> Option<Self> {
        let entry = self.entry(key)?.clone();
        let said = format!("\u{201c}{}\u{201d} is deleted.", entry.title());
        let next = Self {
            open: self.open.clone().filter(|open| open != key),
            deleted: Some(entry),
            save: SaveState::Pending,
            ..self.without(key)
        };
        Some(next.telling(Notice::told(said).offering(Offer::Undelete)))
    }

    fn without(&self, key: &PlanKey) -> Self {
        let mut spent = (*self.spent).clone();
        spent.push(key.clone());
        Self {
            spent: Shared::new(spent),
            ..self.with_shelf(|shelf| shelf.retain(|e| e.key != *key))
        }
    }

    fn restored(&self, key: &PlanKey, plan: Plan) -> Self {
        let said = format!("\u{201c}{}\u{201d} is back.", plan.title);
        let key = match self.entry(key) {
            Some(_) => self.fresh_key(&plan.title),
            None => key.clone(),
        };
        let entry = Entry::of(key, plan);
        let next = Self {
            save: SaveState::Pending,
            ..self.with_shelf(|shelf| shelf.insert(0, entry))
        };
        next.telling(Notice::told(said))
    }

    fn undeleted(&self) -> Option<Self> {
        let mut entry = self.deleted.clone()?;
        if self.entry(&entry.key).is_some() {
            entry.key = self.fresh_key(entry.title());
        }
        let next = Self {
            deleted: None,
            save: SaveState::Pending,
            ..self.with_shelf(|shelf| shelf.insert(0, entry))
        };
        Some(next.without_notice())
    }

    /// The change may be undone. It is told of, unless this window only follows and had nothing of its own to store: then nobody
    /// here was disturbed by it.
    fn foreign(&self, entry: Entry) -> Option<Self> {
        let Some(ours) = self.entry(&entry.key) else {
            return Some(self.with_shelf(|shelf| shelf.insert(0, entry)));
        };
        let replaced = |next| {
            let save = self.save.clone();
            let at_ms = entry.changed_ms;
            let next = self.with_track(&entry.key, next);
            Self { save, ..next }.stamped(std::slice::from_ref(&entry.key), at_ms)
        };
        let (track, theirs) = (ours.track()?, entry.track()?);
        // The plan as it came, not a copy: the queue knows it by its address.
        let plan = theirs.plan.clone();
        if *track.plan == *theirs.plan {
            let history = track.history.clone();
            return (track.plan != plan).then(|| replaced(OpenDocument { plan, history }));
        }
        let next = replaced(track.stepped("the change in another window", plan));
        let quiet = self.follows && self.save != SaveState::Pending;
        if quiet || self.open.as_ref() != Some(&entry.key) {
            return Some(next);
        }
        let said = "This plan was changed in another window. Undo brings back what was here.";
        Some(next.telling(Notice::told(said).offering(Offer::Undo)))
    }

    fn foreign_gone(&self, key: &PlanKey) -> Option<Self> {
        let entry = self.entry(key)?.clone();
        let open_here = self.open.as_ref() == Some(key);
        let next = self.without(key);
        if !open_here {
            return Some(next);
        }
        let said = format!(
            "\u{201c}{}\u{201d} was deleted in another window.",
            entry.title()
        );
        let next = Self {
            deleted: Some(entry),
            ..next
        };
        Some(next.telling(Notice::told(said).offering(Offer::Undelete)))
    }

    fn following(&self, key: &PlanKey, follows: bool) -> Option<Self> {
        (self.open.as_ref() == Some(key) && self.follows != follows).then(|| Self {
            follows,
            ..self.clone().without_notice()
        })
    }

    fn refusing_to_edit(&self) -> Self {
        let said = "Another window edits this plan; this one follows it.";
        self.telling(Notice::refused(said).offering(Offer::TakeOver))
    }

    fn brought_back(&self, plan: Plan) -> Option<Self> {
        let key = self.open.clone()?;
        let track = self.track()?;
        if self.follows {
            return Some(self.refusing_to_edit());
        }
        let next = track.stepped("bring back an earlier state", Shared::new(plan));
        let said = "The earlier state is back. Undo returns to what was here.";
        let told = Notice::told(said).offering(Offer::Undo);
        Some(self.with_track(&key, next).telling(told))
    }

    fn stamped(&self, keys: &[PlanKey], at_ms: f64) -> Self {
        self.with_shelf(|shelf| {
            for entry in shelf.iter_mut().filter(|e| keys.contains(&e.key)) {
                entry.changed_ms = at_ms;
            }
        })
    }

    fn telling(&self, notice: Notice) -> Self {
        let number = self.notices + 1;
        Self {
            notice: Some(Notice { number, ..notice }),
            notices: number,
            ..self.clone()
        }
    }

    fn without_notice(self) -> Self {
        Self {
            notice: None,
            ..self
        }
    }

    fn with_shelf(&self, change: impl FnOnce(&mut Shelf)) -> Self {
        let mut shelf = (*self.shelf).clone();
        change(&mut shelf);
        Self {
            shelf: Shared::new(shelf),
            ..self.clone()
        }
    }

    fn with_track(&self, key: &PlanKey, track: OpenDocument) -> Self {
        let next = self.with_shelf(|shelf| {
            if let Some(entry) = shelf.iter_mut().find(|e| e.key == *key) {
                entry.content = Content::Plan(track);
            }
        });
        Self {
            save: SaveState::Pending,
            ..next
        }
    }
}

impl OpenDocument {
    /// After edits as one step; none where they change nothing.
    fn edited(&self, label: &'static str, edits: &[Edit]) -> Result<Option<Self>, Refusal> {
        let mut plan: Option<Plan> = None;
        for edit in edits {
            plan = Some(plan.as_ref().unwrap_or(&self.plan).edited(edit)?);
        }
        Ok(plan
            .filter(|plan| *plan != *self.plan)
            .map(|plan| self.stepped(label, Shared::new(plan))))
    }

    fn stepped(&self, label: &'static str, plan: Shared<Plan>) -> Self {
        Self {
            plan,
            history: Shared::new(self.history.done(label, self.plan.clone())),
        }
    }

    fn undone(&self) -> Option<Self> {
        self.history.back(self.plan.clone()).map(Self::from_step)
    }

    fn redone(&self) -> Option<Self> {
        self.history.forward(self.plan.clone()).map(Self::from_step)
    }

    fn from_step((history, plan): (super::History, Shared<Plan>)) -> Self {
        Self {
            plan,
            history: Shared::new(history),
        }
    }
}

#[cfg(test)]
#[path = "reducer_tests.rs"]
mod tests;
