//! At the start: which copy of each plan counts. The newest good one, wherever it is.

use std::collections::BTreeMap;
use tiny_sort::stable::sort_by;

use lodewright_planner::planfile;
use yew::AttrValue;

use super::Record;
use crate::store::{Content, Entry, PlanKey, Shelf};

/// What was found.
#[derive(Debug, Default)]
pub struct Found {
    /// The plans, the one changed last first.
    pub shelf: Shelf,
    /// The number of the newest state of each plan, of deleted ones too.
    pub numbers: BTreeMap<PlanKey, u64>,
    /// When each deleted plan was deleted, milliseconds since 1970.
    pub gone_ms: BTreeMap<PlanKey, f64>,
    /// Plans of which the two places do not hold the same state: to be written anew.
    pub uneven: Vec<PlanKey>,
}

impl Found {
    /// The keys of deleted plans.
    pub fn deleted(&self) -> Vec<PlanKey> {
        self.gone_ms.keys().cloned().collect()
    }
}

/// A copy of one plan.
struct Copy {
    record: Record,
    /// Whether it was checked: a plain text and a torn record are not.
    sound: bool,
}

/// Chooses among the texts of local storage and the slots of IndexedDB (`plan/0`, `plan/1`), both by key of the plan.
pub fn recover(local: &[(String, String)], slots: &[(String, String)]) -> Found {
    let mut copies: BTreeMap<&str, [Option<Copy>; 2]> = BTreeMap::new();
    for (key, whole) in local {
        let copy = Record::read(whole).map_or_else(|| plain(whole), sound);
        copies.entry(key).or_default()[0] = Some(copy);
    }
    for (slot, whole) in slots {
        let Some((key, _)) = slot.rsplit_once('/') else {
            continue;
        };
        let copy = Record::read(whole).map_or_else(|| plain(whole), sound);
        let place = &mut copies.entry(key).or_default()[1];
        *place = Some(better(place.take(), copy));
    }
    let mut found = Found::default();
    for (key, [local, slot]) in copies {
        let even = match (&local, &slot) {
            (Some(a), Some(b)) => a.record == b.record,
            (None, Some(b)) => b.record.is_gone(),
            _ => false,
        };
        let Some(best) = local
            .into_iter()
            .chain(slot)
            .reduce(|a, b| better(Some(a), b))
        else {
            continue;
        };
        let key = PlanKey::from(key.to_owned());
        found.numbers.insert(key.clone(), best.record.number);
        if !even {
            found.uneven.push(key.clone());
        }
        if !best.record.is_gone() {
            found.shelf.push(entry_of(&key, &best.record));
        } else {
            found.gone_ms.insert(key, best.record.at_ms);
        }
    }
    let newer = |a: &Entry, b: &Entry| b.changed_ms.total_cmp(&a.changed_ms);
    sort_by(&mut found.shelf, |a, b| {
        newer(a, b).then_with(|| a.key.cmp(&b.key))
    });
    found
}

fn sound(record: Record) -> Copy {
    Copy {
        record,
        sound: true,
    }
}

/// A text without a head: a plan as earlier programs stored it, or what is left of a record.
fn plain(text: &str) -> Copy {
    Copy {
        record: Record {
            number: 0,
            at_ms: 0.0,
            text: text.to_owned(),
        },
        sound: false,
    }
}

fn better(old: Option<Copy>, new: Copy) -> Copy {
    match old {
        // Of two equal states the later argument wins: IndexedDB's.
        Some(old) if (old.sound, old.record.number) > (new.sound, new.record.number) => old,
        _ => new,
    }
}

/// An entry from a record. Text that is no plan stays as it is and is shown as damaged.
pub fn entry_of(key: &PlanKey, record: &Record) -> Entry {
    let key = key.clone();
    let entry = match planfile::read(record.text.as_bytes()) {
        Ok(loaded) => Entry::of(key, loaded.plan),
        Err(error) => Entry {
            key,
            content: Content::Damaged {
                text: AttrValue::from(record.text.clone()),
                said: AttrValue::from(error.to_string()),
            },
            changed_ms: 0.0,
        },
    };
    Entry {
        changed_ms: record.at_ms,
        ..entry
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lodewright_planner::kit::Plan;

    fn record(number: u64, note: &str) -> String {
        let mut plan = Plan::empty("A");
        plan.note = note.to_owned();
        let text = planfile::write(&plan).unwrap();
        let at_ms = 100.0 + number as f64;
        Record {
            number,
            at_ms,
            text,
        }
        .write()
    }

    fn note(local: &[&str], slots: &[&str]) -> Option<String> {
        let local: Vec<_> = local.iter().map(|t| ("a".into(), (*t).into())).collect();
        let slot = |(n, t): (usize, &&str)| (format!("a/{n}"), (*t).to_owned());
        let slots: Vec<_> = slots.iter().enumerate().map(slot).collect();
        let found = recover(&local, &slots);
        Some(found.shelf.first()?.track()?.plan.note.clone())
    }

    #[test]
    fn the_newest_good_copy_wins_wherever_it_is() {
        let (one, two, three) = (record(1, "one"), record(2, "two"), record(3, "three"));
        assert_eq!(note(&[&one], &[&two, &three]).unwrap(), "three");
        assert_eq!(note(&[&three], &[&two, &one]).unwrap(), "three");
        assert_eq!(note(&[], &[&two, &one]).unwrap(), "two");
        assert_eq!(note(&[&one], &[]).unwrap(), "one");
    }

    #[test]
    fn a_torn_copy_leaves_the_one_before() {
        let (one, two) = (record(1, "one"), record(2, "two"));
        assert_eq!(note(&[&two[..90]], &[&two[..60], &one]).unwrap(), "one");
    }

    #[test]
    fn a_plan_without_a_head_is_taken_and_given_one() {
        let plan = planfile::write(&Plan::empty("Old")).unwrap();
        let found = recover(&[("old".into(), plan)], &[]);
        assert_eq!(found.shelf[0].title(), "Old");
        assert_eq!(found.uneven, ["old"]);
    }

    #[test]
    fn a_later_deletion_counts_and_keeps_its_number() {
        let gone = Record {
            number: 4,
            at_ms: 9.0,
            text: String::new(),
        };
        let found = recover(
            &[("a".into(), record(3, "x"))],
            &[("a/1".into(), record(3, "x")), ("a/0".into(), gone.write())],
        );
        assert!(found.shelf.is_empty());
        assert_eq!(found.numbers["a"], 4);
    }

    #[test]
    fn a_sound_text_that_this_program_cannot_read_is_not_passed_over() {
        // As a later program would leave it: an older state must not silently take its place.
        let later = Record {
            number: 5,
            at_ms: 1.0,
            text: "{\"format\": \"lodewright-plan\", \"version\": 999, \"plan\": {}}".into(),
        };
        let found = recover(
            &[],
            &[
                ("a/1".into(), later.write()),
                ("a/0".into(), record(4, "x")),
            ],
        );
        assert!(matches!(found.shelf[0].content, Content::Damaged { .. }));
    }

    #[test]
    fn equal_copies_need_no_writing() {
        let one = record(1, "one");
        let found = recover(&[("a".into(), one.clone())], &[("a/1".into(), one)]);
        assert!(found.uneven.is_empty());
    }
}
