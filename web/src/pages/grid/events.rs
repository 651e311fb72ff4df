//! Clicks, keys and the clipboard on the table: handled once for all its cells.

use lodewright_planner::kit::{Cell, Edit, Plan, Socket, spreadsheet_cell};
use wasm_bindgen::JsCast;
use web_sys::{ClipboardEvent, Element, HtmlElement, ScrollIntoViewOptions, ScrollLogicalPosition};
use yew::prelude::*;

use super::cell_input::Done;
use super::choose::cell_of;
use super::cursor::{Cursor, DockShows, Pick, Step, moved};
use super::keys::{Wish, wish};
use super::paste::block;
use crate::store::{Action, Edited, Notice, Outcome, Store};

/// The handle of the cursor.
pub type CursorHandle = UseStateHandle<Cursor>;

/// Moves the browser's focus to the picked cell after each move.
#[hook]
pub fn use_focus(table: &NodeRef, cursor: &CursorHandle) {
    let table = table.clone();
    let idle = cursor.editing.is_none();
    let mark = cursor.pick.as_ref().map(Pick::mark).filter(|_| idle);
    let deps = (mark, cursor.grabs, cursor.dock);
    use_effect_with(deps, move |(mark, grabs, _)| {
        let cell = mark.as_ref().and_then(|mark| cell_at(&table, mark));
        if let Some(cell) = cell {
            if *grabs {
                let _ = cell.focus();
            }
            // The dock may have come over the cell.
            let near = ScrollIntoViewOptions::new();
            near.set_block(ScrollLogicalPosition::Nearest);
            near.set_inline(ScrollLogicalPosition::Nearest);
            cell.scroll_into_view_with_scroll_into_view_options(&near);
        }
    });
}

fn cell_at(table: &NodeRef, mark: &str) -> Option<HtmlElement> {
    let query = format!("[data-cell=\"{mark}\"]");
    let found = table
        .cast::<Element>()?
        .query_selector(&query)
        .ok()
        .flatten();
    found?.dyn_into().ok()
}

/// A click picks a cell and shows what may be done there; a click on the picked one types in it.
pub fn on_click(store: &Store, cursor: &CursorHandle) -> Callback<MouseEvent> {
    let (store, cursor) = (store.clone(), cursor.clone());
    Callback::from(move |e: MouseEvent| {
        let cell = e
            .target_dyn_into::<Element>()
            .and_then(|t| t.closest("[data-cell]").ok().flatten());
        let mark = cell.and_then(|c| c.get_attribute("data-cell"));
        if let Some(pick) = mark.and_then(|m| Pick::read(&m)) {
            let again = cursor.pick.as_ref() == Some(&pick) && cursor.dock == DockShows::Pick;
            let words = store.read(|s| s.track().map(|t| text_at(&t.plan, &pick)));
            cursor.set(Cursor {
                pick: Some(pick),
                editing: words.filter(|_| again).map(AttrValue::from),
                dock: DockShows::Pick,
                grabs: true,
            });
        }
    })
}

/// Keys move and type, as in a spreadsheet.
pub fn on_key(store: &Store, cursor: &CursorHandle) -> Callback<KeyboardEvent> {
    let (store, cursor) = (store.clone(), cursor.clone());
    Callback::from(move |e: KeyboardEvent| {
        // Tab moves within the grid once the reader is at work there, and passes through it else.
        if e.key() == "Tab" && cursor.pick.is_none() {
            return;
        }
        let now = focused(&e).map(|pick| Cursor {
            pick: Some(pick),
            grabs: true,
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
                Wish::Fill(step) => Cursor {
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
        .inspect(|next| {
            if let (Wish::Fill(_), Some(to)) = (&wish, &next.pick) {
                store.send(Action::EditAll {
                    label: "fill cells",
                    edits: fill(store, &pick, to),
                });
            }
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

/// The edits that copy one cell to another; none from or to a head.
pub fn fill(store: &Store, from: &Pick, to: &Pick) -> Vec<Edit> {
    let Some(((from_row, from_column), (row, column))) = from
        .socket
        .clone()
        .zip(from.variant.clone())
        .zip(to.socket.clone().zip(to.variant.clone()))
    else {
        return Vec::new();
    };
    let cell = store.read(|s| Some(cell_of(&s.track()?.plan, &from_row, &from_column)));
    let copied = cell.map(|cell| {
        Edit::PutCell(
            column,
            Cell {
                socket: row,
                ..cell
            },
        )
    });
    copied.into_iter().collect()
}

/// The words at a place, of a head with those of all its cells: what a spreadsheet takes.
fn copied(plan: &Plan, pick: &Pick) -> String {
    let with_head = |cells: Vec<String>, between: &str| {
        std::iter::once(text_at(plan, pick))
            .chain(cells)
            .map(|cell| spreadsheet_cell(&cell))
            .collect::<Vec<_>>()
            .join(between)
    };
    match (&pick.socket, &pick.variant) {
        (None, Some(v)) => {
            let cells = plan.sockets.iter().map(|s| plan.cell_text(v, &s.id));
            with_head(cells.collect(), "\n")
        }
        (Some(s), None) => {
            let cells = plan.variants.iter().map(|v| plan.cell_text(&v.id, s));
            with_head(cells.collect(), "\t")
        }
        _ => spreadsheet_cell(&text_at(plan, pick)),
    }
}

/// The words at a place.
pub fn text_at(plan: &Plan, pick: &Pick) -> String {
    let socket = pick.socket.as_ref().and_then(|id| plan.socket(id));
    let variant = pick.variant.as_ref().and_then(|id| plan.variant(id));
    match (socket, variant) {
        (Some(s), Some(v)) => plan.cell_text(&v.id, &s.id),
        (Some(s), None) => s.name.clone(),
        (None, Some(v)) => v.name.clone(),
        (None, None) => String::new(),
    }
}

/// Ends an edit in place.
pub fn on_done(store: &Store, cursor: &CursorHandle) -> Edited<Done> {
    let (store, cursor) = (store.clone(), cursor.clone());
    Callback::from(move |done: Done| {
        let mut next = Cursor {
            editing: None,
            // Leaving the input for another control must not call the focus back.
            grabs: !matches!(done, Done::Write(_, Step::Stay)),
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
        store.send(Action::Tell(Notice::refused(said.clone())));
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

/// Writes cells from the clipboard.
pub fn on_paste(store: &Store, cursor: &CursorHandle) -> Callback<Event> {
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

/// Gives the picked cell's words to the clipboard; of a head, the whole row or column.
pub fn on_copy(store: &Store, cursor: &CursorHandle) -> Callback<Event> {
    let (store, cursor) = (store.clone(), cursor.clone());
    Callback::from(move |e: Event| {
        let Some(pick) = cursor.pick.clone().filter(|_| cursor.editing.is_none()) else {
            return;
        };
        let text = store
            .read(|s| s.track().map(|t| copied(&t.plan, &pick)))
            .unwrap_or_default();
        let data = e
            .dyn_ref::<ClipboardEvent>()
            .and_then(ClipboardEvent::clipboard_data);
        if data.is_some_and(|d| d.set_data("text/plain", &text).is_ok()) {
            e.prevent_default();
        }
    })
}
