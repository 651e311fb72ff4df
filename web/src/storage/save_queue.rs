//! What is due to be written, and under which number.

use std::collections::BTreeMap;

use lodewright_planner::kit::Plan;
use lodewright_planner::planfile;

use super::{Found, Record};
use crate::shared::Shared;
use crate::store::{Entry, PlanKey, Shelf};

/// Knows what is already written, and says what is not.
#[derive(Default)]
pub struct SaveQueue {
    known: BTreeMap<PlanKey, Known>,
}

struct Known {
    number: u64,
    state: State,
}

#[derive(PartialEq)]
enum State {
    Plan(Shared<Plan>),
    /// On the shelf, but not as it is stored.
    Stale,
    /// Text that is no plan: left as it is.
    Damaged,
    Gone,
}

/// One state to be written.
#[derive(Clone, Debug)]
pub struct Job {
    /// Of which plan.
    pub key: PlanKey,
    /// The number that it follows.
    pub after: u64,
    /// What to write.
    pub record: Record,
    /// The plan in it; none where it is deleted.
    pub plan: Option<Shared<Plan>>,
}

impl SaveQueue {
    /// A queue of what was just found.
    pub fn of(found: &Found) -> Self {
        let known = found.numbers.iter().map(|(key, number)| {
            let entry = found.shelf.iter().find(|e| e.key == *key);
            let state = match entry.map(Entry::track) {
                None => State::Gone,
                Some(None) => State::Damaged,
                Some(Some(_)) if found.uneven.contains(key) => State::Stale,
                Some(Some(track)) => State::Plan(track.plan.clone()),
            };
            let number = *number;
            (key.clone(), Known { number, state })
        });
        Self {
            known: known.collect(),
        }
    }

    /// The number of a plan's last state that is known here.
    pub fn number(&self, key: &PlanKey) -> u64 {
        self.known.get(key).map_or(0, |k| k.number)
    }

    /// Another window has written this.
    pub fn seen(&mut self, entry: &Entry, number: u64) {
        let state = match entry.track() {
            Some(track) => State::Plan(track.plan.clone()),
            None => State::Damaged,
        };
        self.known
            .insert(entry.key.clone(), Known { number, state });
    }

    /// Another window has deleted this.
    pub fn seen_gone(&mut self, key: &PlanKey, number: u64) {
        let state = State::Gone;
        self.known.insert(key.clone(), Known { number, state });
    }

    /// This was written.
    pub fn done(&mut self, job: &Job) {
        let state = job.plan.clone().map_or(State::Gone, State::Plan);
        let number = job.record.number;
        self.known.insert(job.key.clone(), Known { number, state });
    }

    /// Whether everything on the shelf is written and nothing else.
    pub fn is_done(&self, shelf: &Shelf) -> bool {
        self.changed(shelf).next().is_none() && self.gone(shelf).next().is_none()
    }

    /// What has to be written. What is gone comes first: it may make the room that the rest needs.
    ///
    /// # Errors
    /// Words of the first plan that no file can hold, with what can be written all the same.
    pub fn due(&self, shelf: &Shelf, now_ms: f64) -> (Vec<Job>, Result<(), String>) {
        let job = |key: &PlanKey, text: String, plan| {
            let after = self.number(key);
            Job {
                key: key.clone(),
                after,
                record: Record {
                    number: after + 1,
                    at_ms: now_ms,
                    text,
                },
                plan,
            }
        };
        let mut jobs: Vec<Job> = self
            .gone(shelf)
            .map(|k| job(k, String::new(), None))
            .collect();
        let mut refused = Ok(());
        for (key, plan) in self.changed(shelf) {
            match planfile::write(plan) {
                Ok(text) => jobs.push(job(key, text, Some(plan.clone()))),
                Err(error) => refused = Err(error.to_string()),
            }
        }
        (jobs, refused)
    }

