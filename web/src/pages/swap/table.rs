//! Moves between every two variants; a number leads to its moves.

use lodewright_planner::kit::{Ix, Variant, VariantIx};
use yew::prelude::*;

use super::counts::counts;
use super::pick::rest_of;
use crate::routes::{Page, Route};
use crate::store::{Analysis, PlanKey};

/// Props of [`Counts`].
#[derive(PartialEq, Properties)]
pub struct CountsProps {
    /// The analysis.
    pub analysis: Analysis,
    /// The plan's key.
    pub open: PlanKey,
}

/// See the module.
#[component]
pub fn Counts(props: &CountsProps) -> Html {
    let counted = use_memo(props.analysis.clone(), counts);
    let variants = &props.analysis.plan().variants;
    let row = |((from, variant), counts): ((VariantIx, &Variant), &Vec<Option<usize>>)| {
        let cells = VariantIx::all(variants).zip(counts);
        html! {
            <tr key={from.get()}>
                <th scope="row">{ &variant.name }</th>
                { for cells.map(|(to, n)| cell(props, from, to, *n)) }
            </tr>
        }
    };
    html! {
        <div>
            <h2 id="swap-table-title">{ "Moves between variants" }</h2>
            <div class="scroll" tabindex="0" role="region" aria-labelledby="swap-table-title">
                <table class="count-table" data-test="swap-table">
                    <thead>
                        <tr>
                            <th scope="col" class="count-corner">{ "now \u{2193} then \u{2192}" }</th>
                            { for variants.iter().map(|v| html! { <th key={v.id.to_string()} scope="col">{ &v.name }</th> }) }
                        </tr>
                    </thead>
                    <tbody>{ for VariantIx::each(variants).zip(counted.iter()).map(row) }</tbody>
                </table>
            </div>
        </div>
    }
}

fn cell(props: &CountsProps, from: VariantIx, to: VariantIx, count: Option<usize>) -> Html {
    if from == to {
        return html! { <td key={to.get()} class="is-same">{ "\u{2013}" }</td> };
    }
    let plan = props.analysis.plan();
    let name = |v: VariantIx| &plan.variants[v].name;
    let Some(count) = count else {
        return html! { <td key={to.get()}>{ "no way" }</td> };
    };
    let href = Route::at(Page::Swap, &props.open, &rest_of(plan, from, to)).href();
    let label = format!("{count}: {} to {}", name(from), name(to));
    html! { <td key={to.get()}><a {href} aria-label={label}>{ count }</a></td> }
}
