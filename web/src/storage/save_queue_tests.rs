//! The queue against places that hang, delay, refuse and come back, and a browser that is killed.

use super::*;
use crate::storage::recover;

fn key(title: &str) -> PlanKey {
    PlanKey::from(title.to_lowercase())
}

fn shelf(titles: &[&str]) -> Shelf {
    let entry = |t: &&str| Entry::of(key(t), Plan::empty(*t));
    titles.iter().map(entry).collect()
}

/// What the database does with a write.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Fault {
    /// Done after so many milliseconds.
    Takes(f64),
    /// Never answers: the limit of the call ends it, and nothing was written.
    Hangs,
    /// The same, but it was written in the end.
    HangsAfterwards,
    Refuses,
}

const LIMIT_MS: f64 = 3000.0;
const AGAIN_MS: f64 = 3000.0;

/// A browser in which nothing happens by itself: local storage, the database, and the page that drives the queue as `autosave` does.
struct Browser {
    queue: SaveQueue,
    shelf: Shelf,
    local: BTreeMap<String, String>,
    local_full: bool,
    slots: BTreeMap<String, Vec<Record>>,
    fault: Fault,
    now_ms: f64,
    /// The write under way, what happens to it, and since when.
    under_way: Option<(Job, Fault, f64)>,
    again_ms: Option<f64>,
}

impl Browser {
    fn new(fault: Fault) -> Self {
        Self {
            queue: SaveQueue::default(),
            shelf: Vec::new(),
            local: BTreeMap::new(),
            local_full: false,
            slots: BTreeMap::new(),
            fault,
            now_ms: 1000.0,
            under_way: None,
            again_ms: None,
        }
    }

    fn show(&mut self, shelf: Shelf) {
        self.shelf = shelf;
        let jobs = self.queue.take(&self.shelf, self.now_ms);
        jobs.iter().for_each(|job| self.local(job));
        self.disk();
    }

    fn edit(&mut self, note: u32) {
        let mut plan = Plan::empty("A");
        plan.note = note.to_string();
        self.show(vec![Entry::of(key("a"), plan)]);
    }

    fn local(&mut self, job: &Job) {
        let answer = if self.local_full {
            Err("full".to_owned())
        } else {
            self.local.insert(job.key.to_string(), job.record.write());
            Ok(())
        };
        self.queue.local_answered(job, answer, self.now_ms);
    }

    fn disk(&mut self) {
        if let Some(job) = self.queue.next_for_disk() {
            self.under_way = Some((job, self.fault, self.now_ms));
        }
        if self.queue.is_resting() && self.again_ms.is_none() {
            self.again_ms = Some(self.now_ms + AGAIN_MS);
        }
    }

    /// Compares and writes, as `static/indexed_db.js` does.
    fn commit(&mut self, job: &Job) -> Option<Record> {
        let slots = self.slots.entry(job.key.to_string()).or_default();
        slots.sort_by_key(|r| r.number);
        match slots.last() {
            Some(there) if there.number > job.after => return Some(there.clone()),
            _ => slots.push(job.record.clone()),
        }
        if slots.len() > 2 {
            slots.remove(0);
        }
        None
    }

    fn wait(&mut self, ms: u32) {
        for _ in 0..ms {
            self.now_ms += 1.0;
            if let Some((job, fault, began_ms)) = self.under_way.take() {
                let (written, heard) = match fault {
                    Fault::Takes(ms) => (Some(ms), ms),
                    Fault::Hangs => (None, LIMIT_MS),
                    Fault::HangsAfterwards => (Some(LIMIT_MS), LIMIT_MS),
                    Fault::Refuses => (None, 0.0),
                };
                if began_ms + heard > self.now_ms {
                    self.under_way = Some((job, fault, began_ms));
                } else {
                    let newer = written.and_then(|_| self.commit(&job));
                    let answer = match fault {
                        Fault::Takes(_) => Ok(newer),
                        _ => Err("no answer".to_owned()),
                    };
                    let foreign = self.queue.disk_answered(&job, answer, self.now_ms);
                    assert_eq!(foreign, None, "nobody else is here");
                    self.disk();
                }
            }
            if self.again_ms.is_some_and(|at| at <= self.now_ms) {
                self.again_ms = None;
                let jobs = self.queue.again();
                jobs.iter().for_each(|job| self.local(job));
                self.disk();
            }
        }
    }

