//! How the plan is stored in this browser: earlier states to bring back, the last file, the room there is.

use lodewright_planner::kit::Plan;
use lodewright_planner::planfile;
use tiny_sort::stable::sort_by;
use yew::platform::spawn_local;
use yew::prelude::*;

use crate::address::go;
use crate::clock::day_and_time;
use crate::components::Disclosure;
use crate::format;
use crate::routes::{Page, Route};
use crate::storage::indexed_db::{self, Room};
use crate::storage::{PastName, last_saved};
use crate::store::{Action, Notice, PlanKey, Store, use_store};

/// Props of [`StorageCard`].
#[derive(PartialEq, Properties)]
pub struct StorageCardProps {
    /// The open plan.
    pub plan: PlanKey,
}

/// What was found; nothing until the browser has answered.
#[derive(Clone, Default, PartialEq)]
struct Found {
    states: Option<Result<Vec<PastName>, String>>,
    room: Room,
}

/// See the module.
#[component]
pub fn StorageCard(props: &StorageCardProps) -> Html {
    let store = use_store();
    let found = use_state_eq(Found::default);
    {
        let set = found.setter();
        use_effect_with(props.plan.clone(), move |plan| {
            let plan = plan.clone();
            spawn_local(async move {
                let states = indexed_db::past_names()
                    .await
                    .map(|names| of_plan(names, &plan));
                let room = indexed_db::room().await;
                let states = Some(states);
                set.set(Found { states, room });
            });
        });
    }
    let (summary, body) = match &found.states {
        None => (String::new(), Html::default()),
        Some(Err(said)) => ("none".to_owned(), html! { <p>{ said }</p> }),
        Some(Ok(states)) => (
            format::count(states.len(), "state", "states"),
            list(&store, states),
        ),
    };
    html! {
        <section class="card section" aria-label="Storage in this browser">
            <h2>{ "Storage in this browser" }</h2>
            <p class="quiet" data-test="last-file">{ last_file(&props.plan) }</p>
            <p class="quiet" data-test="room">{ room_words(found.room) }</p>
            <Disclosure id="earlier" title="Earlier states" {summary}>{ body }</Disclosure>
        </section>
    }
}

/// Those of one plan, the newest first.
fn of_plan(mut names: Vec<PastName>, plan: &str) -> Vec<PastName> {
    names.retain(|n| n.plan == plan);
    sort_by(&mut names, |a, b| b.at_ms.total_cmp(&a.at_ms));
    names
}

fn list(store: &Store, states: &[PastName]) -> Html {
    if states.is_empty() {
        return html! { <p>{ "None yet: a state is put by when the plan is changed again a minute or more after it." }</p> };
    }
    let row = |state: &PastName| {
        let said = format!(
            "{}, {} kB",
            day_and_time(state.at_ms),
            (state.length / 1000.0).ceil()
        );
        html! {
            <li key={state.name.clone()} class="actions" data-test="earlier-state">
                <span>{ said }</span>
                { button(store, "earlier-copy", "Open a copy", state, as_copy) }
                { button(store, "earlier-back", "Bring back", state, |plan, _| Action::BringBack(Box::new(plan))) }
            </li>
        }
    };
    html! { <ul>{ for states.iter().map(row) }</ul> }
}

fn as_copy(mut plan: Plan, at_ms: f64) -> Action {
    plan.title = format!("{}, {}", plan.title, day_and_time(at_ms));
    Action::Add(Box::new(plan))
}

fn button(
    store: &Store,
    test: &'static str,
    word: &'static str,
    state: &PastName,
    action: fn(Plan, f64) -> Action,
) -> Html {
    let (store, state) = (store.clone(), state.clone());
    let onclick = Callback::from(move |_: MouseEvent| {
        let (store, state) = (store.clone(), state.clone());
        spawn_local(async move {
            let record = indexed_db::past_read(&state.name).await.ok().flatten();
            let plan = record.map(|r| planfile::read(r.text.as_bytes()));
            store.send(match plan {
                Some(Ok(loaded)) => action(loaded.plan, state.at_ms),
                Some(Err(error)) => Action::Tell(Notice::refused(error.to_string())),
                None => Action::Tell(Notice::refused("This state is not there any more.")),
            });
            // A copy is open now: the address follows it.
            if let Some(key) = store
                .read(|s| s.open.clone())
                .filter(|key| *key != state.plan)
            {
                go(&Route::of(Page::Grid, &key));
            }
        });
    });
    html! { <button type="button" class="button is-small" data-test={test} {onclick}>{ word }</button> }
}

fn last_file(key: &str) -> String {
    // Pages are also rendered natively, in tests, where there is no storage.
    let saved = if cfg!(target_arch = "wasm32") {
        last_saved(key)
    } else {
        None
    };
    saved.map_or_else(
        || "Not saved as a file yet: this browser has the only copy.".to_owned(),
        |saved| format!("Last saved as a file: {}.", day_and_time(saved.at_ms)),
    )
}

fn room_words(room: Room) -> String {
    let kept = match room.persisted {
        Some(true) => "The browser keeps what is stored here even when room gets short.",
        Some(false) => {
            "The browser may clear what is stored here when room gets short; a private window forgets it when it is closed."
        }
        None => "",
    };
    let megabytes = |bytes: f64| format!("{:.1} MB", bytes / 1e6);
    match (room.usage, room.quota) {
        (Some(usage), Some(quota)) => format!(
            "{kept} {} of {} are in use.",
            megabytes(usage),
            megabytes(quota)
        ),
        _ => kept.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_states_of_the_plan_are_listed_newest_first() {
        let names = ["a/1/5/10", "b/2/6/10", "a/3/9/10"].map(|n| PastName::read(n).unwrap());
        let listed = of_plan(names.to_vec(), "a");
        assert_eq!(
            listed.iter().map(|n| n.at_ms).collect::<Vec<_>>(),
            [9.0, 5.0]
        );
    }

    #[test]
    fn the_room_is_said_plainly() {
        let room = Room {
            persisted: Some(true),
            usage: Some(1.25e6),
            quota: Some(1e9),
        };
        assert!(room_words(room).ends_with("1.2 MB of 1000.0 MB are in use."));
        assert_eq!(room_words(Room::default()), "");
    }
}
