//! Two plans, or two ideas of one, side by side: what each comes to, and what differs.

use lodewright_planner::kit::{Plan, Problem};
use lodewright_planner::planfile::{Change, Difference, PlanEntry, differences};
use lodewright_planner::{Analysis, Figures};
use yew::prelude::*;

use super::PlanPageProps;
use super::joints::names::times;
use crate::address::go;
use crate::format;
use crate::routes::{Page, Route};
use crate::shared::Shared;
use crate::store::{Action, Entry, use_answers, use_shelf, use_store};

/// See the module. What stands behind the page in the address is the other plan's key.
#[component]
pub fn ComparePage(props: &PlanPageProps) -> Html {
    let store = use_store();
    let shelf = use_shelf();
    let answered = use_answers();
    let key = &props.open.key;
    let others: Vec<&Entry> = shelf
        .iter()
        .filter(|e| e.key != *key && e.track().is_some())
        .collect();
    let other = others
        .iter()
        .find(|e| e.key == props.rest)
        .and_then(|e| e.track())
        .map(|t| t.plan.clone());
    // The other plan is not open: its answers are worked out here, once for each state of it.
    let there = use_memo(other.clone(), |other| {
        let first = |all: Vec<Problem>| all.first().map(ToString::to_string).unwrap_or_default();
        let plan = other.as_ref()?;
        Some(
            Analysis::of((**plan).clone())
                .map(|a| a.figures())
                .map_err(first),
        )
    });
    let second = {
        let (store, key) = (store.clone(), key.clone());
        Callback::from(move |_: MouseEvent| {
            store.send(Action::Duplicate(key.clone()));
            let made = store.read(|s| s.shelf.first().map(|e| e.key.clone()));
            if let Some(made) = made.filter(|made| *made != key) {
                go(&Route::at(Page::Compare, &key, &made));
            }
        })
    };
    let pick = |e: &&Entry| {
        let here = e.key == props.rest;
        html! { <a key={e.key.to_string()} class={classes!("button", here.then_some("is-main"))} data-test={format!("beside-{}", e.key)} aria-current={here.then_some("true")} href={Route::at(Page::Compare, key, &e.key).href()}>{ e.title().to_owned() }</a> }
    };
    html! {
        <div data-test="page-compare" class="compare">
            <div class="page-head"><h1>{ Page::Compare.title() }</h1></div>
            <p class="page-intro">{ "Put another plan beside this one, such as a copy in which you try an idea while this one stays as it is." }</p>
            <div class="actions" role="group" aria-label="The plan beside this one">
                { for others.iter().map(pick) }
                <button type="button" class="button" data-test="second-idea" onclick={second}>{ "Copy this plan to try an idea" }</button>
            </div>
            if let (Some(other), Some(there)) = (&other, &*there) {
                { side_by_side(&props.open.plan, answered.good.map(|d| d.figures()), other, there, &props.rest) }
            } else if others.is_empty() {
                <p class="empty">{ "No other plan is in this browser yet. Copy this one, or open a file on the page of all plans." }</p>
            }
        </div>
    }
}

fn difference(d: &Difference) -> Html {
    let words = match d.change {
        Change::Added => "only in the second".to_owned(),
        Change::Gone => "only in the first".to_owned(),
        Change::Changed => d.message.clone(),
    };
    html! { <li key={d.entry.to_string()}><strong>{ &d.title }</strong>{ ": " }{ words }</li> }
}

fn side_by_side(
    plan: &Shared<Plan>,
    here: Option<Figures>,
    other: &Shared<Plan>,
    there: &Result<Figures, String>,
    other_key: &AttrValue,
) -> Html {
    let said: Vec<Difference> = differences(plan, other)
        .into_iter()
        // Those say nothing of the model.
        .filter(|d| {
            !matches!(
                d.entry,
                PlanEntry::Title | PlanEntry::Note | PlanEntry::Progress
            )
        })
        .collect();
    html! {
        <>
            <div class="scroll">
                <table class="beside" data-test="beside">
                    <thead><tr><td></td><th scope="col">{ &plan.title }</th><th scope="col"><a href={Route::of(Page::Grid, other_key).href()}>{ &other.title }</a></th></tr></thead>
                    <tbody>{ for rows(plan, here.as_ref(), other, there.as_ref().ok()) }</tbody>
                </table>
            </div>
            if let Err(why) = there {
                <p class="field-error">{ why }</p>
            }
            <section aria-label="What differs">
                <h2>{ "What differs" }</h2>
                if said.is_empty() {
                    <p data-test="differs">{ "Nothing: both plans are the same but for their titles, notes and progress." }</p>
                } else {
                    <ul class="differs" data-test="differs">{ for said.iter().map(difference) }</ul>
                }
            </section>
        </>
    }
}

type Read = fn(&Plan, &Figures) -> String;

fn rows<'a>(
    plan: &'a Plan,
    here: Option<&'a Figures>,
    other: &'a Plan,
    there: Option<&'a Figures>,
) -> impl Iterator<Item = Html> + 'a {
    let all: [(&'static str, Read); 8] = [
        ("Magnets", |_, f| f.magnets.to_string()),
        ("Pieces of steel", |_, f| f.steel.to_string()),
        ("Joints that come apart", |_, f| f.separable.to_string()),
        ("To buy", |p, f| {
            let cents = u32::try_from(f.cost_cents).unwrap_or(u32::MAX);
            format::money(cents, &p.settings.currency)
        }),
        ("Work of the hands", |_, f| format::duration(f.hands_min)),
        ("Weakest joint", |_, f| match &f.weakest {
            Some((margin_x_weight, words)) => {
                format!("{} \u{d7} weight: {words}", times(*margin_x_weight))
            }
            None => "nothing to hold".to_owned(),
        }),
        ("Contradictions in the poles", |_, f| {
            f.contradictions.to_string()
        }),
        ("Distinct models", |_, f| {
            f.models
                .as_ref()
                .map_or_else(|| "too many to count".to_owned(), |n| n.to_string())
        }),
    ];
    all.into_iter().map(move |(word, read)| {
        let cell = |p: &Plan, f: Option<&Figures>| f.map_or_else(|| "\u{2013}".to_owned(), |f| read(p, f));
        let (a, b) = (cell(plan, here), cell(other, there));
        let differs = a != b;
        html! {
            <tr key={word} class={classes!(differs.then_some("is-other"))}>
                <th scope="row">{ word }</th><td>{ a }</td>
                <td>{ b }if differs { <span class="visually-hidden">{ ", not the same" }</span> }</td>
            </tr>
        }
    })
}