    fn stored(&self, with_local: bool) -> Found {
        let local = self.local.clone().into_iter().filter(|_| with_local);
        let slots = self.slots.iter().flat_map(|(key, records)| {
            let one = |(n, r): (usize, &Record)| (format!("{key}/{n}"), r.write());
            records.iter().enumerate().map(one).collect::<Vec<_>>()
        });
        recover(&local.collect::<Vec<_>>(), &slots.collect::<Vec<_>>())
    }

    /// The note of the plan after a start; 0 where there is none.
    fn note(&self, with_local: bool) -> u32 {
        let found = self.stored(with_local);
        let plan = found.shelf.first().and_then(Entry::track);
        plan.map_or(0, |d| d.plan.note.parse().unwrap())
    }
}

#[test]
fn what_is_kept_is_found_again_newest_first() {
    let mut browser = Browser::new(Fault::Takes(5.0));
    browser.show(shelf(&["A"]));
    browser.wait(20);
    let mut both = browser.shelf.clone();
    both.extend(shelf(&["B"]));
    browser.show(both);
    browser.wait(20);
    assert!(browser.queue.is_done(&browser.shelf));
    for with_local in [true, false] {
        let found = browser.stored(with_local);
        let titles: Vec<_> = found.shelf.iter().map(Entry::title).collect();
        assert_eq!(titles, ["B", "A"]);
    }
}

#[test]
fn only_what_changed_is_written_and_what_is_gone_is_marked_so() {
    let mut queue = SaveQueue::default();
    let all = shelf(&["A", "B"]);
    assert_eq!(queue.take(&all, 1.0).len(), 2);
    assert!(queue.take(&all, 2.0).is_empty());
    let jobs = queue.take(&all[..1].to_vec(), 3.0);
    assert!(
        matches!(jobs.as_slice(), [job] if job.key == "b" && job.record.is_gone() && job.record.number == 2)
    );
    assert_eq!(queue.next_for_disk().unwrap().key, "b", "room comes first");
    let again = queue.take(&all, 4.0);
    assert_eq!(again[0].record.number, 3, "numbers go on after a deletion");
}

#[test]
fn a_damaged_text_is_left_alone_until_it_is_deleted() {
    let found = recover(&[("x".into(), "{ not a plan".into())], &[]);
    let mut queue = SaveQueue::of(&found);
    assert!(queue.take(&found.shelf, 1.0).is_empty());
    assert!(queue.take(&Vec::new(), 2.0)[0].record.is_gone());
}

#[test]
fn uneven_copies_are_written_anew() {
    let plain = planfile::write(&Plan::empty("Old")).unwrap();
    let found = recover(&[("old".into(), plain)], &[]);
    let mut queue = SaveQueue::of(&found);
    assert_eq!(queue.take(&found.shelf, 5.0)[0].record.number, 1);
    // A deletion that only local storage has heard of too: the database still has the plan.
    let gone = Record {
        number: 9,
        at_ms: 1.0,
        text: String::new(),
    };
    let old = Record {
        number: 8,
        text: planfile::write(&Plan::empty("Old")).unwrap(),
        ..gone
    };
    let found = recover(
        &[("old".into(), gone.write())],
        &[("old/0".into(), old.write())],
    );
    let jobs = SaveQueue::of(&found).take(&found.shelf, 5.0);
    assert!(jobs[0].record.is_gone() && jobs[0].record.number == 10);
}

#[test]
fn local_storage_has_every_edit_at_once_whatever_the_database_does() {
    let faults = [
        Fault::Takes(2000.0),
        Fault::Hangs,
        Fault::HangsAfterwards,
        Fault::Refuses,
    ];
    for fault in faults {
        let mut browser = Browser::new(fault);
        for n in 1..=8 {
            browser.edit(n);
            assert_eq!(browser.note(true), n, "{fault:?}");
            browser.wait(2000);
            assert_eq!(browser.note(true), n, "{fault:?}, later");
        }
        let state = browser.queue.state();
        match fault {
            Fault::Takes(_) => assert!(matches!(state, SaveState::Kept(_)), "{state:?}"),
            _ => assert!(matches!(state, SaveState::Half(..)), "{state:?}"),
        }
        // It answers again: the newest state is written with no further edit, whatever was written late.
        browser.fault = Fault::Takes(5.0);
        browser.wait(10_000);
        assert_eq!(browser.note(false), 8, "{fault:?}");
        assert!(matches!(browser.queue.state(), SaveState::Kept(_)));
        assert!(browser.queue.is_done(&browser.shelf));
    }
}

