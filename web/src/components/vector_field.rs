//! Two or three numbers that belong together: a place or a size.

use yew::prelude::*;

use super::NumberField;
use crate::store::Edited;

/// Props of [`vector_field`].
#[derive(PartialEq, Properties)]
pub struct VectorFieldProps {
    /// Begins the ids of the single numbers, which end in `-0`, `-1`, `-2`.
    pub id: AttrValue,
    /// The label of all.
    pub label: AttrValue,
    /// The label of each.
    pub axes: Vec<AttrValue>,
    /// The values; none where nothing is said, which shows empty fields.
    pub values: Option<Vec<f64>>,
    /// Takes the place of a number and the number.
    pub on_commit: Edited<(usize, f64)>,
    /// Takes the emptying of a field, where nothing may be said.
    #[prop_or_default]
    pub on_clear: Option<Edited<()>>,
    /// The unit of all.
    #[prop_or_default]
    pub unit: AttrValue,
    /// A further sentence.
    #[prop_or_default]
    pub hint: AttrValue,
    /// What empty fields stand for.
    #[prop_or_default]
    pub placeholder: AttrValue,
}

/// See the module.
pub fn vector_field(props: &VectorFieldProps) -> Html {
    let number = |(n, axis): (usize, &AttrValue)| {
        let on_commit = props.on_commit.clone();
        let value = props.values.as_ref().and_then(|v| v.get(n).copied());
        html! {
            <NumberField key={n} id={format!("{}-{n}", props.id)} label={axis} {value} unit={&props.unit}
                placeholder={&props.placeholder} on_clear={props.on_clear.clone()}
                on_commit={Callback::from(move |v| on_commit.emit((n, v)))} />
        }
    };
    html! {
        <fieldset class="vector">
            <legend class="field-label">{ &props.label }</legend>
            <div class="vector-row">{ for props.axes.iter().enumerate().map(number) }</div>
            if !props.hint.is_empty() {
                <p class="field-hint">{ &props.hint }</p>
            }
        </fieldset>
    }
}
