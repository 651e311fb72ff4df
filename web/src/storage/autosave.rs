//! Writes every change into local storage as it is made, then into the database; follows other windows.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use gloo::utils::{document, window};
use yew::platform::spawn_local;
use yew::prelude::*;

use super::indexed_db::Written;
use super::tab_lock::Heard;
use super::{
    BrowserStorage, Found, Job, Record, SaveQueue, drafts, entry_of, indexed_db, key_of, recover,
    tab_lock, to_forget,
};
use crate::shared::Shared;
use crate::store::{
    Action, AppState, PlanKey, SaveState, Store, after_actions, use_plan, use_shelf, use_store,
};

/// After a refusal, the next try, milliseconds: soon where nothing has taken the plan, later where local storage has.
const AGAIN_MS: u32 = 3000;
const AGAIN_HALF_MS: u32 = 30_000;
/// So long after the last change all is put on the disk, milliseconds. Not at each change: the next one would have to wait for the disk.
const SETTLE_MS: u32 = 1000;
/// So long after taking a plan over, what its window wrote last is looked for once more, milliseconds.
const LATE_MS: u32 = 300;
/// So many states written in one sitting are worth asking the browser to keep them when room gets short.
const WORTH_KEEPING: u32 = 20;

/// What the start found.
pub struct Start {
    /// The plans.
    pub found: Found,
    /// Why the database could not be read, in words.
    pub refused: Option<String>,
}

/// Reads what is kept in this browser.
pub async fn begin() -> Start {
    let local = BrowserStorage::open().plans();
    let typed = indexed_db::drafts();
    let (slots, refused) = match indexed_db::read().await {
        Ok(slots) => (slots, None),
        Err(said) => (Vec::new(), Some(said)),
    };
    drafts::begin(typed.await);
    Start {
        found: recover(&local, &slots),
        refused,
    }
}

impl Start {
    /// The store at the start.
    pub fn state(&self) -> AppState {
        AppState {
            spent: Shared::new(self.found.deleted()),
            ..AppState::starting(self.found.shelf.clone())
        }
    }
}

/// The queue and what it waits for.
struct Desk {
    queue: RefCell<SaveQueue>,
    again: RefCell<Option<Timeout>>,
    settle: RefCell<Option<Timeout>>,
    /// Another window waits for the plan until all is written.
    giving: Cell<bool>,
    written: Cell<u32>,
    start: Shared<Start>,
    store: Store,
}

/// Props of [`Autosave`].
#[derive(PartialEq, Properties)]
pub struct AutosaveProps {
    /// What the start found.
    pub start: Shared<Start>,
}

/// Shows nothing; must stand under the store's provider.
#[component]
pub fn Autosave(props: &AutosaveProps) -> Html {
    let store = use_store();
    let shelf = use_shelf();
    let desk = {
        let start = props.start.clone();
        use_memo((), move |()| {
            Rc::new(Desk {
                queue: RefCell::new(SaveQueue::of(&start.found)),
                again: RefCell::default(),
                settle: RefCell::default(),
                giving: Cell::default(),
                written: Cell::default(),
                start,
                store,
            })
        })
    };
    {
        let desk = Rc::clone(&desk);
        use_effect_with(shelf, move |_| keep(&desk));
    }
    let open = use_plan().map(|open| open.key);
    use_effect_with(open, |open| tab_lock::show(open.as_deref()));
    use_effect_with((), move |()| {
        let listeners = listen(&desk);
        move || {
            after_actions(None);
            drop(listeners);
        }
    });
    Html::default()
}

/// Writes what has changed: into local storage before anything else is done, into the database as soon as that is free.
fn keep(desk: &Rc<Desk>) {
    let shelf = desk.store.read(|s| s.shelf.clone());
    let now_ms = js_sys::Date::now();
    let jobs = desk.queue.borrow_mut().take(&shelf, now_ms);
    for job in &jobs {
        keep_local(desk, job, now_ms);
    }
    to_disk(desk);
    if !jobs.is_empty() {
        report(desk);
    }
}

/// Local storage has it before the next line runs, and so have the windows that follow. It outlives the page, but not always the browser.
fn keep_local(desk: &Desk, job: &Job, now_ms: f64) {
    let whole = job.record.write();
    let answer = BrowserStorage::open().set(&key_of(&job.key), &whole);
    let mut queue = desk.queue.borrow_mut();
    queue.local_answered(job, answer, now_ms);
    tab_lock::say_wrote(&job.key, &whole);
}

/// Has the database write, one state after the other, until nothing is due.
fn to_disk(desk: &Rc<Desk>) {
    let Some(mut job) = desk.queue.borrow_mut().next_for_disk() else {
        return;
    };
    let desk = Rc::clone(desk);
    desk.settle.replace(None);
    spawn_local(async move {
        let mut put_by = false;
        loop {
            put_by |= write(&desk, &job).await;
            let next = desk.queue.borrow_mut().next_for_disk();
            match next {
                Some(next) => job = next,
                None => break,
            }
        }
        report(&desk);
        hand_over(&desk);
        desk.written.set(desk.written.get() + 1);
        if desk.written.get() == WORTH_KEEPING {
            indexed_db::persist().await;
        }
        if put_by {
            thin(&desk).await;
        }
    });
}

