//! Handlings between every two variants; a number leads to its moves.

use lodewright_planner::kit::Plan;
use yew::prelude::*;

use super::pick::rest_of;
use crate::routes::{Page, Route};
use crate::shared::Shared;
use crate::store::PlanKey;

/// Props of [`count_table`].
#[derive(PartialEq, Properties)]
pub struct CountTableProps {
    /// The plan.
    pub plan: Shared<Plan>,
    /// By variant now, then by variant wanted.
    pub counts: Vec<Vec<Option<usize>>>,
    /// The plan's key.
    pub open: PlanKey,
}

/// See the module.
pub fn count_table(props: &CountTableProps) -> Html {
    let variants = &props.plan.variants;
    let row = |(from, counts): (usize, &Vec<Option<usize>>)| {
        let name = variants
            .get(from)
            .map(|v| v.name.as_str())
            .unwrap_or_default();
        html! {
            <tr key={from}>
                <th scope="row">{ name }</th>
                { for counts.iter().enumerate().map(|(to, n)| cell(props, from, to, *n)) }
            </tr>
        }
    };
    html! {
        <div>
            <h2 id="swap-table-title">{ "Handlings from each to each" }</h2>
            <div class="scroll" tabindex="0" role="region" aria-labelledby="swap-table-title">
                <table class="count-table" data-test="swap-table">
                    <thead>
                        <tr>
                            <th scope="col" class="count-corner">{ "now \u{2193} then \u{2192}" }</th>
                            { for variants.iter().map(|v| html! { <th key={v.id.to_string()} scope="col">{ &v.name }</th> }) }
                        </tr>
                    </thead>
                    <tbody>{ for props.counts.iter().enumerate().map(row) }</tbody>
                </table>
            </div>
        </div>
    }
}

fn cell(props: &CountTableProps, from: usize, to: usize, count: Option<usize>) -> Html {
    if from == to {
        return html! { <td key={to} class="is-same">{ "\u{2013}" }</td> };
    }
    let name = |v: usize| props.plan.variant_name(v);
    let Some(count) = count else {
        return html! { <td key={to}>{ "no way" }</td> };
    };
    let href = Route::at(Page::Swap, &props.open, &rest_of(&props.plan, from, to)).href();
    let label = format!("{count}: {} to {}", name(from), name(to));
    html! { <td key={to}><a {href} aria-label={label}>{ count }</a></td> }
}
