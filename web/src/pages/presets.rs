//! Usual joints as buttons: each lays out contact, pegs and sites of a socket, to be adjusted.

use lodewright_planner::kit::{JointPreset, SocketId};
use yew::prelude::*;

use crate::store::{Action, Store};

/// Buttons for one socket.
pub fn presets(socket: &SocketId, store: &Store) -> Html {
    let chip = |preset: JointPreset| {
        let (store, socket) = (store.clone(), socket.clone());
        let onclick = Callback::from(move |_: MouseEvent| {
            let edit = store.read(|s| preset.edit(&s.track()?.plan, &socket));
            if let Some(edit) = edit {
                store.send(Action::EditAll {
                    label: "lay out a usual joint",
                    edits: vec![edit],
                });
            }
        });
        html! { <button key={preset.key()} type="button" class="chip" title={preset.says()} data-test={format!("preset-{}", preset.key())} {onclick}>{ preset.name() }</button> }
    };
    html! {
        <div class="field" role="group" aria-label="Lay out as a usual joint">
            <p class="field-label" aria-hidden="true">{ "Lay out as a usual joint" }</p>
            <div class="chips">{ for JointPreset::ALL.into_iter().map(chip) }</div>
            <p class="field-hint">{ "Common sizes, to be adjusted; they come from practice, not from a standard." }</p>
        </div>
    }
}
