//! What can happen to the store.

use lodewright_planner::kit::{Edit, Plan};

use super::{Entry, Notice, PlanKey, SaveState};

/// One happening. All but those named otherwise leave a plan that is not open alone.
#[derive(Clone, Debug)]
pub enum Action {
    /// An edit of the open plan; a refused one becomes a notice.
    Edit(Edit),
    /// Several edits of the open plan as one step of undo; one refusal refuses all.
    EditAll {
        /// What they do together, for undo.
        label: &'static str,
        /// In this order.
        edits: Vec<Edit>,
    },
    /// One step back in the open plan.
    Undo,
    /// One step forward again.
    Redo,
    /// Another plan is looked at, or none.
    Open(Option<PlanKey>),
    /// A plan joins the shelf under a new key and is opened.
    Add(Box<Plan>),
    /// A copy of any plan joins the shelf.
    Duplicate(PlanKey),
    /// Another title for any plan.
    Rename(PlanKey, String),
    /// Any plan goes; the notice offers it back.
    Delete(PlanKey),
    /// The plan that went last comes back.
    Undelete,
    /// A plan that was deleted comes back as it was last stored.
    Restore(PlanKey, Box<Plan>),
    /// Another window has written this entry: its plan becomes one more step here.
    Foreign(Box<Entry>),
    /// Another window has deleted this plan.
    ForeignGone(PlanKey),
    /// Another window edits this plan, which is open here too; or does so no more.
    Follows(PlanKey, bool),
    /// An earlier state of the open plan takes its place, as one step of undo.
    BringBack(Box<Plan>),
    /// How the keeping goes.
    Saved(SaveState),
    /// How the keeping of what is being typed goes.
    Typing(SaveState),
    /// These entries were kept at this time, milliseconds since 1970.
    Stamp(Vec<PlanKey>, f64),
    /// Tell the reader something.
    Tell(Notice),
    /// The notice of this number has been read.
    Dismiss(u32),
}
