//! The panel with several things picked: sockets are lined up, everything is moved or removed together.

use lodewright_planner::kit::{Edit, Socket, SocketId};
use yew::prelude::*;

use super::props::{PanelProps, more, remove};
use crate::pages::sketch::buttons::button;
use crate::store::{Action, Store};

/// See the module.
pub fn several(props: &PanelProps, store: &Store) -> Html {
    let sockets = props.sketch.sockets();
    html! {
        <>
            <h2>{ format!("{} picked", props.sketch.picked.len()) }</h2>
            <p class="field-hint">{ "Drag one of the sockets, or use the arrow keys, to move them together." }</p>
            if sockets.len() > 1 {
                <div class="actions">
                    { line_up(&sockets, true, "line-up", "At one height", store) }
                    { line_up(&sockets, false, "line-along", "At one length", store) }
                </div>
            }
            { more(props) }
            <div class="actions">{ remove(props, store) }</div>
        </>
    }
}

/// Brings sockets to the height, or the place along, of the first.
fn line_up(
    sockets: &[SocketId],
    height: bool,
    test: &'static str,
    word: &str,
    store: &Store,
) -> Html {
    let (ids, store) = (sockets.to_vec(), store.clone());
    let axis = if height { 2 } else { 0 };
    button(test, word, move || {
        let edits = store.read(|s| {
            let plan = &s.track()?.plan;
            let at = |s: &Socket| s.at_mm;
            let first = at(plan.socket(ids.first()?)?)?;
            let moved = ids.iter().filter_map(|id| {
                let socket = plan.socket(id)?;
                // A socket stays on its face.
                if socket.facing.normal()[axis] != 0.0 {
                    return None;
                }
                let mut to = at(socket)?;
                to[axis] = first[axis];
                Some(Edit::PutSocket(Box::new(Socket {
                    at_mm: Some(to),
                    ..socket.clone()
                })))
            });
            Some(moved.collect::<Vec<_>>())
        });
        store.send(Action::EditAll {
            label: "line sockets up",
            edits: edits.unwrap_or_default(),
        });
    })
}
