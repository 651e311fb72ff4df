//! What stands above every page as long as it holds: another window edits, nothing is stored.

use yew::prelude::*;

use crate::files;
use crate::routes::Page;
use crate::storage::{changes_to_save, indexed_db, note_saved, tab_lock, updates};
use crate::store::{
    Action, Notice, PlanKey, SaveState, Store, use_follows, use_plan, use_save_state, use_store,
};

/// Props of [`Banner`].
#[derive(PartialEq, Properties)]
pub struct BannerProps {
    /// The page that is shown.
    pub page: Page,
}

/// See the module.
#[component]
pub fn Banner(props: &BannerProps) -> Html {
    let store = use_store();
    let follows = use_follows();
    let save_state = use_save_state();
    let later = use_state_eq(|| None::<PlanKey>);
    let open = use_plan().map(|open| open.key);
    // On coming to a page and not in the middle of the work on it, where it would push that from under the finger.
    let remind = use_memo((open.clone(), props.page), |(open, _)| {
        // Pages are also rendered natively, in tests, where there is no storage.
        open.as_deref()
            .filter(|_| cfg!(target_arch = "wasm32"))
            .and_then(changes_to_save)
    });
    let failed = matches!(save_state, SaveState::Failed(_));
    let version = use_state_eq(|| None::<updates::Told>);
    {
        let version = version.setter();
        use_effect_with((), move |()| {
            let listener = updates::listen(move |told| version.set(Some(told)));
            move || drop(listener)
        });
    }
    let new = version.map(|told| match told {
        updates::Told::Ready => "A new version is ready. Plans stay as they are.",
        updates::Told::Others => {
            "Close the other windows of Lodewright first: they still run the version before."
        }
    });
    html! {
        <>
            if let Some(said) = new {
                { banner("version", said, "Change to it", Callback::from(|_| updates::take())) }
            }
            if follows {
                { banner("follows", "Another window edits this plan. This one follows it.", "Edit here", Callback::from(|_| tab_lock::take())) }
            }
            if let Some(changes) = remind.filter(|_| !failed && !follows && *later != open) {
                { reminder(&store, changes, { let later = later.setter(); Callback::from(move |_| later.set(open.clone())) }) }
            }
            if failed {
                { banner("unsaved", "The last changes are not stored. Save the plan as a file before you close this page.", "Save as a file", save(&store)) }
            }
        </>
    }
}

/// The only copy is in this browser, and much has changed.
fn reminder(store: &Store, changes: u64, later: Callback<MouseEvent>) -> Html {
    let saved = {
        let (save, later) = (save(store), later.clone());
        Callback::from(move |e: MouseEvent| {
            save.emit(e.clone());
            later.emit(e);
        })
    };
    html! {
        <div key="remind" class="strip" role="status" data-test="strip-remind">
            <p>{ format!("{changes} changes since this plan was last saved as a file. Browsers may clear what pages store.") }</p>
            <div class="actions">
                <button type="button" class="button is-small" data-test="strip-remind-do" onclick={saved}>{ "Save as a file" }</button>
                <button type="button" class="button is-small is-quiet" data-test="strip-remind-later" onclick={later}>{ "Later" }</button>
            </div>
        </div>
    }
}

fn banner(
    test: &'static str,
    said: &'static str,
    word: &'static str,
    onclick: Callback<MouseEvent>,
) -> Html {
    html! {
        <div key={test} class="strip" role="status" data-test={format!("strip-{test}")}>
            <p>{ said }</p>
            <button type="button" class="button is-small" data-test={format!("strip-{test}-do")} {onclick}>{ word }</button>
        </div>
    }
}

/// Saves the open plan as a file.
fn save(store: &Store) -> Callback<MouseEvent> {
    let store = store.clone();
    Callback::from(move |_| {
        let open = store.read(|s| Some((s.open.clone()?, s.track()?.plan.clone())));
        let Some((key, plan)) = open else { return };
        match files::save_plan(&plan) {
            Ok(()) => {
                note_saved(&key);
                yew::platform::spawn_local(indexed_db::persist());
            }
            Err(said) => store.send(Action::Tell(Notice::refused(said))),
        }
    })
}