/// Writes one state; whether an earlier one was put by.
async fn write(desk: &Rc<Desk>, job: &Job) -> bool {
    let answer = indexed_db::write(job).await;
    let put_by = matches!(answer, Ok(Written::Done { put_by: true }));
    let answer = answer.map(|written| match written {
        Written::Done { .. } => None,
        Written::Newer(there) => Some(there),
    });
    let written = matches!(answer, Ok(None));
    let now_ms = js_sys::Date::now();
    let newer = desk.queue.borrow_mut().disk_answered(job, answer, now_ms);
    if let Some(newer) = newer {
        adopt(desk, &job.key, &newer);
        // Local storage may have taken what the database did not; where it refuses, the number decides at the start.
        let _ = BrowserStorage::open().set(&key_of(&job.key), &newer.write());
    }
    if written {
        if job.record.is_gone() && desk.queue.borrow().number(&job.key) == job.record.number {
            BrowserStorage::open().remove(&key_of(&job.key));
        }
        let keys = vec![job.key.clone()];
        desk.store.send(Action::Stamp(keys, job.record.at_ms));
        let key = job.key.clone();
        let timer = Timeout::new(SETTLE_MS, move || {
            spawn_local(async move { indexed_db::settle(&key).await });
        });
        desk.settle.replace(Some(timer));
    }
    put_by
}

/// Says how the keeping goes, and tries again later what was refused.
fn report(desk: &Rc<Desk>) {
    let (state, resting) = {
        let queue = desk.queue.borrow();
        (queue.state(), queue.is_resting())
    };
    let wait_ms = match state {
        SaveState::Failed(_) => AGAIN_MS,
        _ => AGAIN_HALF_MS,
    };
    if desk.store.read(|s| s.save != state) {
        desk.store.send(Action::Saved(state));
    }
    if resting && desk.again.borrow().is_none() {
        let later = Rc::clone(desk);
        let timer = Timeout::new(wait_ms, move || {
            later.again.replace(None);
            let jobs = later.queue.borrow_mut().again();
            let now_ms = js_sys::Date::now();
            jobs.iter().for_each(|job| keep_local(&later, job, now_ms));
            to_disk(&later);
        });
        desk.again.replace(Some(timer));
    }
}

/// Forgets earlier states beyond the share.
async fn thin(desk: &Desk) {
    let Ok(names) = indexed_db::past_names().await else {
        return;
    };
    let quota = indexed_db::room().await.quota;
    let shelf = desk.store.read(|s| s.shelf.clone());
    // What was deleted since the start is not old enough to matter; what came back is not gone.
    let gone_ms = |plan: &str| {
        let back = shelf.iter().any(|e| e.key == *plan);
        desk.start
            .found
            .gone_ms
            .get(plan)
            .copied()
            .filter(|_| !back)
    };
    let gone = to_forget(&names, gone_ms, js_sys::Date::now(), quota);
    if !gone.is_empty() {
        // The next time is soon enough.
        let _ = indexed_db::past_drop(&gone).await;
    }
}

fn listen(desk: &Rc<Desk>) -> impl Sized + use<> {
    let on_leave = || {
        let desk = Rc::clone(desk);
        move |_: &Event| {
            keep(&desk);
            drafts::keep();
        }
    };
    let (hearing, acting, typing) = (Rc::clone(desk), Rc::clone(desk), desk.store.clone());
    after_actions(Some(Callback::from(move |()| keep(&acting))));
    drafts::listen(move |state| typing.send(Action::Typing(state)));
    (
        EventListener::new(&window(), "pagehide", on_leave()),
        EventListener::new(&document(), "visibilitychange", on_leave()),
        tab_lock::listen(move |heard| hear(&hearing, heard)),
    )
}

fn hear(desk: &Rc<Desk>, heard: Heard) {
    match heard {
        Heard::Follows(key) => desk.store.send(Action::Follows(key.into(), true)),
        Heard::Edits(key) => {
            let desk = Rc::clone(desk);
            spawn_local(async move {
                let key = PlanKey::from(key);
                look_again(&desk, &key).await;
                desk.store.send(Action::Follows(key.clone(), false));
                // What the other window wrote as it was closed may still be on its way here.
                let late = move || spawn_local(async move { look_again(&desk, &key).await });
                Timeout::new(LATE_MS, late).forget();
            });
        }
        Heard::Give => {
            desk.giving.set(true);
            keep(desk);
            hand_over(desk);
        }
        Heard::Wrote(key, whole) => {
            if let Some(record) = Record::read(&whole) {
                foreign(desk, &PlanKey::from(key), &record);
            }
        }
    }
}

/// Looks in both places for what another window wrote.
async fn look_again(desk: &Rc<Desk>, key: &PlanKey) {
    let local = BrowserStorage::open().get(&key_of(key));
    if let Some(record) = local.and_then(|whole| Record::read(&whole)) {
        foreign(desk, key, &record);
    }
    if let Ok(Some(latest)) = indexed_db::latest(key).await {
        foreign(desk, key, &latest);
    }
}

/// Another window has written this state: if it is newer than what is known here, it counts here too.
fn foreign(desk: &Desk, key: &PlanKey, record: &Record) {
    if record.number > desk.queue.borrow().number(key) {
        adopt(desk, key, record);
    }
}

fn adopt(desk: &Desk, key: &PlanKey, record: &Record) {
    let entry = (!record.is_gone()).then(|| entry_of(key, record));
    let mut queue = desk.queue.borrow_mut();
    queue.seen(key, entry.as_ref(), record.number);
    drop(queue);
    desk.store.send(match entry {
        Some(entry) => Action::Foreign(Box::new(entry)),
        None => Action::ForeignGone(key.clone()),
    });
}

/// Once all is written, the window that asked gets the plan.
fn hand_over(desk: &Desk) {
    let shelf = desk.store.read(|s| s.shelf.clone());
    if desk.giving.get() && desk.queue.borrow().is_done(&shelf) {
        desk.giving.set(false);
        tab_lock::give();
    }
}
