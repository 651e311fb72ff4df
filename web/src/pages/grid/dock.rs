//! Beside the grid, or below it on a narrow screen: what may be done at the picked place by taps alone.

use lodewright_planner::kit::{Edit, Facing, Plan, Socket, Variant, VariantId};
use web_sys::HtmlTextAreaElement;
use yew::prelude::*;

use super::cell_dock::CellDock;
use super::choose;
use super::cursor::{Cursor, DockShows, Pick};
use crate::components::{Choice, SelectField, Shape, TextField, icon};
use crate::pages::presets::Presets;
use crate::routes::{Page, Route};
use crate::store::{Action, OpenPlan, Store, use_store};

/// Props of [`Dock`].
#[derive(PartialEq, Properties)]
pub struct DockProps {
    /// The open plan.
    pub open: OpenPlan,
    /// The reader's place; its pick is in the plan.
    pub cursor: Cursor,
    /// Moves the reader.
    pub set: UseStateSetter<Cursor>,
}

/// See the module.
#[component]
pub fn Dock(props: &DockProps) -> Html {
    let store = use_store();
    let body = match (&props.cursor.dock, &props.cursor.pick) {
        (DockShows::Paste, _) => Some(html! { <PasteDock set={props.set.clone()} /> }),
        (DockShows::Pick, Some(pick)) => at(props, pick, &store),
        _ => None,
    };
    let open = body.is_some();
    let close = {
        let (set, cursor) = (props.set.clone(), props.cursor.clone());
        Callback::from(move |_: MouseEvent| {
            set.set(Cursor {
                dock: DockShows::Nothing,
                editing: None,
                ..cursor.clone()
            })
        })
    };
    html! {
        <aside class={classes!("dock", open.then_some("is-open"))} aria-label="At the picked place" data-test="dock">
            if let Some(body) = body {
                <button type="button" class="button is-quiet is-icon dock-close" aria-label="Close" data-test="dock-close" onclick={close}>{ icon(Shape::Close) }</button>
                { body }
            } else if props.open.plan.sockets.is_empty() && props.open.plan.variants.is_empty() {
                <p class="quiet dock-hint">{ "What may go into a cell will stand here, to be tapped." }</p>
            } else {
                <p class="quiet dock-hint">{ "Pick a cell to fill it by taps, or type in it: a part\u{2019}s name, " }<kbd>{ "/" }</kbd>{ " between parts that are a free choice, " }<kbd>{ "-" }</kbd>{ " for nothing (it shows as a dot), " }<kbd>{ "180\u{b0}" }</kbd>{ " behind a part that is turned. A second tap on a cell or a name types in it; " }<kbd>{ "Shift" }</kbd>{ " with an arrow key copies a cell along." }</p>
            }
        </aside>
    }
}

fn at(props: &DockProps, pick: &Pick, store: &Store) -> Option<Html> {
    let plan = &props.open.plan;
    match (&pick.socket, &pick.variant) {
        (Some(socket), Some(variant)) => Some(html! {
            <CellDock key={pick.mark()} plan={plan.clone()} socket={socket.clone()} variant={variant.clone()} on_go={on_go(props)} />
        }),
        (Some(socket), None) => socket_dock(&props.open, plan.socket(socket)?, store),
        (None, Some(variant)) => variant_dock(plan, variant, store),
        (None, None) => None,
    }
}

fn on_go(props: &DockProps) -> Callback<Pick> {
    let (set, cursor) = (props.set.clone(), props.cursor.clone());
    Callback::from(move |pick| {
        set.set(Cursor {
            pick: Some(pick),
            editing: None,
            ..cursor.clone()
        })
    })
}

fn socket_dock(open: &OpenPlan, socket: &Socket, store: &Store) -> Option<Html> {
    let id = &socket.id;
    let href = Route::at(Page::Parts, &open.key, &format!("socket/{id}")).href();
    let hosts = open
        .plan
        .parts
        .iter()
        .map(|p| Choice::new(p.id.to_string(), p.name.clone()))
        .collect::<Vec<_>>();
    let faces = Facing::ALL
        .iter()
        .map(|f| Choice::new(f.word(), f.word()))
        .collect::<Vec<_>>();
    Some(html! {
        <div key={id.to_string()}>
            <h2>{ &socket.name }</h2>
            <TextField id="dock-socket-name" label="Socket" value={socket.name.clone()} on_commit={store.socket(id, |s, name: String| s.name = name)} />
            <SelectField id="dock-socket-host" label="On the part" options={hosts} value={socket.host.to_string()}
                on_commit={store.socket(id, |s, host: AttrValue| s.host = host.as_str().into())} />
            <SelectField id="dock-socket-face" label="On its" options={faces} value={socket.facing.word()}
                on_commit={store.socket(id, |s, word: AttrValue| if let Some(f) = face(&word) { s.facing = f })} />
            <Presets key={id.to_string()} socket={id.clone()} />
            <div class="actions">
                <a class="button" {href}>{ "All about this socket" }</a>
                { edit_button("dock-drop", "Remove the socket", store, Edit::DropSocket(id.clone())) }
            </div>
        </div>
    })
}

