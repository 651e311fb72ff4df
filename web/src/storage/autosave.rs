//! Keeps every change shortly after it is made, and at once when the page goes out of sight.

use std::cell::RefCell;
use std::rc::Rc;

use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use gloo::utils::{document, window};
use wasm_bindgen::JsCast;
use web_sys::StorageEvent;
use yew::prelude::*;

use super::{BrowserStorage, Keeper, plan_of, read_entry};
use crate::store::{Action, SaveState, Store, use_shelf, use_store};

/// From a change to its keeping, milliseconds. Not put off by further changes.
const WAIT_MS: u32 = 250;

/// The keeper and the timer that wakes it.
struct Desk {
    keeper: Keeper,
    timer: Option<Timeout>,
}

/// Shows nothing; must stand under the store's provider.
#[component]
pub fn Autosave() -> Html {
    let store = use_store();
    let shelf = use_shelf();
    let desk = {
        let shelf = shelf.clone();
        use_memo((), move |()| {
            Rc::new(RefCell::new(Desk {
                keeper: Keeper::of(&shelf),
                timer: None,
            }))
        })
    };
    {
        let (desk, store) = (Rc::clone(&desk), store.clone());
        use_effect_with(shelf, move |shelf| {
            let idle = desk
                .try_borrow()
                .is_ok_and(|d| d.timer.is_none() && !d.keeper.is_done(shelf));
            if idle {
                let later = Rc::clone(&desk);
                let timer = Timeout::new(WAIT_MS, move || keep(&later, &store));
                if let Ok(mut desk) = desk.try_borrow_mut() {
                    desk.timer = Some(timer);
                }
            }
        });
    }
    use_effect_with((), move |()| {
        let listeners = listen(&desk, &store);
        move || drop(listeners)
    });
    Html::default()
}

fn keep(desk: &RefCell<Desk>, store: &Store) {
    let Ok(mut desk) = desk.try_borrow_mut() else {
        return;
    };
    desk.timer = None;
    let shelf = store.read(|s| s.shelf.clone());
    if desk.keeper.is_done(&shelf) {
        return;
    }
    let now_ms = js_sys::Date::now();
    let kept = desk
        .keeper
        .keep(&mut BrowserStorage::open(), &shelf, now_ms);
    // The store tells its listeners, of whom this desk is one: let go of it first.
    drop(desk);
    match kept {
        Ok(keys) => {
            store.send(Action::Stamp(keys, now_ms));
            store.send(Action::Saved(SaveState::Kept(now_ms)));
        }
        Err(said) => store.send(Action::Saved(SaveState::Failed(said.into()))),
    }
}

fn listen(desk: &Rc<RefCell<Desk>>, store: &Store) -> [EventListener; 3] {
    let on_leave = |desk: &Rc<RefCell<Desk>>, store: &Store| {
        let (desk, store) = (Rc::clone(desk), store.clone());
        move |_: &Event| keep(&desk, &store)
    };
    let (desk_too, store_too) = (Rc::clone(desk), store.clone());
    let on_storage = move |event: &Event| {
        if let Some(event) = event.dyn_ref::<StorageEvent>() {
            foreign(&desk_too, &store_too, event);
        }
    };
    [
        EventListener::new(&window(), "pagehide", on_leave(desk, store)),
        EventListener::new(&document(), "visibilitychange", on_leave(desk, store)),
        EventListener::new(&window(), "storage", on_storage),
    ]
}

/// Another window of this browser has kept or deleted a plan.
fn foreign(desk: &RefCell<Desk>, store: &Store, event: &StorageEvent) {
    let key = event.key();
    let Some(plan) = key.as_deref().and_then(plan_of) else {
        return;
    };
    let Some(text) = event.new_value() else {
        store.send(Action::ForeignGone(plan.to_owned().into()));
        return;
    };
    let entry = read_entry(plan, &text);
    if let Ok(mut desk) = desk.try_borrow_mut() {
        desk.keeper.seen(&entry);
    }
    store.send(Action::Foreign(Box::new(entry)));
}
