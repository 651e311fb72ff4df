//! The panel with one socket picked: its name, what sits there, where it is.

use lodewright_planner::kit::{Edit, Plan, Socket};
use yew::prelude::*;

use super::props::{PanelProps, remove};
use crate::components::{TextField, VectorFieldProps, vector_field};
use crate::pages::grid::{CellDock, Pick};
use crate::pages::presets::Presets;
use crate::routes::{Page, Route};
use crate::store::Store;

/// See the module.
pub fn socket(props: &PanelProps, s: &Socket, store: &Store) -> Html {
    let id = &s.id;
    let href = Route::at(Page::Parts, &props.open.key, &format!("socket/{id}")).href();
    let place = {
        let id = id.clone();
        store.edited(move |plan: &Plan, (n, v): (usize, f64)| {
            let mut socket = plan.socket(&id)?.clone();
            let mut at = socket.frame(plan.part(&socket.host)?).origin_mm;
            *at.get_mut(n)? = v;
            socket.at_mm = Some(at);
            Some(Edit::PutSocket(Box::new(socket)))
        })
    };
    let at = s
        .at_mm
        .map(|at| at.map(|v| (v * 100.0).round() / 100.0 + 0.0).to_vec());
    html! {
        <div key={format!("s-{id}")} class="form">
            <TextField id="sketch-socket-name" label={format!("Socket, on the {}", s.facing.word())} value={s.name.clone()} on_commit={store.socket(id, |s, name: String| s.name = name.trim().to_owned())} />
            { seats(props, s) }
            { vector_field(&yew::props!(VectorFieldProps { id: "sketch-at", label: "Where, from the middle of the host", axes: axes(), values: at, unit: "mm", placeholder: "not yet", on_commit: place })) }
            <Presets key={id.to_string()} socket={id.clone()} />
            <div class="actions"><a class="button" {href}>{ "All about this socket" }</a>{ remove(props, store) }</div>
        </div>
    }
}

fn axes() -> Vec<AttrValue> {
    ["to the front", "to the left", "up"]
        .map(AttrValue::from)
        .to_vec()
}

/// What sits in the socket of the shown variant: as beside the grid.
fn seats(props: &PanelProps, s: &Socket) -> Html {
    let plan = &props.open.plan;
    let Some(variant) = props.sketch.variant.clone() else {
        return html! { <p class="field-hint">{ "Show a variant, or draw a part here, to say what sits in this socket." }</p> };
    };
    let on_go = {
        let sketch = props.sketch.clone();
        Callback::from(move |pick: Pick| sketch.change(|s| s.variant = pick.variant))
    };
    html! {
        <>
            <CellDock key={format!("{}/{variant}", s.id)} plan={plan.clone()} socket={s.id.clone()} variant={variant.clone()} {on_go} />
            if plan.parts.len() < 2 {
                <p class="field-hint">{ "No part to choose from yet: choose a shape above and draw one from here." }</p>
            }
        </>
    }
}
