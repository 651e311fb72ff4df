//! What the panel is given, and the buttons that more than one of its states has.

use yew::prelude::*;

use crate::pages::sketch::buttons::{button, chip};
use crate::pages::sketch::edits;
use crate::pages::sketch::sketch_state::Sketch;
use crate::store::{Action, OpenPlan, Store};

/// Props of the panel.
#[derive(PartialEq, Properties)]
pub struct PanelProps {
    /// The open plan.
    pub open: OpenPlan,
    /// What is shown and picked.
    pub sketch: Sketch,
}

/// Removes what is picked.
pub fn remove(props: &PanelProps, store: &Store) -> Html {
    let (store, sketch) = (store.clone(), props.sketch.clone());
    button("sketch-remove", "Remove", move || {
        store.send(Action::EditAll {
            label: "remove what is picked",
            edits: edits::removed(&sketch.parts(), &sketch.sockets()),
        });
    })
}

/// Whether a tap adds to what is picked.
pub fn more(props: &PanelProps) -> Html {
    let sketch = props.sketch.clone();
    let on = sketch.several;
    chip(
        "pick-several",
        "A tap adds to what is picked",
        on,
        move || {
            sketch.change(|s| s.several = !on);
        },
    )
}
