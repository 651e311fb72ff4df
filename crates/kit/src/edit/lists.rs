//! What edits do alike to every list of entries with ids: put, join, arrange.

use std::collections::BTreeMap;

use tiny_sort::stable::sort_by_key;

use super::refusal::{Refusal, found};

/// The entry of the same id becomes this one.
pub(super) fn put<T: Clone, I: PartialEq>(
    list: &mut [T],
    entry: &T,
    id: impl Fn(&T) -> &I,
) -> Result<(), Refusal> {
    *found(list.iter_mut().find(|old| id(old) == id(entry)))? = entry.clone();
    Ok(())
}

/// A further entry, refused where its id is taken.
pub(super) fn join<T: Clone>(
    list: &mut Vec<T>,
    entry: &T,
    id: impl Fn(&T) -> &str,
) -> Result<(), Refusal> {
    if list.iter().any(|old| id(old) == id(entry)) {
        return Err(Refusal::new(format!(
            "'{}' is in the plan already. Compare the plans again.",
            id(entry)
        )));
    }
    list.push(entry.clone());
    Ok(())
}

/// The entries named first in the order named, then the rest as they are.
pub(super) fn arrange<T, I: Ord>(list: &mut [T], order: &[I], id: impl Fn(&T) -> &I) {
    let mut places = BTreeMap::new();
    for (place, named) in order.iter().enumerate() {
        places.entry(named).or_insert(place);
    }
    sort_by_key(list, |entry| {
        places.get(id(entry)).copied().unwrap_or(usize::MAX)
    });
}
