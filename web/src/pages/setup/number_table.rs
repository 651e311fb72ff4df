//! A card of numbers that are changed one by one.

use yew::prelude::*;

use crate::components::NumberField;
use crate::store::Edited;

/// One number of a group `T`.
pub struct NumberOf<T> {
    /// Its id.
    pub id: &'static str,
    /// Its label.
    pub label: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// A further sentence.
    pub hint: &'static str,
    /// Reads it.
    pub get: fn(&T) -> f64,
    /// Changes it.
    pub set: fn(&mut T, f64),
}

/// All of a group as fields; `put` makes the commit callback of one.
pub fn fields<T>(
    numbers: &[NumberOf<T>],
    group: &T,
    put: impl Fn(fn(&mut T, f64)) -> Edited<f64>,
) -> Html {
    let field = |n: &NumberOf<T>| {
        html! { <NumberField key={n.id} id={n.id} label={n.label} unit={n.unit} hint={n.hint} value={(n.get)(group)} on_commit={put(n.set)} /> }
    };
    html! { <div class="pair">{ for numbers.iter().map(field) }</div> }
}

/// Writes one line of a table of numbers.
macro_rules! number_of {
    ($id:literal, $label:literal, $unit:literal, $hint:literal, $($field:ident).+) => {
        NumberOf {
            id: $id,
            label: $label,
            unit: $unit,
            hint: $hint,
            get: |g| g.$($field).+,
            set: |g, v| g.$($field).+ = v,
        }
    };
}
pub(super) use number_of;
