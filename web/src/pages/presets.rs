//! Usual joints as buttons: each lays out contact, pegs and sites of a socket, to be adjusted, or says why it cannot be here.

use lodewright_planner::kit::{JointPreset, SocketId};
use yew::prelude::*;

use crate::store::{Action, use_store};

/// Props of [`Presets`].
#[derive(PartialEq, Properties)]
pub struct PresetsProps {
    /// The socket.
    pub socket: SocketId,
}

/// Buttons for one socket. Keyed by it, so that what was said of one is not said of another.
#[component]
pub fn Presets(props: &PresetsProps) -> Html {
    let store = use_store();
    let error = use_state_eq(|| None::<AttrValue>);
    let chip = |preset: JointPreset| {
        let (store, socket, error) = (store.clone(), props.socket.clone(), error.clone());
        let onclick = Callback::from(move |_: MouseEvent| {
            let made = store.read(|s| Some(preset.edit(&s.track()?.plan, &socket)));
            let Some(made) = made else { return };
            error.set(made.as_ref().err().map(|why| why.to_string().into()));
            if let Ok(edit) = made {
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
            <p class="field-error" role="alert" data-test="preset-error">{ (*error).clone().unwrap_or_default() }</p>
            <p class="field-hint">{ "Common sizes, as far as the part has room for them, to be adjusted; they come from practice, not from a standard." }</p>
        </div>
    }
}
