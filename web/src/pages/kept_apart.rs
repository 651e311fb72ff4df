//! What is to come apart though it could be glued: a choice at its socket, and a button beside a joint.

use lodewright_planner::kit::{KeptApart, Socket, SocketId};
use lodewright_planner::{Apart, JointAnswer};
use yew::prelude::*;

use crate::components::{Choice, SelectField};
use crate::store::{Analysis, Store};

/// Each choice with its key and its words.
const CHOICES: [(Option<KeptApart>, &str, &str); 5] = [
    (None, "glue", "Glue it"),
    (
        Some(KeptApart::LetsGo),
        "lets-go",
        "Keep it apart: it must let go before it snaps",
    ),
    (
        Some(KeptApart::Painted),
        "painted",
        "Keep it apart: painted by itself",
    ),
    (
        Some(KeptApart::Packed),
        "packed",
        "Keep it apart: packed by itself",
    ),
    (
        Some(KeptApart::Wanted),
        "wanted",
        "Keep it apart: I want it so",
    ),
];

/// The choice for a socket.
pub fn kept_apart(socket: &Socket, store: &Store) -> Html {
    let options = CHOICES
        .iter()
        .map(|(_, key, words)| Choice::new(*key, *words));
    let value = CHOICES.iter().find(|(why, ..)| *why == socket.kept_apart);
    let on_commit = store.socket(&socket.id, |s, key: AttrValue| {
        if let Some((why, ..)) = CHOICES.iter().find(|(_, k, _)| *k == key.as_str()) {
            s.kept_apart = *why;
        }
    });
    html! {
        <SelectField id="socket-kept-apart" label="Where it could be glued" options={options.collect::<Vec<_>>()}
            value={value.map_or("", |(_, key, _)| key)} {on_commit}
            hint="A part with a thin section that must let go is never glued." />
    }
}

/// Marks the socket of a joint that could be glued, or takes the mark away; nothing where neither would change anything.
pub fn keep_button(d: &Analysis, joint: &JointAnswer, store: &Store) -> Html {
    let socket = &d.plan().sockets[joint.joint.socket];
    let is_thin = d.plan().parts[joint.joint.part].thin.is_some();
    match joint.separable {
        None => button(
            "keep-apart",
            "Keep it apart",
            &socket.id,
            Some(KeptApart::Wanted),
            store,
        ),
        Some(Apart::OnPurpose(_)) if !is_thin => button(
            "glue-after-all",
            "Glue it after all",
            &socket.id,
            None,
            store,
        ),
        _ => Html::default(),
    }
}

fn button(
    test: &'static str,
    words: &'static str,
    socket: &SocketId,
    kept_apart: Option<KeptApart>,
    store: &Store,
) -> Html {
    let put = store.socket(socket, move |s, ()| s.kept_apart = kept_apart);
    let onclick = Callback::from(move |_: MouseEvent| {
        // The store itself tells of a refusal.
        let _ = put.emit(());
    });
    html! { <button type="button" class="button is-small" data-test={test} {onclick}>{ words }</button> }
}
