//! The page of the grid: table, cursor and dock together.

use lodewright_planner::kit::{Edit, Plan, Socket, Variant};
use wasm_bindgen::JsCast;
use web_sys::{ClipboardEvent, Element, HtmlElement};
use yew::prelude::*;

use super::cell_input::{CellInput, Done};
use super::cursor::{Cursor, DockShows, Pick, moved};
use super::dock::Dock;
use super::keys::{Wish, wish};
use super::paste::block;
use super::row::{GridRow, cell_button};
use super::view::{RowView, rows};
use crate::components::{Icon, Shape};
use crate::pages::PlanPageProps;
use crate::routes::Page;
use crate::shared::Shared;
use crate::store::{Action, Edited, Outcome, Store, use_store};

type CursorHandle = UseStateHandle<Cursor>;

/// See the module.
#[component]
pub fn GridPage(props: &PlanPageProps) -> Html {
    let store = use_store();
    let plan = &props.open.plan;
    let cursor = use_state_eq(Cursor::default);
    let table = use_node_ref();
    let on_done = on_done(&store, &cursor);
    let rows = use_memo(plan.clone(), |plan| rows(plan));
    let problems = use_memo(plan.clone(), |plan| plan.problems());
    let names = use_memo(plan.clone(), |plan| part_names(plan));
    let variants = use_memo(plan.clone(), |plan| {
        plan.variants
            .iter()
            .map(|v| AttrValue::from(v.name.clone()))
            .collect::<Vec<_>>()
    });
    use_focus(&table, &cursor);
    let known = cursor.pick.clone().filter(|pick| pick.is_in(plan));
    let shown = Cursor {
        pick: known,
        ..(*cursor).clone()
    };
    let frame = TableFrame {
        plan: plan.clone(),
        cursor: shown.clone(),
        rows: rows.into(),
        names: names.into(),
        variants: variants.into(),
        on_done,
    };
    let empty = plan.sockets.is_empty() && plan.variants.is_empty();
    html! {
        <div class="grid-page" data-test="page-grid">
            <div class="page-head">
                <h1>{ Page::Grid.title() }</h1>
                <div class="actions">
                    { add("add-socket", "Socket", &store, &cursor, add_socket) }
                    { add("add-variant", "Variant", &store, &cursor, add_variant) }
                    <button type="button" class="button is-quiet" data-test="paste-grid" onclick={show_paste(&cursor)}>{ "Paste a grid" }</button>
                </div>
            </div>
            if empty {
                <p class="empty">{ "Rows are sockets, the places where parts swap; columns are variants, what the one model can become. Add one of each, or paste both from a spreadsheet. Parts that never change need no row." }</p>
            }
            <div class="grid-and-dock">
                <div class="grid-side">
                    <div ref={table} class="grid-scroll" onclick={on_click(&cursor)} onkeydown={on_key(&store, &cursor)} onpaste={on_paste(&store, &cursor)} oncopy={on_copy(&store, &cursor)}>
                        if !empty {
                            { frame.view() }
                        }
                    </div>
                    if !problems.is_empty() {
                        <section class="problems" data-test="problems" aria-label="What does not fit yet">
                            <h2>{ "Does not fit yet" }</h2>
                            <ul>{ for problems.iter().map(|p| html! { <li key={p.to_string()}>{ &p.said }{ " " }{ &p.remedy }<span class="quiet">{ " (" }{ &p.place }{ ")" }</span></li> }) }</ul>
                        </section>
                    }
                </div>
                <Dock open={props.open.clone()} cursor={shown} set={cursor.setter()} />
            </div>
        </div>
    }
}

fn part_names(plan: &Plan) -> Vec<AttrValue> {
    let parts = plan.parts.iter().filter(|p| p.id != plan.base);
    parts.map(|p| AttrValue::from(p.name.clone())).collect()
}

/// Moves the browser's focus to the picked cell after each move.
#[hook]
fn use_focus(table: &NodeRef, cursor: &CursorHandle) {
    let table = table.clone();
    let place = cursor
        .pick
        .as_ref()
        .map(Pick::mark)
        .filter(|_| cursor.editing.is_none());
    use_effect_with(place, move |mark| {
        let found = table
            .cast::<Element>()
            .zip(mark.as_ref())
            .and_then(|(table, mark)| {
                table
                    .query_selector(&format!("[data-cell=\"{mark}\"]"))
                    .ok()
                    .flatten()
            });
        if let Some(cell) = found.and_then(|c| c.dyn_into::<HtmlElement>().ok()) {
            let _ = cell.focus();
        }
    });
}

struct TableFrame {
    plan: Shared<Plan>,
    cursor: Cursor,
    rows: Shared<Vec<RowView>>,
    names: Shared<Vec<AttrValue>>,
    variants: Shared<Vec<AttrValue>>,
    on_done: Edited<Done>,
}

