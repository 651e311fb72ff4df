//! All plans in this browser: begin, open, copy, rename, share, compare, save as a file, delete.

mod carried;
mod compare;
mod deleted;
mod demo;
mod share;

use gloo::file::File;
use lodewright_planner::kit::Plan;
use wasm_bindgen_futures::spawn_local;
use web_sys::HtmlInputElement;
use yew::prelude::*;

use crate::clock::day_and_time;
use crate::components::{Shape, TextField, icon};
use crate::files;
use crate::format;
use crate::lazy_pages::{self, LazyPage, lazy_page};
use crate::routes::{Page, Route};
use crate::storage::note_saved;
use crate::store::{
    Action, Content, Edited, Entry, Notice, OpenPlan, PlanKey, Store, use_shelf, use_store,
};

pub use carried::view as carried;
pub use compare::view as compare;
pub use demo::demo;
pub use share::view as share;

/// Props of [`PlansPage`].
#[derive(PartialEq, Properties)]
pub struct PlansPageProps {
    /// The plan that a link carries, packed; empty where there is none.
    #[prop_or_default]
    pub carried: AttrValue,
}

/// What stands where a plan is asked for that is not there.
pub fn no_plan() -> Html {
    html! {
        <>
            <h1>{ "This plan is not here" }</h1>
            <p>{ "No plan of this name is stored in this browser. It may have been deleted, or stored in another browser or on another device." }</p>
            <p><a class="button" href={Route::plans().href()}>{ Page::Plans.title() }</a></p>
        </>
    }
}

/// What is unfolded below a plan.
#[derive(Clone, PartialEq)]
enum Below {
    Share(PlanKey),
    Compare(PlanKey),
}

/// See the module.
#[component]
pub fn PlansPage(props: &PlansPageProps) -> Html {
    let store = use_store();
    let shelf = use_shelf();
    let renaming = use_state_eq(|| None::<PlanKey>);
    let below = use_state_eq(|| None::<Below>);
    let row = |entry: &Entry| {
        let now = *renaming == Some(entry.key.clone());
        let plan = entry.track().map(|t| OpenPlan {
            key: entry.key.clone(),
            plan: t.plan.clone(),
        });
        let more = match (&*below, plan) {
            (Some(Below::Share(key)), Some(plan)) if *key == entry.key => {
                unfolded("sharing", key, LazyPage::Share(plan))
            }
            (Some(Below::Compare(key)), Some(plan)) if *key == entry.key => {
                unfolded("comparing", key, LazyPage::Compare(plan, shelf.clone()))
            }
            _ => Html::default(),
        };
        html! {
            <key={entry.key.to_string()}>
                <Row entry={RowView::of(entry)} renaming={now} rename={renaming.setter()} below={below.setter()}
                    sharing={*below == Some(Below::Share(entry.key.clone()))} comparing={*below == Some(Below::Compare(entry.key.clone()))} />
                { more }
            </>
        }
    };
    html! {
        <div data-test="page-plans">
            <div class="page-head"><h1>{ Page::Plans.title() }</h1></div>
            if !props.carried.is_empty() {
                { lazy_page(LazyPage::Carried(props.carried.clone())) }
            } else if shelf.is_empty() {
                { welcome() }
            }
            <div class="actions">
                <button type="button" class="button is-main" data-test="new-plan" onclick={new_plan(&store)}>
                    { icon(Shape::Plus) }{ "New plan" }
                </button>
                <button type="button" class="button" data-test="open-demo" onclick={open_demo(&store)}>{ "Open the demo" }</button>
                <label class="button file-button">
                    { "Open a file" }
                    <input type="file" class="visually-hidden" data-test="open-file" onchange={pick_file(&store)} />
                </label>
            </div>
            if props.carried.is_empty() && shelf.is_empty() {
                { specimen() }
            }
            if !shelf.is_empty() {
                <ul class="cards" data-test="plan-list">{ for shelf.iter().map(row) }</ul>
            }
            <deleted::Deleted />
            <p class="fine">{ "Plans are stored in this browser, on this device, and nowhere else. Browsers may clear what pages store: save a plan as a file when it matters. The demo opens as a copy of your own; its kit and data are invented. " }{ super::how::link("", Page::How.title()) }</p>
        </div>
    }
}

