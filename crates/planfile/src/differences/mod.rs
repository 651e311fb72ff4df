//! What another plan has otherwise: a list to take or leave, entry by entry, each with the edit that takes it.
//!
//! Entries are told apart by their ids, so a renamed part is a changed part. The list is in an order in which it can be
//! taken as a whole: taking all of it gives the other plan, but for the order of a variant's cells, cells without seats and
//! blanks around names, none of which mean anything.

mod entry;
mod fields;
mod lists;
mod needs;
mod once;
mod words;

use lodewright_kit::{Edit, Plan};

pub use entry::PlanEntry;
pub use needs::with_needed;

/// What happens to an entry when a difference is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// The other plan has it, this one does not.
    Added,
    /// This plan has it, the other one does not.
    Gone,
    /// Both have it, differently.
    Changed,
}

/// One difference.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// What differs.
    pub entry: PlanEntry,
    /// What happens when it is taken.
    pub change: Change,
    /// The entry in words: `Part 'Hook'`.
    pub title: String,
    /// What is otherwise, in words.
    pub message: String,
    /// The edit of this plan that takes it.
    pub edit: Edit,
}

/// A difference before it is put in words.
type Found = (PlanEntry, Change, Edit);

/// What `theirs` has otherwise than `ours`.
pub fn differences(ours: &Plan, theirs: &Plan) -> Vec<Difference> {
    let mut found = once::found(ours, theirs);
    found.extend(lists::found(ours, theirs));
    let words = words::Words { ours, theirs };
    let difference = |(entry, change, edit): Found| Difference {
        title: words.title(&entry),
        message: words.message(&entry, change),
        entry,
        change,
        edit,
    };
    found.into_iter().map(difference).collect()
}

/// One edit that takes these differences, given by their places in the list; what they need is not added: see
/// [`with_needed`].
pub fn taking(list: &[Difference], chosen: &[usize]) -> Edit {
    let taken = list
        .iter()
        .enumerate()
        .filter(|(i, _)| chosen.contains(i))
        .map(|(_, d)| d.edit.clone());
    Edit::Together(taken.collect())
}