#[test]
fn a_change_made_while_a_write_hangs_is_tried_as_soon_as_that_is_given_up() {
    let mut browser = Browser::new(Fault::Hangs);
    browser.edit(1);
    browser.wait(100);
    browser.edit(2);
    browser.fault = Fault::Takes(5.0);
    browser.wait(2950);
    assert_eq!(browser.note(false), 2);
}

#[test]
fn a_slow_database_is_never_more_than_two_writes_behind() {
    let mut browser = Browser::new(Fault::Takes(40.0));
    let mut made = Vec::new();
    for n in 1..=300 {
        browser.edit(n);
        made.push((n, browser.now_ms));
        browser.wait(7);
        let there = browser.note(false);
        let lost = made.iter().find(|(n, _)| *n > there);
        let age = lost.map_or(0.0, |(_, at)| browser.now_ms - at);
        assert!(age <= 80.0, "{age} ms");
    }
}

#[test]
fn nothing_is_called_stored_that_is_not() {
    let mut browser = Browser::new(Fault::Hangs);
    browser.edit(1);
    assert_eq!(browser.queue.state(), SaveState::Pending, "no answer yet");
    browser.local_full = true;
    browser.edit(2);
    browser.wait(3100);
    assert!(matches!(browser.queue.state(), SaveState::Failed(_)));
    browser.local_full = false;
    browser.wait(7000);
    assert!(matches!(browser.queue.state(), SaveState::Half(..)));
    assert_eq!(browser.note(true), 2);
}

#[test]
fn a_deletion_outlives_a_database_that_hangs() {
    let mut browser = Browser::new(Fault::Takes(1.0));
    browser.edit(1);
    browser.wait(10);
    browser.fault = Fault::Hangs;
    browser.show(Vec::new());
    assert!(browser.stored(true).shelf.is_empty());
    assert_eq!(browser.stored(true).deleted(), [key("a")]);
}

#[test]
fn another_windows_state_is_adopted_and_never_written_over() {
    let mut queue = SaveQueue::default();
    queue.take(&shelf(&["A"]), 1.0);
    let ours = queue.next_for_disk().unwrap();
    assert_eq!(queue.disk_answered(&ours, Ok(None), 1.0), None);
    // Two states of this window wait; another one has written a second state meanwhile.
    queue.take(&shelf(&["A"]), 2.0);
    queue.take(&shelf(&["A"]), 3.0);
    let ours = queue.next_for_disk().unwrap();
    assert_eq!((ours.after, ours.record.number), (1, 3));
    let theirs = Record {
        number: 2,
        at_ms: 9.0,
        text: planfile::write(&Plan::empty("Theirs")).unwrap(),
    };
    let foreign = queue.disk_answered(&ours, Ok(Some(theirs.clone())), 4.0);
    assert_eq!(foreign.as_ref(), Some(&theirs));
    let entry = crate::storage::entry_of(&key("A"), &theirs);
    queue.seen(&key("A"), Some(&entry), 2);
    // What counts now is theirs, under a number above ours: local storage has ours as number 3.
    let again = queue.take(&vec![entry], 5.0);
    assert_eq!((again[0].after, again[0].record.number), (2, 4));
    assert!(again[0].record.text.contains("Theirs"));
}

/// SplitMix64 by Steele, Lea and Flood 2014: runs that can be repeated.
fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[test]
fn faults_by_lot_lose_nothing_that_was_called_stored() {
    for seed in 0..40 {
        let mut random = seed;
        let mut browser = Browser::new(Fault::Takes(5.0));
        let mut made = 0;
        for _ in 0..60 {
            if browser.under_way.is_none() {
                browser.fault = match next(&mut random) % 6 {
                    0 => Fault::Hangs,
                    1 => Fault::HangsAfterwards,
                    2 => Fault::Refuses,
                    n => Fault::Takes(f64::from(u32::try_from(n).unwrap()) * 30.0),
                };
            }
            browser.local_full = next(&mut random).is_multiple_of(4);
            made += 1;
            browser.edit(made);
            browser.wait(u32::try_from(next(&mut random) % 400).unwrap());
            match browser.queue.state() {
                SaveState::Kept(_) => assert_eq!(browser.note(false), made, "seed {seed}"),
                SaveState::Half(..) => assert_eq!(browser.note(true), made, "seed {seed}"),
                _ => {}
            }
        }
        browser.local_full = false;
        browser.wait(4000);
        browser.fault = Fault::Takes(5.0);
        browser.wait(10_000);
        assert_eq!(browser.note(false), made, "seed {seed}");
    }
}