/// What the program is for, for those who see it the first time.
fn welcome() -> Html {
    html! {
        <section class="welcome" aria-label="What this is for">
            <p class="lead">{ "One kit, many finishes: plan which parts swap, and how small magnets hold them." }</p>
            <ol class="welcome-steps">
                <li><strong>{ "Name the variants" }</strong><span>{ "what the one model shall be able to become" }</span></li>
                <li><strong>{ "Name the sockets" }</strong><span>{ "the places where parts swap" }</span></li>
                <li><strong>{ "Fill the grid" }</strong><span>{ "what sits in each socket, variant by variant" }</span></li>
                <li><strong>{ "Read the answers" }</strong><span>{ "what to glue, which magnets, in which order to work" }</span></li>
            </ol>
        </section>
    }
}

/// What a grid looks like.
fn specimen() -> Html {
    html! {
        <div class="scroll" tabindex="0" role="region" aria-label="A small grid">
            <table class="specimen">
                <caption class="visually-hidden">{ "A small grid" }</caption>
                <thead><tr><td></td><th scope="col">{ "Winter" }</th><th scope="col">{ "Works" }</th><th scope="col">{ "Summer" }</th></tr></thead>
                <tbody>
                    <tr><th scope="row">{ "Nose" }</th><td>{ "Plough" }</td><td>{ "Hook" }</td><td>{ "Hook" }</td></tr>
                    <tr><th scope="row">{ "Roof" }</th><td>{ "Rack" }</td><td>{ "Rack 180\u{b0}" }</td><td class="is-nothing">{ "nothing" }</td></tr>
                    <tr><th scope="row">{ "Tool" }</th><td>{ "Shovel / Lamp" }</td><td>{ "Shovel / Lamp" }</td><td>{ "Shovel / Lamp" }</td></tr>
                </tbody>
            </table>
        </div>
    }
}

/// What a row shows of an entry: compared by content, so that an edit renders one row.
#[derive(Clone, PartialEq)]
struct RowView {
    key: PlanKey,
    title: AttrValue,
    size: AttrValue,
    changed_ms: f64,
    damaged: Option<AttrValue>,
}

impl RowView {
    fn of(entry: &Entry) -> Self {
        let size = entry
            .track()
            .map(|t| size_words(&t.plan))
            .unwrap_or_default();
        Self {
            key: entry.key.clone(),
            title: AttrValue::from(entry.title().to_owned()),
            size: AttrValue::from(size),
            changed_ms: entry.changed_ms,
            damaged: match &entry.content {
                Content::Damaged { said, .. } => Some(said.clone()),
                Content::Plan(_) => None,
            },
        }
    }
}

fn size_words(plan: &Plan) -> String {
    [
        format::count(plan.variants.len(), "variant", "variants"),
        format::count(plan.sockets.len(), "socket", "sockets"),
        format::count(plan.parts.len(), "part", "parts"),
    ]
    .join(", ")
}

#[derive(PartialEq, Properties)]
struct RowProps {
    entry: RowView,
    renaming: bool,
    rename: UseStateSetter<Option<PlanKey>>,
    below: UseStateSetter<Option<Below>>,
    sharing: bool,
    comparing: bool,
}

#[component]
fn Row(props: &RowProps) -> Html {
    let store = use_store();
    let RowView {
        key,
        title,
        size,
        changed_ms,
        damaged,
    } = &props.entry;
    let href = Route::of(Page::Grid, key).href();
    html! {
        <li class="card plan-card" data-test={format!("plan-{key}")}>
            <div class="plan-card-words">
                if props.renaming {
                    <TextField id={format!("title-{key}")} label="Title" picked={true} value={title} on_commit={renamed(&store, key, &props.rename)} />
                } else if damaged.is_some() {
                    <h2>{ title }</h2>
                } else {
                    <h2><a {href} data-test={format!("open-{key}")}>{ title }</a></h2>
                }
                if let Some(said) = damaged {
                    <p class="field-error">{ "This entry is damaged and is left as it is. " }{ said }</p>
                } else {
                    <p class="quiet">{ size }{ changed_words(*changed_ms) }</p>
                }
            </div>
            <div class="actions">
                if damaged.is_none() {
                    { small("rename", "Rename", key, { let (set, key) = (props.rename.clone(), key.clone()); let on = !props.renaming; move || set.set(on.then(|| key.clone())) }) }
                    { small("copy", "Copy", key, { let (store, key) = (store.clone(), key.clone()); move || store.send(Action::Duplicate(key.clone())) }) }
                }
                if damaged.is_none() {
                    { unfold("share", "Share", props.sharing, &props.below, Below::Share(key.clone())) }
                    { unfold("compare", "Differences", props.comparing, &props.below, Below::Compare(key.clone())) }
                }
                { small("save", "Save as a file", key, save_file(&store, key)) }
                { small("delete", "Delete", key, { let (store, key) = (store.clone(), key.clone()); move || store.send(Action::Delete(key.clone())) }) }
            </div>
        </li>
    }
}

