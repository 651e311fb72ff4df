//! One of two to five, all in sight.

use yew::prelude::*;

use super::Choice;
use crate::store::Edited;

/// Props of [`Segments`].
#[derive(PartialEq, Properties)]
pub struct SegmentsProps {
    /// Begins the ids of the single choices.
    pub id: AttrValue,
    /// The label.
    pub label: AttrValue,
    /// The choices.
    pub options: Vec<Choice>,
    /// The key of the present one.
    pub value: AttrValue,
    /// Takes another key or says why not.
    pub on_commit: Edited<AttrValue>,
    /// Whether the label is for screen readers alone.
    #[prop_or_default]
    pub bare: bool,
}

/// See the module.
#[component]
pub fn Segments(props: &SegmentsProps) -> Html {
    let error = use_state_eq(|| None::<AttrValue>);
    let again = use_force_update();
    let segment = |c: &Choice| {
        let (error, on_commit, key, again) = (
            error.clone(),
            props.on_commit.clone(),
            c.key.clone(),
            again.clone(),
        );
        let onchange = Callback::from(move |_: Event| {
            error.set(on_commit.emit(key.clone()).err());
            again.force_update();
        });
        html! {
            <label key={c.key.to_string()} class="segment">
                <input type="radio" name={&props.id} data-test={format!("{}-{}", props.id, c.key)}
                    checked={c.key == props.value} {onchange} />
                <span>{ &c.label }</span>
            </label>
        }
    };
    html! {
        <fieldset class="segments-field">
            <legend class={if props.bare { "visually-hidden" } else { "field-label" }}>{ &props.label }</legend>
            <div class="segments">{ for props.options.iter().map(segment) }</div>
            <p class="field-error" role="alert">{ (*error).clone().unwrap_or_default() }</p>
        </fieldset>
    }
}
