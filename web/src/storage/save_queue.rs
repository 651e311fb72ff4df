//! What is due to be written where, and under which number. Every state goes into local storage at once; the database gets the newest
//! as soon as it has answered for the one before. No clock, no page: what the two places say is told to it.

use std::collections::BTreeMap;

use lodewright_planner::kit::Plan;
use lodewright_planner::planfile;

use super::{Found, Record};
use crate::shared::Shared;
use crate::store::{Entry, PlanKey, SaveState, Shelf};

/// Knows what is written where, and says what is not.
#[derive(Default)]
pub struct SaveQueue {
    plans: BTreeMap<PlanKey, Kept>,
    /// The database has not answered for a write yet.
    writing: bool,
    /// It refused the last one: it is asked again later, or when something changes.
    resting: bool,
    /// Something has changed since it was asked last.
    fresh: bool,
    /// Words of a plan that no file can hold.
    unfit: Option<String>,
    kept_ms: Option<f64>,
}

/// The newest state of a plan.
struct Kept {
    number: u64,
    content: Content,
    /// To be written, until the database has it.
    record: Option<Record>,
    local: Place,
    /// The newest number that the database is known to have.
    disk_number: u64,
    disk: Place,
    /// Writes that the database did not answer and may have made all the same: number and time.
    unanswered: Vec<(u64, f64)>,
}

#[derive(PartialEq)]
enum Content {
    Plan(Shared<Plan>),
    /// On the shelf or deleted, but not as it is stored.
    Stale,
    /// Text that is no plan: left as it is.
    Damaged,
    Gone,
}

/// What a place has of the newest state.
#[derive(Clone, PartialEq)]
enum Place {
    Holds,
    Lacks,
    /// Why it did not take it, in words.
    Refused(String),
}

/// One state to be written.
#[derive(Clone, Debug)]
pub struct Job {
    /// Of which plan.
    pub key: PlanKey,
    /// The number that it follows in the database.
    pub after: u64,
    /// What to write.
    pub record: Record,
}

impl Kept {
    fn stored(number: u64, content: Content) -> Self {
        Self {
            number,
            content,
            record: None,
            local: Place::Holds,
            disk_number: number,
            disk: Place::Holds,
            unanswered: Vec::new(),
        }
    }
}

impl SaveQueue {
    /// A queue that knows what was just found.
    pub fn of(found: &Found) -> Self {
        let known = found.numbers.iter().map(|(key, number)| {
            let entry = found.shelf.iter().find(|e| e.key == *key);
            let content = match entry.map(Entry::track) {
                Some(None) => Content::Damaged,
                _ if found.uneven.contains(key) => Content::Stale,
                None => Content::Gone,
                Some(Some(track)) => Content::Plan(track.plan.clone()),
            };
            (key.clone(), Kept::stored(*number, content))
        });
        Self {
            plans: known.collect(),
            ..Self::default()
        }
    }

    /// The number of a plan's last state that is known here.
    pub fn number(&self, key: &PlanKey) -> u64 {
        self.plans.get(key).map_or(0, |k| k.number)
    }

    /// Another window has written this: a plan, or none where it deleted it.
    pub fn seen(&mut self, key: &PlanKey, entry: Option<&Entry>, number: u64) {
        let content = match entry.map(Entry::track) {
            None => Content::Gone,
            Some(None) => Content::Damaged,
            Some(Some(track)) => Content::Plan(track.plan.clone()),
        };
        let ours = self.number(key);
        let mut kept = Kept::stored(number, content);
        if ours > number {
            // States of this window that never reached the database count higher: what was seen is written again above them.
            kept.number = ours;
            kept.content = Content::Stale;
        }
        self.plans.insert(key.clone(), kept);
    }

    /// Takes in what has changed, and gives it to be written into local storage at once. What is gone comes first: it may make the
    /// room that the rest needs.
    pub fn take(&mut self, shelf: &Shelf, now_ms: f64) -> Vec<Job> {
        self.unfit = None;
        let gone: Vec<PlanKey> = self.gone(shelf).cloned().collect();
        let changed: Vec<(PlanKey, Shared<Plan>)> = self
            .changed(shelf)
            .map(|(key, plan)| (key.clone(), plan.clone()))
            .collect();
        let mut jobs = Vec::new();
        for key in gone {
            jobs.push(self.put(key, String::new(), Content::Gone, now_ms));
        }
        for (key, plan) in changed {
            match planfile::write(&plan) {
                Ok(text) => jobs.push(self.put(key, text, Content::Plan(plan), now_ms)),
                Err(error) => self.unfit = Some(error.to_string()),
            }
        }
        jobs
    }

    fn put(&mut self, key: PlanKey, text: String, content: Content, now_ms: f64) -> Job {
        (self.resting, self.fresh) = (false, true);
        let kept = self
            .plans
            .entry(key.clone())
            .or_insert_with(|| Kept::stored(0, Content::Stale));
        kept.number += 1;
        kept.content = content;
        kept.local = Place::Lacks;
        // Until it answers again, a place that refused is not waited for.
        if kept.disk == Place::Holds {
            kept.disk = Place::Lacks;
        }
        let record = Record {
            number: kept.number,
            at_ms: now_ms,
            text,
        };
        kept.record = Some(record.clone());
        Job {
            key,
            after: kept.disk_number,
            record,
        }
    }

