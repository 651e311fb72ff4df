//! What holds for the whole plan: the kit, what is in stock, coats, targets, rates.

mod card;
mod kit;
mod materials;
mod number_table;
mod numbers;
mod stock;
mod storage;

use yew::prelude::*;

use super::PlanPageProps;
use crate::routes::Page;
use numbers::{CoatNumbers, RateNumbers, TargetNumbers};

/// See the module.
#[component]
pub fn SetupPage(props: &PlanPageProps) -> Html {
    let plan = &props.open.plan;
    html! {
        <div data-test="page-setup">
            <div class="page-head"><h1>{ Page::Setup.title() }</h1></div>
            <p class="page-intro">{ "What holds for the whole plan. " }{ super::how::link("", Page::How.title()) }</p>
            <div class="setup">
                <kit::KitCard plan={plan.clone()} />
                <stock::MagnetCard plan={plan.clone()} />
                <stock::SteelCard plan={plan.clone()} />
                <CoatNumbers plan={plan.clone()} />
                <TargetNumbers plan={plan.clone()} />
                <RateNumbers plan={plan.clone()} />
                <materials::MaterialCard plan={plan.clone()} />
                <stock::BitCard plan={plan.clone()} />
                <storage::StorageCard plan={props.open.key.clone()} />
            </div>
        </div>
    }
}
