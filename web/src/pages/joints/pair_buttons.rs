//! Another pair like this one, or this one away.

use lodewright_planner::kit::Edit;
use lodewright_planner::{JointIx, place_for_pair, with_pair, without_pair};
use yew::prelude::*;

use super::study::Studied;
use crate::shared::Shared;
use crate::store::{Analysis, use_store};

/// Props of [`PairButtons`].
#[derive(PartialEq, Properties)]
pub struct PairButtonsProps {
    /// The answers.
    pub analysis: Analysis,
    /// The joint.
    pub joint: JointIx,
    /// The joint by itself.
    pub studied: Shared<Studied>,
    /// Index of the pair.
    pub pair: usize,
}

/// See the module.
#[component]
pub fn PairButtons(props: &PairButtonsProps) -> Html {
    let store = use_store();
    let plan = props.analysis.plan();
    let joint = props.analysis.joints().get(props.joint).map(|j| j.joint);
    let (Some(joint), Some(pair)) = (joint, props.studied.model.pairs.get(props.pair)) else {
        return Html::default();
    };
    let room = place_for_pair(plan, &props.studied.model, props.pair);
    let further = room.and_then(|at| with_pair(plan, &joint, &props.studied.model, pair, at));
    let button = |test: &str, word: &'static str, edit: Option<Edit>| {
        let (store, made) = (store.clone(), edit.clone());
        let onclick = Callback::from(move |_: MouseEvent| {
            if let Some(edit) = &made {
                store.edit(edit.clone());
            }
        });
        html! {
            if edit.is_some() {
                <button type="button" class="button is-small" data-test={format!("{test}-{}", props.pair + 1)} {onclick}>{ word }</button>
            }
        }
    };
    html! {
        <div class="actions">
            { button("add-pair", "Add a pair where it helps most", further) }
            { button("drop-pair", "Take this pair away", without_pair(plan, &joint, pair)) }
        </div>
    }
}
