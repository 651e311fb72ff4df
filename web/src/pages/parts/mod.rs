//! Parts and sockets in detail.
use super::PlanPageProps;
use yew::prelude::*;
/// Draft.
#[component]
pub fn PartsPage(_props: &PlanPageProps) -> Html {
    Html::default()
}
