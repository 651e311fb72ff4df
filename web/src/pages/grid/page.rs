//! The page of the grid: table, cursor and dock together.

use lodewright_planner::kit::{Edit, Plan, Problem, Variant};
use yew::prelude::*;

use super::answer_strip::AnswerStrip;
use super::body_notes::BodyNotes;
use super::cell_input::{CellInput, Done, drafted};
use super::cursor::{Cursor, DockShows, Pick};
use super::dock::Dock;
use super::events::{
    CursorHandle, on_click, on_copy, on_done, on_key, on_paste, text_at, use_focus,
};
use super::row::{GridRow, cell_button};
use super::view::{RowView, rows};
use crate::components::{Shape, icon};
use crate::pages::PlanPageProps;
use crate::routes::Page;
use crate::shared::Shared;
use crate::store::{Edited, Store, use_store};

/// See the module.
#[component]
pub fn GridPage(props: &PlanPageProps) -> Html {
    let store = use_store();
    let plan = &props.open.plan;
    let cursor = use_state_eq(|| {
        let drafted = drafted().filter(|(pick, _)| pick.is_in(plan)).unzip();
        Cursor {
            pick: drafted.0,
            editing: drafted.1,
            ..Cursor::default()
        }
    });
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
                    <div ref={table} class="grid-scroll" onclick={on_click(&store, &cursor)} onkeydown={on_key(&store, &cursor)} onpaste={on_paste(&store, &cursor)} oncopy={on_copy(&store, &cursor)}>
                        if !empty {
                            { frame.view() }
                        }
                    </div>
                    <AnswerStrip plan_key={props.open.key.clone()} />
                    <BodyNotes plan_key={props.open.key.clone()} />
                    { problem_list(&problems) }
                </div>
                <Dock open={props.open.clone()} cursor={shown} set={cursor.setter()} />
            </div>
        </div>
    }
}

fn problem_list(problems: &[Problem]) -> Html {
    html! {
        if !problems.is_empty() {
            <section class="problems" data-test="problems" aria-label="What does not fit yet">
                <h2>{ "Does not fit yet" }</h2>
                <ul>{ for problems.iter().map(|p| html! { <li key={p.to_string()}>{ &p.message }{ " " }{ &p.remedy }<span class="quiet">{ " (" }{ &p.place }{ ")" }</span></li> }) }</ul>
            </section>
        }
    }
}

fn part_names(plan: &Plan) -> Vec<AttrValue> {
    let parts = plan.parts.iter().filter(|p| p.id != plan.base);
    parts.map(|p| AttrValue::from(p.name.clone())).collect()
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
                    <th scope="col" class="grid-corner"><span>{ "Socket" }</span></th>
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
                    <CellInput {pick} picked={start == variant.name} label="Name of the variant" {start} names={Vec::new()} on_done={self.on_done.clone()} />
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
                grabs: true,
            });
        }
    });
    html! { <button type="button" class="button" data-test={test} {onclick}>{ icon(Shape::Plus) }{ word }</button> }
}

fn add_socket(store: &Store) -> Option<Pick> {
    store.add_socket().map(|id| Pick::socket(&id))
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