impl TableFrame {
    fn view(&self) -> Html {
        html! {
            <table class="grid" role="grid" aria-label="Sockets down, variants across">
                <thead><tr>
                    <td class="grid-corner"><span>{ "Socket" }</span></td>
                    { for self.plan.variants.iter().map(|v| self.head(v)) }
                </tr></thead>
                <tbody>{ for self.rows.iter().enumerate().map(|(n, row)| self.row(n, row)) }</tbody>
            </table>
        }
    }

    fn head(&self, variant: &Variant) -> Html {
        let pick = Pick::variant(&variant.id);
        let picked = self.cursor.pick.as_ref() == Some(&pick);
        let editing = self.cursor.editing.clone().filter(|_| picked);
        html! {
            <th key={variant.id.to_string()} scope="col" class={classes!("grid-head", picked.then_some("is-picked"))}>
                if let Some(start) = editing {
                    <CellInput label="Name of the variant" {start} names={Vec::new()} on_done={self.on_done.clone()} />
                } else {
                    { cell_button(&pick, &AttrValue::from(variant.name.clone()), picked, classes!("cell")) }
                }
            </th>
        }
    }

    fn row(&self, n: usize, row: &RowView) -> Html {
        let place = self.cursor.pick.as_ref().and_then(|p| p.place(&self.plan));
        let active = place
            .filter(|(r, _)| *r == n + 1)
            .map(|(_, column)| (column, self.cursor.editing.clone()));
        let entry = (place.is_none() && n == 0).then(|| usize::from(!row.cells.is_empty()));
        html! {
            <GridRow key={row.socket.to_string()} row={row.clone()} variants={self.variants.clone()} names={self.names.clone()}
                {active} {entry} on_done={self.on_done.clone()} />
        }
    }
}

fn on_click(cursor: &CursorHandle) -> Callback<MouseEvent> {
    let cursor = cursor.clone();
    Callback::from(move |e: MouseEvent| {
        let cell = e
            .target_dyn_into::<Element>()
            .and_then(|t| t.closest("[data-cell]").ok().flatten());
        let mark = cell.and_then(|c| c.get_attribute("data-cell"));
        if let Some(pick) = mark.and_then(|m| Pick::read(&m)) {
            cursor.set(Cursor {
                pick: Some(pick),
                editing: None,
                dock: DockShows::Pick,
            });
        }
    })
}

fn on_key(store: &Store, cursor: &CursorHandle) -> Callback<KeyboardEvent> {
    let (store, cursor) = (store.clone(), cursor.clone());
    Callback::from(move |e: KeyboardEvent| {
        let now = focused(&e).map(|pick| Cursor {
            pick: Some(pick),
            ..(*cursor).clone()
        });
        let Some(now) = now.filter(|now| now.editing.is_none()) else {
            return;
        };
        let command = e.ctrl_key() || e.meta_key() || e.alt_key();
        let Some(wish) = wish(&e.key(), e.shift_key(), command) else {
            return;
        };
        if let Some(next) = granted(&store, &now, wish) {
            e.prevent_default();
            cursor.set(next);
        }
    })
}

/// The cell that has the browser's focus.
fn focused(e: &KeyboardEvent) -> Option<Pick> {
    let mark = e.target_dyn_into::<Element>()?.get_attribute("data-cell")?;
    Pick::read(&mark)
}

/// The cursor after a wish; none where the browser shall do as it always does.
fn granted(store: &Store, now: &Cursor, wish: Wish) -> Option<Cursor> {
    let pick = now.pick.clone()?;
    let with = |editing: String| Cursor {
        editing: Some(editing.into()),
        ..now.clone()
    };
    store
        .read(|s| {
            let plan = &s.track()?.plan;
            Some(match &wish {
                Wish::Go(step) => Cursor {
                    pick: Some(moved(plan, &pick, *step)?),
                    ..now.clone()
                },
                Wish::TypeOver(text) => with(text.clone()),
                Wish::Change => with(text_at(plan, &pick)),
                Wish::Clear => now.clone(),
                Wish::Dock if now.dock == DockShows::Pick => Cursor {
                    dock: DockShows::Nothing,
                    ..now.clone()
                },
                Wish::Dock => Cursor {
                    dock: DockShows::Pick,
                    ..now.clone()
                },
                Wish::Leave => Cursor::default(),
            })
        })
        .inspect(|_| {
            if wish == Wish::Clear {
                // Heads keep their names: an empty one would be refused.
                if let (Some(socket), Some(variant)) = (pick.socket.clone(), pick.variant.clone()) {
                    store.edit(Edit::WriteCell {
                        variant,
                        socket,
                        text: String::new(),
                    });
                }
            }
        })
}

fn text_at(plan: &Plan, pick: &Pick) -> String {
    let socket = pick.socket.as_ref().and_then(|id| plan.socket(id));
    let variant = pick.variant.as_ref().and_then(|id| plan.variant(id));
    match (socket, variant) {
        (Some(s), Some(v)) => plan.cell_text(&v.id, &s.id),
        (Some(s), None) => s.name.clone(),
        (None, Some(v)) => v.name.clone(),
        (None, None) => String::new(),
    }
}