fn face(word: &str) -> Option<Facing> {
    Facing::ALL.into_iter().find(|f| f.word() == word)
}

fn variant_dock(plan: &Plan, id: &VariantId, store: &Store) -> Option<Html> {
    let variant = plan.variant(id)?;
    let renamed = id.clone();
    let filled = plan
        .sockets
        .iter()
        .filter(|s| variant.cell(&s.id).is_some())
        .count();
    Some(html! {
        <div key={id.to_string()}>
            <h2>{ &variant.name }</h2>
            <TextField id="dock-variant-name" label="Variant" value={variant.name.clone()}
                on_commit={store.edited(move |_, name| Some(Edit::RenameVariant(renamed.clone(), name)))} />
            <p class="quiet">{ format!("{filled} of {} sockets are filled.", plan.sockets.len()) }</p>
            { columns(plan, id, store) }
            <div class="actions">
                { edit_button("dock-copy", "Copy the variant", store, Edit::CopyVariant(id.clone())) }
                { edit_button("dock-drop", "Remove the variant", store, Edit::DropVariant(id.clone())) }
            </div>
        </div>
    })
}

/// Buttons that fill a column with the cells of another.
fn columns(plan: &Plan, id: &VariantId, store: &Store) -> Html {
    let others = plan.variants.iter().filter(|v| v.id != *id);
    let chip = |from: &Variant| {
        let (store, to, from_id) = (store.clone(), id.clone(), from.id.clone());
        let onclick = Callback::from(move |_: MouseEvent| {
            let edits = store
                .read(|s| Some(choose::column(&s.track()?.plan, &from_id, &to)))
                .unwrap_or_default();
            store.send(Action::EditAll {
                label: "copy a column",
                edits,
            });
        });
        html! { <button key={from.id.to_string()} type="button" class="chip" data-test={format!("column-{}", from.id)} {onclick}>{ &from.name }</button> }
    };
    html! {
        if plan.variants.len() > 1 {
            <div class="field" role="group" aria-label="Fill the column like">
                <p class="field-label" aria-hidden="true">{ "Fill the column like" }</p>
                <div class="chips">{ for others.map(chip) }</div>
            </div>
        }
    }
}

/// A button that makes one edit.
pub fn edit_button(test: &'static str, word: &'static str, store: &Store, edit: Edit) -> Html {
    let store = store.clone();
    html! { <button type="button" class="button" data-test={test} onclick={Callback::from(move |_: MouseEvent| store.edit(edit.clone()))}>{ word }</button> }
}

#[derive(PartialEq, Properties)]
struct PasteDockProps {
    set: UseStateSetter<Cursor>,
}

#[component]
fn PasteDock(props: &PasteDockProps) -> Html {
    let store = use_store();
    let node = use_node_ref();
    let error = use_state_eq(|| None::<AttrValue>);
    let take = {
        let (node, error, set) = (node.clone(), error.clone(), props.set.clone());
        Callback::from(move |_: MouseEvent| {
            let text = node
                .cast::<HtmlTextAreaElement>()
                .map(|t| t.value())
                .unwrap_or_default();
            match store.try_edit(Edit::PasteGrid(text)) {
                Ok(()) => set.set(Cursor::default()),
                Err(said) => error.set(Some(said)),
            }
        })
    };
    html! {
        <div key="paste">
            <h2>{ "Paste a grid" }</h2>
            <p>{ "Copy the cells in the spreadsheet and paste them here. The first row names the variants, from its second cell on; each further row begins with a socket. Rows and columns that are new are added; those of the same name are written over." }</p>
            <label class="field-label" for="paste-text">{ "Cells" }</label>
            <textarea ref={node} id="paste-text" data-test="paste-text" data-draft="" rows="8" spellcheck="false"
                placeholder={"\tWinter\tWorks\nNose\tPlough\tHook"} />
            <p class="field-error" role="alert">{ (*error).clone().unwrap_or_default() }</p>
            <button type="button" class="button is-main" data-test="paste-take" onclick={take}>{ "Take these cells" }</button>
        </div>
    }
}