    fn changed<'a>(
        &'a self,
        shelf: &'a Shelf,
    ) -> impl Iterator<Item = (&'a PlanKey, &'a Shared<Plan>)> {
        shelf.iter().filter_map(|entry| {
            let plan = &entry.track()?.plan;
            let known = self.known.get(&entry.key);
            let same = known.is_some_and(|k| matches!(&k.state, State::Plan(p) if p == plan));
            (!same).then_some((&entry.key, plan))
        })
    }

    fn gone<'a>(&'a self, shelf: &'a Shelf) -> impl Iterator<Item = &'a PlanKey> {
        let there = self.known.iter().filter(|(_, k)| k.state != State::Gone);
        there
            .map(|(key, _)| key)
            .filter(|key| shelf.iter().all(|e| e.key != **key))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::storage::recover;

    fn shelf(titles: &[&str]) -> Shelf {
        let entry = |t: &&str| Entry::of(PlanKey::from((*t).to_lowercase()), Plan::empty(*t));
        titles.iter().map(entry).collect()
    }

    fn keep(queue: &mut SaveQueue, shelf: &Shelf, now_ms: f64) -> Vec<Job> {
        let (jobs, refused) = queue.due(shelf, now_ms);
        refused.unwrap();
        jobs.iter().for_each(|job| queue.done(job));
        jobs
    }

    /// The slots as the jobs leave them.
    fn slots(jobs: &[Job]) -> Vec<(String, String)> {
        let slot = |j: &Job| {
            (
                format!("{}/{}", j.key, j.record.number % 2),
                j.record.write(),
            )
        };
        jobs.iter().map(slot).collect()
    }

    #[test]
    fn what_is_kept_is_found_again_newest_first() {
        let mut queue = SaveQueue::default();
        let mut all = shelf(&["A"]);
        let mut jobs = keep(&mut queue, &all, 10.0);
        all.extend(shelf(&["B"]));
        jobs.extend(keep(&mut queue, &all, 20.0));
        assert!(queue.is_done(&all));
        let found = recover(&[], &slots(&jobs));
        let seen: Vec<_> = found
            .shelf
            .iter()
            .map(|e| (e.title(), e.changed_ms))
            .collect();
        assert_eq!(seen, [("B", 20.0), ("A", 10.0)]);
    }

    #[test]
    fn only_what_changed_is_written_and_what_is_gone_is_marked_so() {
        let mut queue = SaveQueue::default();
        let all = shelf(&["A", "B"]);
        assert_eq!(keep(&mut queue, &all, 1.0).len(), 2);
        assert!(keep(&mut queue, &all, 2.0).is_empty());
        let jobs = keep(&mut queue, &all[..1].to_vec(), 3.0);
        assert!(
            matches!(jobs.as_slice(), [job] if job.key == "b" && job.record.is_gone() && job.record.number == 2)
        );
        assert!(queue.is_done(&all[..1].to_vec()));
        let again = keep(&mut queue, &all, 4.0);
        assert_eq!(again[0].record.number, 3, "numbers go on after a deletion");
    }

    #[test]
    fn a_damaged_text_is_left_alone_until_it_is_deleted() {
        let found = recover(&[("x".into(), "{ not a plan".into())], &[]);
        let mut queue = SaveQueue::of(&found);
        assert!(keep(&mut queue, &found.shelf, 1.0).is_empty());
        assert!(keep(&mut queue, &Vec::new(), 2.0)[0].record.is_gone());
    }

    #[test]
    fn what_failed_is_due_again() {
        let queue = SaveQueue::default();
        let all = shelf(&["A"]);
        assert_eq!(queue.due(&all, 1.0).0.len(), 1);
        assert!(!queue.is_done(&all));
    }

    #[test]
    fn uneven_copies_are_written_anew() {
        let plain = planfile::write(&Plan::empty("Old")).unwrap();
        let found = recover(&[("old".into(), plain)], &[]);
        let mut queue = SaveQueue::of(&found);
        assert_eq!(keep(&mut queue, &found.shelf, 5.0)[0].record.number, 1);
        assert!(queue.is_done(&found.shelf));
    }
}
