//! From one variant to another: which parts come off, which go on, and how many handlings each change takes.

pub mod counts;
mod pick;
mod round;
mod stow;
mod table;

use lodewright_planner::kit::{Plan, VariantIx};
use lodewright_planner::{Swap, SwapMove};
use yew::prelude::*;

use super::PlanPageProps;
use crate::address::go;
use crate::components::Live;
use crate::format;
use crate::routes::{Page, Route};
use crate::store::{Analysis, PlanKey, use_answers};
use counts::staying;
use pick::{VariantChipsProps, picked, rest_of, variant_chips};
use round::Round;
use stow::Stow;
use table::Counts;

/// See the module.
#[component]
pub fn SwapPage(props: &PlanPageProps) -> Html {
    let Some(analysis) = use_answers().good else {
        return Html::default();
    };
    html! {
        <div class="swap" data-test="page-swap">
            <div class="page-head"><h1>{ Page::Swap.title() }</h1></div>
            if analysis.plan().variants.len() < 2 {
                { too_few(&props.open.key) }
            } else {
                { change(props, &analysis) }
                <Counts analysis={analysis.clone()} open={props.open.key.clone()} />
                <Round analysis={analysis.clone()} />
                <Stow variant={picked(analysis.plan(), &props.rest).0} {analysis} />
            }
        </div>
    }
}

fn too_few(key: &PlanKey) -> Html {
    html! {
        <div class="empty" data-test="swap-empty">
            <p>{ "A swap needs two variants. With them, this page says part by part what comes off and what goes on, and what may stay where it is." }</p>
            <p><a class="button is-main" href={Route::of(Page::Grid, key).href()}>{ "Name variants in the grid" }</a></p>
        </div>
    }
}

fn change(props: &PlanPageProps, analysis: &Analysis) -> Html {
    let plan = analysis.plan();
    let (from, to) = picked(plan, &props.rest);
    let pick = |is_from: bool| {
        let (plan, key) = (plan.clone(), props.open.key.clone());
        Callback::from(move |v: VariantIx| {
            let (from, to) = if is_from { (v, to) } else { (from, v) };
            go(&Route::at(Page::Swap, &key, &rest_of(&plan, from, to)));
        })
    };
    let back = Route::at(Page::Swap, &props.open.key, &rest_of(plan, to, from)).href();
    html! {
        <>
            <div class="swap-pick">
                { variant_chips(&yew::props!(VariantChipsProps { id: "swap-now", label: "It is now", plan: plan.clone(), picked: from, on_pick: pick(true) })) }
                { variant_chips(&yew::props!(VariantChipsProps { id: "swap-then", label: "It becomes", plan: plan.clone(), picked: to, on_pick: pick(false) })) }
                <p><a class="button" href={back} data-test="swap-back">{ "The other way round" }</a></p>
            </div>
            { moves(analysis, from, to) }
        </>
    }
}

fn moves(analysis: &Analysis, from: VariantIx, to: VariantIx) -> Html {
    let plan = analysis.plan();
    let name = |v: VariantIx| plan.variants[v].name.as_str();
    let found = analysis.swap(from, to);
    let said = said(found.as_ref(), name(from), name(to), from == to);
    html! {
        <section class="card swap-moves" aria-labelledby="swap-title">
            <Live text={said.clone()} />
            <h2 id="swap-title">{ said }</h2>
            if let Some(found) = &found {
                <ol class="swap-list">{ for found.moves.iter().enumerate().map(one_move) }</ol>
                if !found.stuck.is_empty() {
                    <p class="is-bad-words" data-test="swap-stuck">{ format!("This cannot be done as it stands: {} and another part are in each other\u{2019}s way.", found.stuck.join(", ")) }</p>
                }
                { stays(plan, from, to, found) }
                if !found.moves.is_empty() {
                    <p class="fine">{ "Parts with choices start at their first one and stay as they are where the other variant allows it." }</p>
                }
            }
        </section>
    }
}

fn said(found: Option<&Swap>, from: &str, to: &str, same: bool) -> String {
    match found {
        _ if same => format!("{from} is what it is now."),
        None => format!(
            "{from} cannot become {to}: one of them has no legal model yet. See what the grid says about it."
        ),
        Some(swap) if swap.moves.is_empty() => format!("{from} already is {to}: nothing moves."),
        Some(swap) => format!(
            "{from} to {to}: {}",
            format::count(swap.moves.len(), "handling", "handlings")
        ),
    }
}

fn one_move((n, step): (usize, &SwapMove)) -> Html {
    let (class, word) = if step.off {
        ("is-off", "Off")
    } else {
        ("is-on", "On")
    };
    html! {
        <li key={n} class={classes!("swap-move", class)} data-test="swap-move">
            <span class="swap-number" aria-hidden="true">{ n + 1 }</span>
            <span class="swap-word">
                <svg class="swap-arrow" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
                    <path d={if step.off { "M4 20h16M12 15V4M7 9l5-5 5 5" } else { "M4 20h16M12 4v11M7 10l5 5 5-5" }} />
                </svg>
                { word }
            </span>
            <span class="swap-said">{ &step.said }</span>
        </li>
    }
}

fn stays(plan: &Plan, from: VariantIx, to: VariantIx, found: &Swap) -> Html {
    let names = staying(plan, from, to, found);
    // The names are only shown where they are exactly those that the count means.
    let which = if names.len() == found.stays && !names.is_empty() {
        format!(": {}", names.join("; "))
    } else {
        String::new()
    };
    let parts = format::count(found.stays, "joint stays", "joints stay");
    html! { <p class="swap-stays">{ format!("{parts} as they are{which}.").replace("1\u{a0}joint stays as they are", "1\u{a0}joint stays as it is") }</p> }
}
