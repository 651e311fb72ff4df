//! Another pair like this one, or this one away.

use lodewright_planner::kit::Edit;
use lodewright_planner::{with_pair, without_pair};
use yew::prelude::*;

use super::study::Studied;
use crate::shared::Shared;
use crate::store::{Derived, use_store};

/// Props of [`PairButtons`].
#[derive(PartialEq, Properties)]
pub struct PairButtonsProps {
    /// The answers.
    pub derived: Derived,
    /// Index of the joint.
    pub joint: usize,
    /// The joint by itself.
    pub studied: Shared<Studied>,
    /// Index of the pair.
    pub pair: usize,
}

/// See the module.
#[component]
pub fn PairButtons(props: &PairButtonsProps) -> Html {
    let store = use_store();
    let plan = &props.derived.plan;
    let joint = props
        .derived
        .answers
        .joints
        .get(props.joint)
        .map(|j| j.joint);
    let (Some(joint), Some(pair)) = (joint, props.studied.model.pairs.get(props.pair)) else {
        return Html::default();
    };
    let [x, y] = pair.socket.at_mm;
    // Opposite the middle; a pair in the middle gets its neighbour 4 mm aside, to be moved by hand.
    let beside = if x == 0.0 && y == 0.0 {
        [4.0, 0.0]
    } else {
        [-x, -y]
    };
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
            { button("add-pair", "Add a pair like this", with_pair(plan, &joint, &props.studied.model, pair, beside)) }
            { button("drop-pair", "Take this pair away", without_pair(plan, &joint, pair)) }
        </div>
    }
}
