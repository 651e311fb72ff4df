//! A tick box with its words: yes or no.

use web_sys::HtmlInputElement;
use yew::prelude::*;

use crate::store::Edited;

/// Props of [`Toggle`].
#[derive(PartialEq, Properties)]
pub struct ToggleProps {
    /// The input's id.
    pub id: AttrValue,
    /// The label.
    pub label: AttrValue,
    /// The value.
    pub value: bool,
    /// Takes the other value or says why not.
    pub on_commit: Edited<bool>,
    /// A further sentence.
    #[prop_or_default]
    pub hint: AttrValue,
}

/// See the module.
#[component]
pub fn Toggle(props: &ToggleProps) -> Html {
    let error = use_state_eq(|| None::<AttrValue>);
    let again = use_force_update();
    let onchange = {
        let (error, on_commit) = (error.clone(), props.on_commit.clone());
        Callback::from(move |e: Event| {
            if let Some(input) = e.target_dyn_into::<HtmlInputElement>() {
                error.set(on_commit.emit(input.checked()).err());
                // A refused change leaves the value as it was: only a render puts the tick back.
                again.force_update();
            }
        })
    };
    html! {
        <div class="field toggle">
            <label for={&props.id}>
                <input type="checkbox" id={&props.id} data-test={&props.id} checked={props.value} {onchange} />
                <span>{ &props.label }</span>
            </label>
            if !props.hint.is_empty() {
                <p class="field-hint">{ &props.hint }</p>
            }
            <p class="field-error" role="alert">{ (*error).clone().unwrap_or_default() }</p>
        </div>
    }
}
