//! Keeps every change shortly after it is made, and at once when the page goes out of sight; follows other windows.

use std::cell::RefCell;
use std::rc::Rc;

use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use gloo::utils::{document, window};
use yew::platform::spawn_local;
use yew::prelude::*;

use super::indexed_db::Written;
use super::tab_lock::Heard;
use super::{
    BrowserStorage, Found, Job, Record, SaveQueue, entry_of, indexed_db, key_of, recover, tab_lock,
    to_forget,
};
use crate::shared::Shared;
use crate::store::{Action, AppState, PlanKey, SaveState, Store, use_plan, use_shelf, use_store};

/// From a change to its writing, milliseconds. Not put off by further changes; the writing itself takes a few more.
const WAIT_MS: u32 = 60;
/// After a refusal, the next try, milliseconds.
const AGAIN_MS: u32 = 3000;
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
    let (slots, refused) = match indexed_db::read().await {
        Ok(slots) => (slots, None),
        Err(said) => (Vec::new(), Some(said)),
    };
    Start {
        found: recover(&local, &slots),
        refused,
    }
}

impl Start {
    /// The store at the start.
    pub fn state(&self) -> AppState {
        AppState::starting(self.found.shelf.clone())
    }
}

/// The queue, the timer that wakes it, and whether it is at work.
struct Desk {
    queue: RefCell<SaveQueue>,
    timer: RefCell<Option<Timeout>>,
    busy: RefCell<bool>,
    /// Another window waits for the plan until all is written.
    giving: RefCell<bool>,
    written: RefCell<u32>,
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
                timer: RefCell::default(),
                busy: RefCell::default(),
                giving: RefCell::default(),
                written: RefCell::default(),
                store,
            })
        })
    };
    {
        let desk = Rc::clone(&desk);
        use_effect_with(shelf, move |_| wake(&desk, WAIT_MS));
    }
    let open = use_plan().map(|open| open.key);
    use_effect_with(open, |open| tab_lock::show(open.as_deref()));
    use_effect_with((), move |()| {
        let listeners = listen(&desk);
        move || drop(listeners)
    });
    Html::default()
}

/// Sets the timer, where there is something to write and none is set.
fn wake(desk: &Rc<Desk>, wait_ms: u32) {
    let shelf = desk.store.read(|s| s.shelf.clone());
    let idle = desk.timer.borrow().is_none() && !*desk.busy.borrow();
    if idle && !desk.queue.borrow().is_done(&shelf) {
        let later = Rc::clone(desk);
        let timer = Timeout::new(wait_ms, move || keep(&later));
        desk.timer.replace(Some(timer));
    }
}

/// Writes what is due: into local storage at once, then into the database.
fn keep(desk: &Rc<Desk>) {
    desk.timer.replace(None);
    if *desk.busy.borrow() {
        return;
    }
    let shelf = desk.store.read(|s| s.shelf.clone());
    let now_ms = js_sys::Date::now();
    let (jobs, refused) = desk.queue.borrow().due(&shelf, now_ms);
    if jobs.is_empty() && refused.is_ok() {
        hand_over(desk);
        return;
    }
    desk.busy.replace(true);
    let local: Vec<Result<(), String>> = jobs.iter().map(write_local).collect();
    let desk = Rc::clone(desk);
    spawn_local(async move {
        let mut put_by = false;
        let mut said = refused.map_err(SaveState::failed);
        for (job, local) in jobs.iter().zip(local) {
            let safe = indexed_db::write(job).await;
            if let Ok(Written::Newer(newer)) = safe {
                foreign(&desk, &job.key, &newer);
                // Local storage may have taken what the database did not; where it refuses, the number decides at the start.
                let _ = write_plain(&job.key, &newer);
                continue;
            }
            put_by |= matches!(safe, Ok(Written::Done { put_by: true }));
            match (safe, local) {
                (Ok(_), _) => {}
                (Err(why), Ok(())) => said = Err(SaveState::Half(now_ms, why.into())),
                (Err(_), Err(why)) => {
                    said = Err(SaveState::failed(why));
                    continue;
                }
            }
            desk.queue.borrow_mut().done(job);
            tab_lock::say_wrote(&job.key, &job.record.write());
        }
        let keys: Vec<PlanKey> = jobs.iter().map(|j| j.key.clone()).collect();
        let failed = matches!(said, Err(SaveState::Failed(_)));
        desk.busy.replace(false);
        desk.store.send(Action::Stamp(keys, now_ms));
        desk.store
            .send(Action::Saved(said.err().unwrap_or(SaveState::Kept(now_ms))));
        *desk.written.borrow_mut() += 1;
        if *desk.written.borrow() == WORTH_KEEPING {
            indexed_db::persist().await;
        }
        // What was changed meanwhile.
        wake(&desk, if failed { AGAIN_MS } else { WAIT_MS });
        hand_over(&desk);
        if put_by {
            thin().await;
        }
    });
}

/// Local storage is the second copy and the only one where there is no database.
fn write_local(job: &Job) -> Result<(), String> {
    write_plain(&job.key, &job.record)
}

fn write_plain(key: &PlanKey, record: &Record) -> Result<(), String> {
    let place = BrowserStorage::open();
    if record.is_gone() {
        place.remove(&key_of(key));
        return Ok(());
    }
    place.set(&key_of(key), &record.write())
}

/// Forgets earlier states beyond the share.
async fn thin() {
    let Ok(names) = indexed_db::past_names().await else {
        return;
    };
    let quota = indexed_db::room().await.quota;
    let gone = to_forget(&names, js_sys::Date::now(), quota);
    if !gone.is_empty() {
        // The next time is soon enough.
        let _ = indexed_db::past_drop(&gone).await;
    }
}

fn listen(desk: &Rc<Desk>) -> impl Sized + use<> {
    let on_leave = || {
        let desk = Rc::clone(desk);
        move |_: &Event| keep(&desk)
    };
    let hearing = Rc::clone(desk);
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
                // What the other window wrote last may still be on its way here.
                if let Ok(Some(latest)) = indexed_db::latest(&key).await {
                    foreign(&desk, &key, &latest);
                }
                desk.store.send(Action::Follows(key, false));
            });
        }
        Heard::Give => {
            desk.giving.replace(true);
            keep(desk);
        }
        Heard::Wrote(key, whole) => {
            if let Some(record) = Record::read(&whole) {
                foreign(desk, &PlanKey::from(key), &record);
            }
        }
    }
}

/// Another window has written this state: if it is newer than what is known here, it counts here too.
fn foreign(desk: &Rc<Desk>, key: &PlanKey, record: &Record) {
    if record.number <= desk.queue.borrow().number(key) {
        return;
    }
    if record.is_gone() {
        desk.queue.borrow_mut().seen_gone(key, record.number);
        desk.store.send(Action::ForeignGone(key.clone()));
        return;
    }
    let entry = entry_of(key, record);
    desk.queue.borrow_mut().seen(&entry, record.number);
    desk.store.send(Action::Foreign(Box::new(entry)));
}

/// Once all is written, the window that asked gets the plan.
fn hand_over(desk: &Rc<Desk>) {
    let shelf = desk.store.read(|s| s.shelf.clone());
    if *desk.giving.borrow() && desk.queue.borrow().is_done(&shelf) {
        desk.giving.replace(false);
        tab_lock::give();
    }
}
