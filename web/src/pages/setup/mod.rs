//! Stock, coats, targets, rates.
use super::PlanPageProps;
use yew::prelude::*;
/// Draft.
#[component]
pub fn SetupPage(_props: &PlanPageProps) -> Html {
    Html::default()
}