    /// What local storage said to a state.
    pub fn local_answered(&mut self, job: &Job, answer: Result<(), String>, now_ms: f64) {
        if let Some(kept) = self.newest(job) {
            kept.local = answer.map_or_else(Place::Refused, |()| Place::Holds);
            let half = kept.local == Place::Holds && matches!(kept.disk, Place::Refused(_));
            if half {
                self.kept_ms = Some(now_ms);
            }
        }
    }

    /// What the database should write now: nothing while it is at work, or just after it refused.
    pub fn next_for_disk(&mut self) -> Option<Job> {
        if self.writing || self.resting {
            return None;
        }
        let waiting = |gone: bool| {
            let due = move |(key, kept): (&PlanKey, &Kept)| {
                let record = kept.record.clone().filter(|r| r.is_gone() == gone)?;
                Some(Job {
                    key: key.clone(),
                    after: kept.disk_number,
                    record,
                })
            };
            self.plans.iter().find_map(due)
        };
        let job = waiting(true).or_else(|| waiting(false))?;
        (self.writing, self.fresh) = (true, false);
        Some(job)
    }

    /// What the database said to it: written, or the newer state that stands in the way, or why not. Gives the newer state where it is
    /// not one of this window's own, written too late to be told.
    pub fn disk_answered(
        &mut self,
        job: &Job,
        answer: Result<Option<Record>, String>,
        now_ms: f64,
    ) -> Option<Record> {
        self.writing = false;
        let kept = self.plans.get_mut(&job.key)?;
        match answer {
            Ok(None) => {
                kept.disk_number = job.record.number;
                kept.unanswered.clear();
                kept.disk = Place::Lacks;
                if kept.number == job.record.number {
                    kept.disk = Place::Holds;
                    kept.record = None;
                }
                self.kept_ms = Some(now_ms);
                None
            }
            Ok(Some(there)) if kept.unanswered.contains(&(there.number, there.at_ms)) => {
                kept.disk_number = there.number;
                None
            }
            Ok(Some(newer)) => Some(newer),
            Err(why) => {
                kept.unanswered.push((job.record.number, job.record.at_ms));
                kept.disk = Place::Refused(why);
                self.resting = !self.fresh;
                if kept.local == Place::Holds {
                    self.kept_ms = Some(now_ms);
                }
                None
            }
        }
    }

    /// The time for another try has come: gives what local storage has not taken either.
    pub fn again(&mut self) -> Vec<Job> {
        self.resting = false;
        let untaken = |(key, kept): (&PlanKey, &Kept)| {
            let record = kept.record.clone().filter(|_| kept.local != Place::Holds)?;
            Some(Job {
                key: key.clone(),
                after: kept.disk_number,
                record,
            })
        };
        self.plans.iter().filter_map(untaken).collect()
    }

    /// Whether a refused write waits for another try.
    pub fn is_resting(&self) -> bool {
        self.resting
    }

    /// Whether everything on the shelf is written, as far as the places take it, and nothing else.
    pub fn is_done(&self, shelf: &Shelf) -> bool {
        let all = self.changed(shelf).next().is_none() && self.gone(shelf).next().is_none();
        all && !self.writing && self.state() != SaveState::Pending
    }

    /// How the keeping goes, all plans together.
    pub fn state(&self) -> SaveState {
        let waiting = || self.plans.values().filter(|k| k.record.is_some());
        let lost = waiting().find_map(|k| match (&k.local, &k.disk) {
            (Place::Refused(why), Place::Refused(_)) => Some(why),
            _ => None,
        });
        if let Some(why) = self.unfit.as_ref().or(lost) {
            return SaveState::failed(why.clone());
        }
        if waiting().any(|k| k.disk == Place::Lacks || k.local == Place::Lacks) {
            return SaveState::Pending;
        }
        let half = waiting().find_map(|k| match &k.disk {
            Place::Refused(why) => Some(why),
            _ => None,
        });
        match (self.kept_ms, half) {
            (Some(at_ms), Some(why)) => SaveState::Half(at_ms, why.clone().into()),
            (Some(at_ms), None) => SaveState::Kept(at_ms),
            (None, _) => SaveState::Idle,
        }
    }

    fn newest(&mut self, job: &Job) -> Option<&mut Kept> {
        let kept = self.plans.get_mut(&job.key)?;
        (kept.number == job.record.number).then_some(kept)
    }

    fn changed<'a>(
        &'a self,
        shelf: &'a Shelf,
    ) -> impl Iterator<Item = (&'a PlanKey, &'a Shared<Plan>)> {
        shelf.iter().filter_map(|entry| {
            let plan = &entry.track()?.plan;
            let known = self.plans.get(&entry.key);
            let same = known.is_some_and(|k| matches!(&k.content, Content::Plan(p) if p == plan));
            (!same).then_some((&entry.key, plan))
        })
    }

    fn gone<'a>(&'a self, shelf: &'a Shelf) -> impl Iterator<Item = &'a PlanKey> {
        let there = self
            .plans
            .iter()
            .filter(|(_, k)| k.content != Content::Gone);
        there
            .map(|(key, _)| key)
            .filter(|key| shelf.iter().all(|e| e.key != **key))
    }
}

#[cfg(test)]
#[path = "save_queue_tests.rs"]
mod tests;
