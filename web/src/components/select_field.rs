//! A drop-down field: one choice of a list.

use web_sys::HtmlSelectElement;
use yew::prelude::*;

use super::FieldFrame;
use crate::store::Edited;

/// One entry of a list to choose from.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// What is handed over.
    pub key: AttrValue,
    /// What is read.
    pub label: AttrValue,
}

impl Choice {
    /// From words.
    pub fn new(key: impl Into<AttrValue>, label: impl Into<AttrValue>) -> Self {
        Self {
            key: key.into(),
            label: label.into(),
        }
    }
}

/// Props of [`SelectField`].
#[derive(PartialEq, Properties)]
pub struct SelectFieldProps {
    /// The control's id.
    pub id: AttrValue,
    /// The label.
    pub label: AttrValue,
    /// The choices.
    pub options: Vec<Choice>,
    /// The key of the present one.
    pub value: AttrValue,
    /// Takes another key or says why not.
    pub on_commit: Edited<AttrValue>,
    /// A further sentence.
    #[prop_or_default]
    pub hint: AttrValue,
    /// Whether the label is for screen readers alone.
    #[prop_or_default]
    pub bare: bool,
}

/// See the module.
#[component]
pub fn SelectField(props: &SelectFieldProps) -> Html {
    let error = use_state_eq(|| None::<AttrValue>);
    let node = use_node_ref();
    {
        // The browser moves its own choice when the reader picks; after a refusal only this puts it back.
        let (node, value) = (node.clone(), props.value.clone());
        use_effect(move || {
            if let Some(select) = node.cast::<HtmlSelectElement>() {
                select.set_value(&value);
            }
        });
    }
    let again = use_force_update();
    let onchange = {
        let (error, on_commit) = (error.clone(), props.on_commit.clone());
        Callback::from(move |e: Event| {
            if let Some(select) = e.target_dyn_into::<HtmlSelectElement>() {
                error.set(on_commit.emit(select.value().into()).err());
                again.force_update();
            }
        })
    };
    let option = |c: &Choice| {
        html! { <option key={c.key.to_string()} value={&c.key} selected={c.key == props.value}>{ &c.label }</option> }
    };
    html! {
        <FieldFrame id={&props.id} label={&props.label} hint={&props.hint} error={(*error).clone()} bare={props.bare}>
            <select id={&props.id} data-test={&props.id} ref={node} {onchange}>
                { for props.options.iter().map(option) }
            </select>
        </FieldFrame>
    }
}
