//! The frame around a control: label, control, hint, and why a value was not taken.

use yew::prelude::*;

/// The id of the sentence that says why a value was not taken.
pub fn error_id(id: &str) -> String {
    format!("{id}-error")
}

/// Props of [`FieldFrame`].
#[derive(PartialEq, Properties)]
pub struct FieldFrameProps {
    /// The control's id.
    pub id: AttrValue,
    /// The label.
    pub label: AttrValue,
    /// A further sentence.
    #[prop_or_default]
    pub hint: AttrValue,
    /// Why the value was not taken.
    #[prop_or_default]
    pub error: Option<AttrValue>,
    /// Whether the label is for screen readers alone, as in a table whose head says it.
    #[prop_or_default]
    pub bare: bool,
    /// The control.
    pub children: Html,
}

/// Label above, control, hint and error below.
#[component]
pub fn FieldFrame(props: &FieldFrameProps) -> Html {
    let label = if props.bare {
        "visually-hidden"
    } else {
        "field-label"
    };
    html! {
        <div class="field">
            <label class={label} for={&props.id}>{ &props.label }</label>
            { props.children.clone() }
            if !props.hint.is_empty() {
                <p class="field-hint">{ &props.hint }</p>
            }
            <p class="field-error" id={error_id(&props.id)} role="alert">{ props.error.clone().unwrap_or_default() }</p>
        </div>
    }
}
