//! What each variant costs, and the joint that gives way first in it.

use lodewright_planner::VariantCost;
use lodewright_planner::kit::{Ix, Table, VariantIx};
use yew::prelude::*;

use crate::pages::joints::names::{joint_key, times};
use crate::routes::{Page, Route};
use crate::shared::Shared;
use crate::store::{Analysis, PlanKey};

/// Props of [`Costs`].
#[derive(PartialEq, Properties)]
pub struct CostsProps {
    /// The open plan.
    pub plan_key: PlanKey,
    /// The answers.
    pub analysis: Analysis,
}

/// The costs of one state of the plan.
type Worked = (Analysis, Shared<Table<VariantIx, VariantCost>>);

/// See the module. The costs ask for the plan to be worked out again without each variant: that happens after the page
/// has been shown.
#[component]
pub fn Costs(props: &CostsProps) -> Html {
    let d = &props.analysis;
    let worked = use_state_eq(|| None::<Worked>);
    {
        let worked = worked.clone();
        use_effect_with(d.clone(), move |d| {
            let d = d.clone();
            let timer = gloo::timers::callback::Timeout::new(50, move || {
                let costs = Shared::new(d.variant_costs());
                worked.set(Some((d, costs)));
            });
            move || drop(timer)
        });
    }
    if d.plan().variants.is_empty() {
        return Html::default();
    }
    let costs = (*worked)
        .as_ref()
        .filter(|(of, _)| of == d)
        .map(|(_, costs)| costs.clone());
    html! {
        <section class="magnet-block" aria-labelledby="costs-title">
            <h2 id="costs-title">{ "What each variant costs" }</h2>
            <div class="scroll" tabindex="0" role="group" aria-label="By variant">
            <table class="figures is-wide" data-test="variant-costs" aria-busy={costs.is_none().to_string()}>
                <thead><tr>
                    <th scope="col">{ "Variant" }</th><th scope="col" class="is-number">{ "Models" }</th>
                    <th scope="col" class="is-number">{ "Joints only for it" }</th><th scope="col" class="is-number">{ "Magnets only for it" }</th><th scope="col" class="is-number">{ "Steel only for it" }</th>
                    <th scope="col">{ "Weakest joint" }</th>
                </tr></thead>
                <tbody>{ for VariantIx::all(&d.plan().variants).map(|v| row(props, v, costs.as_ref().and_then(|c| c.get(v)))) }</tbody>
            </table>
            </div>
            <p class="fine">{ "\u{201c}Only for it\u{201d}: what would not be there if the variant were left out of the grid." }</p>
        </section>
    }
}

fn row(props: &CostsProps, variant: VariantIx, cost: Option<&VariantCost>) -> Html {
    let d = &props.analysis;
    let name = d.plan().variants[variant].name.clone();
    let models = d.models_of(variant);
    let number = |of: fn(&VariantCost) -> usize| {
        cost.map_or_else(|| "\u{2026}".to_owned(), |c| of(c).to_string())
    };
    html! {
        <tr key={variant.get()}>
            <th scope="row">{ name }</th>
            <td class="is-number">{ models.map_or_else(|| "too many to count".to_owned(), |m| m.to_string()) }</td>
            <td class="is-number">{ number(|c| c.joints) }</td>
            <td class="is-number">{ number(|c| c.magnets) }</td>
            <td class="is-number">{ number(|c| c.steel) }</td>
            <td>{ weakest(props, variant) }</td>
        </tr>
    }
}

fn weakest(props: &CostsProps, variant: VariantIx) -> Html {
    let d = &props.analysis;
    let Some(weakest) = d.weakest(variant) else {
        return html! { <span class="quiet">{ "nothing that magnets or pins hold" }</span> };
    };
    let joint = &d.joints()[weakest.joint];
    let href = Route::at(Page::Joints, &props.plan_key, &joint_key(d.plan(), joint)).href();
    html! {
        <>
            <a {href}>{ &joint.words }</a>
            <span>{ format!(" {}\u{a0}\u{d7}\u{a0}weight", times(weakest.margin_x_weight)) }</span>
            if !weakest.reaches_target {
                <span class="is-bad-words">{ ", under target" }</span>
            }
        </>
    }
}
