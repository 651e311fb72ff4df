//! Two plans side by side: what another plan or a file has otherwise, to take or leave.

use gloo::file::File;
use lodewright_planner::kit::{Edit, Plan};
use lodewright_planner::planfile::{
    Change, Difference, PlanEntry, differences, taking, with_needed,
};
use web_sys::{HtmlInputElement, HtmlSelectElement};
use yew::prelude::*;

use crate::files;
use crate::format;
use crate::shared::Shared;
use crate::store::{Action, Notice, Offer, OpenPlan, PlanKey, Shelf, Store, use_store};

/// A plan beside those that it can be compared with.
pub fn view(open: &OpenPlan, shelf: &Shared<Shelf>) -> Html {
    html! { <Compare name={open.key.clone()} ours={open.plan.clone()} shelf={shelf.clone()} /> }
}

/// Props of [`Compare`].
#[derive(PartialEq, Properties)]
pub struct CompareProps {
    /// Key of the plan that may take.
    pub name: PlanKey,
    /// The plan.
    pub ours: Shared<Plan>,
    /// The plans that it can be compared with.
    pub shelf: Shared<Shelf>,
}

/// The plan that is compared with.
#[derive(Clone, PartialEq)]
struct Other {
    name: AttrValue,
    plan: Shared<Plan>,
}

/// See the module.
#[component]
pub fn Compare(props: &CompareProps) -> Html {
    let store = use_store();
    let other = use_state_eq(|| None::<Other>);
    let left = use_state_eq(Vec::<PlanEntry>::new);
    let list = other.as_ref().map(|o| differences(&props.ours, &o.plan));
    html! {
        <>
            <div class="actions">
                { choose(props, &other) }
                <label class="button is-small file-button">
                    { "With a file" }
                    <input type="file" class="visually-hidden" data-test="compare-file" onchange={pick_file(&store, &other)} />
                </label>
            </div>
            if let (Some(other), Some(list)) = (&*other, list) {
                { listed(&store, props, other, list, &left) }
            }
        </>
    }
}

fn choose(props: &CompareProps, other: &UseStateHandle<Option<Other>>) -> Html {
    let plans: Vec<(PlanKey, Other)> = props
        .shelf
        .iter()
        .filter(|e| e.key != props.name)
        .filter_map(|e| {
            let plan = e.track()?.plan.clone();
            let name = AttrValue::from(e.title().to_owned());
            Some((e.key.clone(), Other { name, plan }))
        })
        .collect();
    let entry = |(key, plan): &(PlanKey, Other)| html! { <option value={key.clone()}>{ &plan.name }</option> };
    let options: Html = plans.iter().map(entry).collect();
    let onchange = {
        let other = other.clone();
        Callback::from(move |e: Event| {
            let Some(list) = e.target_dyn_into::<HtmlSelectElement>() else {
                return;
            };
            let found = plans.iter().find(|(key, _)| *key == list.value());
            other.set(found.map(|(_, plan)| plan.clone()));
        })
    };
    html! {
        <label class="compare-with">
            <span class="quiet">{ "With" }</span>
            <select data-test="compare-with" aria-label="Plan to compare with" {onchange}><option value="">{ "another plan\u{2026}" }</option>{ options }</select>
        </label>
    }
}

fn pick_file(store: &Store, other: &UseStateHandle<Option<Other>>) -> Callback<Event> {
    let (store, other) = (store.clone(), other.setter());
    Callback::from(move |e: Event| {
        let Some(input) = e.target_dyn_into::<HtmlInputElement>() else {
            return;
        };
        if let Some(file) = input.files().and_then(|files| files.get(0)) {
            let other = other.clone();
            files::read_file(store.clone(), File::from(file), move |_, name, loaded| {
                other.set(Some(Other {
                    name: AttrValue::from(name.to_owned()),
                    plan: Shared::new(loaded.plan),
                }));
            });
        }
        input.set_value("");
    })
}

/// The list; `left` holds the keys that are not ticked.
fn listed(
    store: &Store,
    props: &CompareProps,
    other: &Other,
    list: Vec<Difference>,
    left: &UseStateHandle<Vec<PlanEntry>>,
) -> Html {
    if list.is_empty() {
        return html! { <p data-test="no-difference">{ format!("{} has the same entries.", other.name) }</p> };
    }
    let ticked: Vec<usize> = (0..list.len())
        .filter(|i| !left.contains(&list[*i].entry))
        .collect();
    let taken = with_needed(&props.ours, &list, &ticked);
    let rows: Html = list
        .iter()
        .enumerate()
        .map(|(i, d)| row(d, ticked.contains(&i), taken.contains(&i), left))
        .collect();
    let all = {
        let (left, keys) = (
            left.clone(),
            list.iter().map(|d| d.entry.clone()).collect::<Vec<_>>(),
        );
        let none = left.is_empty();
        Callback::from(move |_: MouseEvent| left.set(if none { keys.clone() } else { Vec::new() }))
    };
    let head = format!(
        "{} has {} otherwise.",
        other.name,
        format::count(list.len(), "entry", "entries")
    );
    let count = taken.len();
    let take = take(store, &props.name, taking(&list, &taken), count);
    html! {
        <>
            <p data-test="differences">{ head }</p>
            <ul class="differences">{ rows }</ul>
            <div class="actions">
                <button type="button" class="button is-small is-main" data-test="take" disabled={count == 0} onclick={take}>{ format!("Take {count}") }</button>
                <button type="button" class="button is-small" data-test="tick-all" onclick={all}>{ if left.is_empty() { "Tick none" } else { "Tick all" } }</button>
            </div>
        </>
    }
}

fn row(d: &Difference, ticked: bool, taken: bool, left: &UseStateHandle<Vec<PlanEntry>>) -> Html {
    let onchange = {
        let (left, key) = (left.clone(), d.entry.clone());
        Callback::from(move |_: Event| {
            let mut keys = (*left).clone();
            if ticked {
                keys.push(key.clone());
            } else {
                keys.retain(|k| *k != key);
            }
            left.set(keys);
        })
    };
    let word = match d.change {
        Change::Added => "joins",
        Change::Gone => "goes",
        Change::Changed => "changes",
    };
    html! {
        <li key={d.entry.to_string()}>
            <label>
                <input type="checkbox" checked={ticked} data-test={format!("difference-{}", d.entry)} {onchange} />
                <span><strong>{ &d.title }</strong>{ format!(" {word}: ") }{ &d.message }
                    if taken && !ticked { <em>{ " \u{b7} taken along, another needs it" }</em> }
                </span>
            </label>
        </li>
    }
}

fn take(store: &Store, key: &PlanKey, edit: Edit, count: usize) -> Callback<MouseEvent> {
    let (store, key) = (store.clone(), key.clone());
    Callback::from(move |_| {
        // Tried first: a refusal leaves everything as it is, and says why.
        let tried = store.read(|s| {
            let track = s.entry(&key)?.track()?;
            Some(track.plan.edited(&edit).map(|_| ()))
        });
        match tried {
            Some(Err(refusal)) => store.send(Action::Tell(Notice::refused(format!(
                "Nothing was taken. {refusal}"
            )))),
            Some(Ok(())) => {
                store.send(Action::Open(Some(key.clone())));
                store.send(Action::EditAll {
                    label: "take differences",
                    edits: vec![edit.clone()],
                });
                let said = format!(
                    "Taken: {}.",
                    format::count(count, "difference", "differences")
                );
                store.send(Action::Tell(Notice::told(said).offering(Offer::Undo)));
            }
            None => {}
        }
    })
}
