//! One socket's row of the grid. Clicks and keys are handled once, on the table.

use yew::prelude::*;

use super::cell_input::{CellInput, Done};
use super::cursor::Pick;
use super::view::{CellView, RowView};
use crate::shared::Shared;
use crate::store::Edited;

/// What is picked in a row: its column (0 for the head), and the text where an edit in place goes on.
pub type Active = Option<(usize, Option<AttrValue>)>;

/// Props of [`GridRow`].
#[derive(PartialEq, Properties)]
pub struct GridRowProps {
    /// The row.
    pub row: RowView,
    /// The names of the variants, for screen readers while typing.
    pub variants: Shared<Vec<AttrValue>>,
    /// The names of parts, for suggestions.
    pub names: Shared<Vec<AttrValue>>,
    /// What is picked in this row.
    pub active: Active,
    /// The column that the keyboard enters by, where nothing is picked.
    pub entry: Option<usize>,
    /// Takes the end of an edit in place.
    pub on_done: Edited<Done>,
}

/// See the module.
#[component]
pub fn GridRow(props: &GridRowProps) -> Html {
    let row = &props.row;
    let state = |column: usize| {
        let here = props.active.as_ref().filter(|(c, _)| *c == column);
        (
            here.is_some(),
            here.and_then(|(_, editing)| editing.clone()),
        )
    };
    let (picked, editing) = state(0);
    let head = Pick::socket(&row.socket);
    html! {
        <tr>
            <th scope="row" class={classes!("grid-head", picked.then_some("is-picked"))}>
                if let Some(start) = editing {
                    <CellInput pick={head} picked={start == row.name} label="Name of the socket" {start} names={Vec::new()} on_done={props.on_done.clone()} />
                } else {
                    { cell_button(&head, &row.name, picked || props.entry == Some(0), classes!("cell")) }
                }
            </th>
            { for row.cells.iter().enumerate().map(|(n, cell)| {
                let (picked, editing) = state(n + 1);
                td(props, n, cell, picked, editing)
            }) }
        </tr>
    }
}

fn td(
    props: &GridRowProps,
    n: usize,
    cell: &CellView,
    picked: bool,
    editing: Option<AttrValue>,
) -> Html {
    let pick = Pick::cell(&props.row.socket, &cell.variant);
    let variant = props.variants.get(n).cloned().unwrap_or_default();
    let kind = match (cell.text.is_empty(), cell.free) {
        (true, _) => "is-empty",
        (_, true) => "is-free",
        _ => "is-set",
    };
    html! {
        <td key={cell.variant.to_string()} class={classes!(kind, picked.then_some("is-picked"))}>
            if let Some(start) = editing {
                <CellInput {pick} label={format!("{}, {variant}", props.row.name)} {start} names={(*props.names).clone()} on_done={props.on_done.clone()} />
            } else {
                { cell_button(&pick, &cell.text, picked || props.entry == Some(n + 1), classes!("cell")) }
            }
        </td>
    }
}

/// The button in a cell. The keyboard enters the grid by one cell alone; arrows do the rest.
pub fn cell_button(pick: &Pick, text: &AttrValue, tabbed: bool, class: Classes) -> Html {
    html! {
        <button type="button" {class} data-cell={pick.mark()} data-test={format!("cell-{}", pick.mark())} tabindex={if tabbed { "0" } else { "-1" }}>
            if text.is_empty() {
                <span class="cell-nothing"><span aria-hidden="true">{ "\u{b7}" }</span><span class="visually-hidden">{ "nothing" }</span></span>
            } else {
                { text }
            }
        </button>
    }
}
