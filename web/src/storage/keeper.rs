//! What is written when, and how it is found again.

use std::collections::BTreeMap;

use lodewright_planner::kit::Plan;
use lodewright_planner::planfile;
use yew::AttrValue;

use super::{INDEX, KeyValue, key_of, plan_of};
use crate::shared::Shared;
use crate::store::{Content, Entry, PlanKey, Shelf};

/// Every plan that is kept, the one changed last first. Text that is no plan stays as it is and is shown as damaged.
pub fn load(place: &dyn KeyValue) -> Shelf {
    let times = index(place);
    let mut shelf: Shelf = place
        .keys()
        .iter()
        .filter_map(|key| {
            let plan = plan_of(key)?;
            let mut entry = read_entry(plan, &place.get(key)?);
            entry.changed_ms = times.get(plan).copied().unwrap_or(0.0);
            Some(entry)
        })
        .collect();
    shelf.sort_by(|a, b| {
        b.changed_ms
            .total_cmp(&a.changed_ms)
            .then_with(|| a.key.cmp(&b.key))
    });
    shelf
}

/// One entry from its text.
pub fn read_entry(key: &str, text: &str) -> Entry {
    let key = PlanKey::from(key.to_owned());
    match planfile::read(text.as_bytes()) {
        Ok(loaded) => Entry::of(key, loaded.plan),
        Err(error) => Entry {
            key,
            content: Content::Damaged {
                text: AttrValue::from(text.to_owned()),
                said: AttrValue::from(error.to_string()),
            },
            changed_ms: 0.0,
        },
    }
}

fn index(place: &dyn KeyValue) -> BTreeMap<String, f64> {
    let text = place.get(INDEX).unwrap_or_default();
    serde_json::from_str(&text).unwrap_or_default()
}

/// Knows what is already written, and writes the rest.
#[derive(Default)]
pub struct Keeper {
    written: BTreeMap<PlanKey, Shared<Plan>>,
    damaged: Vec<PlanKey>,
}

impl Keeper {
    /// A keeper of plans that were just loaded.
    pub fn of(shelf: &Shelf) -> Self {
        let plans = |e: &Entry| Some((e.key.clone(), e.track()?.plan.clone()));
        let damaged = shelf.iter().filter(|e| e.track().is_none());
        Self {
            written: shelf.iter().filter_map(plans).collect(),
            damaged: damaged.map(|e| e.key.clone()).collect(),
        }
    }

    /// Another window has written this: it need not be written again.
    pub fn seen(&mut self, entry: &Entry) {
        if let Some(track) = entry.track() {
            self.written.insert(entry.key.clone(), track.plan.clone());
        }
    }

    /// Whether everything on the shelf is written and nothing else.
    pub fn is_done(&self, shelf: &Shelf) -> bool {
        self.due(shelf).next().is_none() && self.gone(shelf).is_empty()
    }

    /// Writes what has changed and forgets what is gone. Gives the keys that were written.
    ///
    /// # Errors
    /// The first failure, in words; what was not written is tried again the next time.
    pub fn keep(
        &mut self,
        place: &mut dyn KeyValue,
        shelf: &Shelf,
        now_ms: f64,
    ) -> Result<Vec<PlanKey>, String> {
        // What is gone first: it may make the room that the rest needs.
        for key in self.gone(shelf) {
            place.remove(&key_of(&key));
            self.written.remove(&key);
            self.damaged.retain(|k| *k != key);
        }
        let due: Vec<_> = self.due(shelf).collect();
        let mut done = Vec::new();
        for (key, plan) in due {
            let text = planfile::write(&plan).map_err(|e| e.to_string())?;
            place.set(&key_of(&key), &text)?;
            self.written.insert(key.clone(), plan);
            done.push(key);
        }
        let times: BTreeMap<&str, f64> = shelf
            .iter()
            .map(|e| {
                (
                    e.key.as_str(),
                    if done.contains(&e.key) {
                        now_ms
                    } else {
                        e.changed_ms
                    },
                )
            })
            .collect();
        let text = serde_json::to_string(&times).map_err(|e| e.to_string())?;
        place.set(INDEX, &text)?;
        Ok(done)
    }

    fn due<'a>(&'a self, shelf: &'a Shelf) -> impl Iterator<Item = (PlanKey, Shared<Plan>)> + 'a {
        shelf.iter().filter_map(|entry| {
            let plan = &entry.track()?.plan;
            let old = self.written.get(&entry.key);
            (old != Some(plan)).then(|| (entry.key.clone(), plan.clone()))
        })
    }