fn on_done(store: &Store, cursor: &CursorHandle) -> Edited<Done> {
    let (store, cursor) = (store.clone(), cursor.clone());
    Callback::from(move |done: Done| {
        let mut next = Cursor {
            editing: None,
            ..(*cursor).clone()
        };
        if let Some((pick, Done::Write(text, step))) = next.pick.clone().zip(Some(done)) {
            written(&store, &pick, text)?;
            next.pick = store
                .read(|s| moved(&s.track()?.plan, &pick, step))
                .or(next.pick);
        }
        cursor.set(next);
        Ok(())
    })
}

/// Writes a text at a place; a refusal is told and keeps the edit open.
fn written(store: &Store, pick: &Pick, text: String) -> Outcome {
    let edit = store.read(|s| edit_at(&s.track()?.plan, pick, text));
    let outcome = edit.map_or(Ok(()), |edit| store.try_edit(edit));
    if let Err(said) = &outcome {
        store.send(Action::Tell(crate::store::Notice::refused(said.clone())));
    }
    outcome
}

fn edit_at(plan: &Plan, pick: &Pick, text: String) -> Option<Edit> {
    match (pick.socket.clone(), pick.variant.clone()) {
        (Some(socket), Some(variant)) => Some(Edit::WriteCell {
            variant,
            socket,
            text,
        }),
        (None, Some(variant)) => Some(Edit::RenameVariant(variant, text)),
        (Some(id), None) => {
            let socket = plan.socket(&id)?.clone();
            Some(Edit::PutSocket(Box::new(Socket {
                name: text.trim().to_owned(),
                ..socket
            })))
        }
        (None, None) => None,
    }
}

fn add(
    test: &'static str,
    word: &'static str,
    store: &Store,
    cursor: &CursorHandle,
    run: fn(&Store) -> Option<Pick>,
) -> Html {
    let (store, cursor) = (store.clone(), cursor.clone());
    let onclick = Callback::from(move |_: MouseEvent| {
        if let Some(pick) = run(&store) {
            let text = store
                .read(|s| s.track().map(|t| text_at(&t.plan, &pick)))
                .unwrap_or_default();
            cursor.set(Cursor {
                pick: Some(pick),
                editing: Some(text.into()),
                dock: cursor.dock,
            });
        }
    });
    html! { <button type="button" class="button" data-test={test} {onclick}><Icon shape={Shape::Plus} />{ word }</button> }
}

/// Adds a socket on the base under a name that is free, to be renamed at once.
fn add_socket(store: &Store) -> Option<Pick> {
    let (name, host) = store.read(|s| {
        let plan = &s.track()?.plan;
        Some((
            format!("Socket {}", plan.sockets.len() + 1),
            plan.base.clone(),
        ))
    })?;
    store.try_edit(Edit::AddSocket { name, host }).ok()?;
    store.read(|s| Some(Pick::socket(&s.track()?.plan.sockets.last()?.id)))
}

fn add_variant(store: &Store) -> Option<Pick> {
    let name = store.read(|s| Some(format!("Variant {}", s.track()?.plan.variants.len() + 1)))?;
    store.try_edit(Edit::AddVariant(name)).ok()?;
    store.read(|s| Some(Pick::variant(&s.track()?.plan.variants.last()?.id)))
}

fn show_paste(cursor: &CursorHandle) -> Callback<MouseEvent> {
    let cursor = cursor.clone();
    Callback::from(move |_| {
        cursor.set(Cursor {
            dock: DockShows::Paste,
            editing: None,
            ..(*cursor).clone()
        })
    })
}

fn on_paste(store: &Store, cursor: &CursorHandle) -> Callback<Event> {
    let (store, cursor) = (store.clone(), cursor.clone());
    Callback::from(move |e: Event| {
        let Some(pick) = cursor.pick.clone().filter(|_| cursor.editing.is_none()) else {
            return;
        };
        let data = e
            .dyn_ref::<ClipboardEvent>()
            .and_then(ClipboardEvent::clipboard_data);
        let text = data
            .and_then(|d| d.get_data("text/plain").ok())
            .unwrap_or_default();
        let edits = store
            .read(|s| s.track().map(|t| block(&t.plan, &pick, &text)))
            .unwrap_or_default();
        if !edits.is_empty() {
            e.prevent_default();
            store.send(Action::EditAll {
                label: "paste cells",
                edits,
            });
        }
    })
}

fn on_copy(store: &Store, cursor: &CursorHandle) -> Callback<Event> {
    let (store, cursor) = (store.clone(), cursor.clone());
    Callback::from(move |e: Event| {
        let Some(pick) = cursor.pick.clone().filter(|_| cursor.editing.is_none()) else {
            return;
        };
        let text = store
            .read(|s| s.track().map(|t| text_at(&t.plan, &pick)))
            .unwrap_or_default();
        let data = e
            .dyn_ref::<ClipboardEvent>()
            .and_then(ClipboardEvent::clipboard_data);
        if data.is_some_and(|d| d.set_data("text/plain", &text).is_ok()) {
            e.prevent_default();
        }
    })
}
