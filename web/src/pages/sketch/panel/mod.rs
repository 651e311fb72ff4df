//! Beside the drawing: what is picked, by typed numbers and chips; the way through the page by keys alone.

mod nothing;
mod part;
mod props;
mod several;
mod socket;

use yew::prelude::*;

use super::buttons::button;
use super::commands::closed;
use super::sketch_state::{Picked, Tool};
use crate::store::{Store, use_store};
use props::PanelProps;

/// See the module.
#[component]
pub fn Panel(props: &PanelProps) -> Html {
    let store = use_store();
    let plan = &props.open.plan;
    let body = match props.sketch.picked.as_slice() {
        [Picked::Socket(id)] => plan.socket(id).map(|s| socket::socket(props, s, &store)),
        [Picked::Part(id)] => plan.part(id).map(|p| part::part(props, p, &store)),
        [] => Some(nothing::nothing(props, &store)),
        _ => Some(several::several(props, &store)),
    };
    html! {
        <aside class="sk-panel card form" aria-label="What is picked" data-test="sketch-panel">
            if !props.sketch.outline.is_empty() && props.sketch.tool != Tool::Measure {
                { outline(props, &store) }
            }
            { body }
        </aside>
    }
}

fn outline(props: &PanelProps, store: &Store) -> Html {
    let (open, sketch, store) = (props.open.clone(), props.sketch.clone(), store.clone());
    let close = move || sketch.set(closed(&store, &open.plan, &sketch));
    let sketch = props.sketch.clone();
    let drop = move || sketch.change(|s| s.outline.clear());
    html! {
        <div class="actions">
            { button("outline-close", "Close the outline", close) }
            { button("outline-drop", "Drop it", drop) }
        </div>
    }
}