    fn gone(&self, shelf: &Shelf) -> Vec<PlanKey> {
        let known = self.written.keys().chain(&self.damaged);
        known
            .filter(|key| shelf.iter().all(|e| e.key != **key))
            .cloned()
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    type Place = BTreeMap<String, String>;

    /// A place that takes texts up to a length, as a browser does.
    struct Small(Place, usize);

    impl KeyValue for Small {
        fn keys(&self) -> Vec<String> {
            KeyValue::keys(&self.0)
        }
        fn get(&self, key: &str) -> Option<String> {
            KeyValue::get(&self.0, key)
        }
        fn set(&mut self, key: &str, text: &str) -> Result<(), String> {
            if text.len() > self.1 {
                return Err("full".to_owned());
            }
            self.0.set(key, text)
        }
        fn remove(&mut self, key: &str) {
            KeyValue::remove(&mut self.0, key);
        }
    }

    fn shelf(titles: &[&str]) -> Shelf {
        let entry = |t: &&str| Entry::of(PlanKey::from((*t).to_lowercase()), Plan::empty(*t));
        titles.iter().map(entry).collect()
    }

    #[test]
    fn what_is_kept_is_found_again_newest_first() {
        let mut place = Place::new();
        let mut keeper = Keeper::default();
        let mut all = shelf(&["A"]);
        keeper.keep(&mut place, &all, 10.0).unwrap();
        all[0].changed_ms = 10.0;
        all.extend(shelf(&["B"]));
        assert_eq!(keeper.keep(&mut place, &all, 20.0).unwrap(), ["b"]);
        let found = load(&place);
        let seen: Vec<_> = found.iter().map(|e| (e.title(), e.changed_ms)).collect();
        assert_eq!(seen, [("B", 20.0), ("A", 10.0)]);
        assert!(keeper.is_done(&all));
    }

    #[test]
    fn only_what_changed_is_written_and_what_is_gone_is_forgotten() {
        let mut place = Place::new();
        let mut keeper = Keeper::default();
        let all = shelf(&["A", "B"]);
        keeper.keep(&mut place, &all, 1.0).unwrap();
        assert!(keeper.keep(&mut place, &all, 2.0).unwrap().is_empty());
        keeper.keep(&mut place, &all[..1].to_vec(), 3.0).unwrap();
        assert!(place.contains_key(&key_of("a")) && !place.contains_key(&key_of("b")));
    }

    #[test]
    fn a_damaged_text_is_shown_and_left_alone() {
        let mut place = Place::new();
        place.insert(key_of("x"), "{ not a plan".to_owned());
        let found = load(&place);
        assert!(matches!(found[0].content, Content::Damaged { .. }));
        let mut keeper = Keeper::of(&found);
        keeper.keep(&mut place, &found, 1.0).unwrap();
        assert_eq!(place[&key_of("x")], "{ not a plan");
        keeper.keep(&mut place, &Vec::new(), 2.0).unwrap();
        assert!(!place.contains_key(&key_of("x")));
    }

    #[test]
    fn a_full_place_keeps_the_old_text_and_is_tried_again() {
        let mut place = Small(Place::new(), usize::MAX);
        let mut keeper = Keeper::default();
        keeper.keep(&mut place, &shelf(&["A"]), 1.0).unwrap();
        let old = place.0[&key_of("a")].clone();
        place.1 = 10;
        let mut changed = Plan::empty("A");
        changed.note = "more".to_owned();
        let changed = vec![Entry::of("a".into(), changed)];
        assert!(keeper.keep(&mut place, &changed, 2.0).is_err());
        assert_eq!(place.0[&key_of("a")], old);
        assert!(!keeper.is_done(&changed));
        place.1 = usize::MAX;
        assert_eq!(keeper.keep(&mut place, &changed, 3.0).unwrap(), ["a"]);
    }

    #[test]
    fn a_broken_index_costs_the_times_alone() {
        let mut place = Place::new();
        Keeper::default()
            .keep(&mut place, &shelf(&["A"]), 5.0)
            .unwrap();
        place.insert(INDEX.to_owned(), "[".to_owned());
        assert_eq!(load(&place)[0].title(), "A");
    }
}