fn small(test: &str, word: &'static str, key: &PlanKey, run: impl Fn() + 'static) -> Html {
    html! {
        <button type="button" class="button is-small" data-test={format!("{test}-{key}")} onclick={Callback::from(move |_: MouseEvent| run())}>{ word }</button>
    }
}

fn unfold(
    test: &str,
    word: &'static str,
    open: bool,
    set: &UseStateSetter<Option<Below>>,
    below: Below,
) -> Html {
    let (Below::Share(key) | Below::Compare(key)) = &below;
    let (set, mark) = (set.clone(), format!("{test}-{key}"));
    let onclick = Callback::from(move |_: MouseEvent| set.set((!open).then(|| below.clone())));
    html! { <button type="button" class="button is-small" data-test={mark} aria-expanded={open.to_string()} {onclick}>{ word }</button> }
}

/// The card below a plan.
fn unfolded(test: &str, key: &PlanKey, what: LazyPage) -> Html {
    html! { <li class="card below" data-test={format!("{test}-{key}")}>{ lazy_page(what) }</li> }
}

fn changed_words(changed_ms: f64) -> Html {
    if changed_ms <= 0.0 {
        return Html::default();
    }
    html! { <>{ " \u{b7} changed " }{ day_and_time(changed_ms) }</> }
}

fn new_plan(store: &Store) -> Callback<MouseEvent> {
    let store = store.clone();
    Callback::from(move |_| store.send(Action::Add(Box::new(Plan::empty("New plan")))))
}

fn open_demo(store: &Store) -> Callback<MouseEvent> {
    let store = store.clone();
    Callback::from(move |_| {
        let store = store.clone();
        spawn_local(async move {
            let demo = match lazy_pages::fetch().await {
                Ok(pages) => (pages.demo)(),
                Err(_) => Err("The demo is not on this device yet, and it could not be fetched. Try again when there is a network.".to_owned()),
            };
            store.send(match demo {
                Ok(plan) => Action::Add(Box::new(plan)),
                Err(said) => Action::Tell(Notice::refused(said)),
            });
        });
    })
}

fn pick_file(store: &Store) -> Callback<Event> {
    let store = store.clone();
    Callback::from(move |e: Event| {
        let Some(input) = e.target_dyn_into::<HtmlInputElement>() else {
            return;
        };
        if let Some(file) = input.files().and_then(|files| files.get(0)) {
            files::open_file(store.clone(), File::from(file));
        }
        // So that the same file can be picked again after it was corrected.
        input.set_value("");
    })
}

fn renamed(
    store: &Store,
    key: &PlanKey,
    rename: &UseStateSetter<Option<PlanKey>>,
) -> Edited<String> {
    let (store, key, rename) = (store.clone(), key.clone(), rename.clone());
    Callback::from(move |title: String| {
        if title.trim().is_empty() {
            return Err(AttrValue::from("A title is needed. Type one."));
        }
        store.send(Action::Rename(key.clone(), title));
        rename.set(None);
        Ok(())
    })
}

fn save_file(store: &Store, key: &PlanKey) -> impl Fn() + 'static {
    let (store, key) = (store.clone(), key.clone());
    move || {
        let content = store.read(|s| s.entry(&key).map(|e| e.content.clone()));
        let saved = match content {
            Some(Content::Plan(track)) => files::save_plan(&track.plan).map(|()| note_saved(&key)),
            Some(Content::Damaged { text, .. }) => {
                files::save_text(&format!("{key}.damaged.txt"), &text, "text/plain")
            }
            None => Ok(()),
        };
        if let Err(said) = saved {
            store.send(Action::Tell(Notice::refused(said)));
        }
    }
}
