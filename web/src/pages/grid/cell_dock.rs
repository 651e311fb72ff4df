//! Filling one cell by taps: parts as chips, a free choice, turns.

use lodewright_planner::kit::{Cell, Edit, Part, Plan, PlugId, Pose, Seat, SocketId, VariantId};
use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::choose;
use super::cursor::{Pick, Step, moved};
use super::events::fill;
use crate::components::{Choice, Segments, SelectField, Toggle};
use crate::shared::Shared;
use crate::store::{Action, Edited, Store, use_store};

/// Chips that are shown before a name must be typed.
const CHIPS: usize = 40;

/// Props of [`CellDock`].
#[derive(PartialEq, Properties)]
pub struct CellDockProps {
    /// The plan.
    pub plan: Shared<Plan>,
    /// The row.
    pub socket: SocketId,
    /// The column.
    pub variant: VariantId,
    /// Goes to another cell.
    pub on_go: Callback<Pick>,
}

/// See the module. Keyed by its cell, so that a choice begun in one cell is not carried to another.
#[component]
pub fn CellDock(props: &CellDockProps) -> Html {
    let store = use_store();
    let cell = choose::cell_of(&props.plan, &props.socket, &props.variant);
    let asked = use_state_eq(|| false);
    let free = *asked || cell.is_free();
    let find = use_state_eq(String::new);
    let (socket, variant) = words(&props.plan, &props.socket, &props.variant);
    let put = put(&store, &props.variant);
    html! {
        <div data-test={format!("dock-{}/{}", props.socket, props.variant)}>
            <h2>{ socket.clone() }<span class="quiet">{ " in " }</span>{ variant }</h2>
            <Segments id="cell-mode" label="How many may sit here" bare={true} value={if free { "free" } else { "one" }}
                options={vec![Choice::new("one", "One part"), Choice::new("free", "A free choice")]} on_commit={mode(&asked, &cell, &put)} />
            { chips(props, &cell, free, &find, &put) }
            { finder(&find, new_part(&store, props, free, &find)) }
            { for cell.seats.iter().enumerate().map(|(n, seat)| pose(props, &cell, n, seat, free, &put)) }
            if props.plan.variants.len() > 1 && !cell.seats.is_empty() {
                { onward(props, &store) }
                <button type="button" class="button is-quiet" data-test="cell-everywhere" onclick={everywhere(&store, &props.plan, &cell)}>{ "The same in every variant" }</button>
            }
        </div>
    }
}

fn put(store: &Store, variant: &VariantId) -> Edited<Cell> {
    let (store, variant) = (store.clone(), variant.clone());
    Callback::from(move |cell: Cell| store.try_edit(Edit::PutCell(variant.clone(), cell)))
}

fn mode(asked: &UseStateHandle<bool>, cell: &Cell, put: &Edited<Cell>) -> Edited<AttrValue> {
    let (asked, cell, put) = (asked.clone(), cell.clone(), put.clone());
    Callback::from(move |key: AttrValue| {
        asked.set(key == "free");
        if key == "one" && cell.is_free() {
            put.emit(choose::settled(&cell))
        } else {
            Ok(())
        }
    })
}

fn chips(
    props: &CellDockProps,
    cell: &Cell,
    free: bool,
    find: &UseStateHandle<String>,
    put: &Edited<Cell>,
) -> Html {
    let parts = choose::candidates(&props.plan, &props.socket, find);
    let more = parts.len().saturating_sub(CHIPS);
    let nothing = if cell.seats.is_empty() {
        !free
    } else {
        cell.may_be_empty
    };
    html! {
        <div class="chips" role="group" aria-label="What may sit here">
            { chip("nothing", "Nothing", nothing, put, choose::with_nothing(cell, free)) }
            { for parts.into_iter().take(CHIPS).map(|part| {
                let on = cell.seats.iter().any(|s| s.part == part.id);
                chip(part.id.as_str(), &part.name, on, put, choose::with_part(cell, &part.id, free))
            }) }
            if more > 0 {
                <span class="quiet">{ format!("and {more} more: type a name to find them") }</span>
            }
        </div>
    }
}

fn chip(test: &str, word: &str, on: bool, put: &Edited<Cell>, next: Cell) -> Html {
    let put = put.clone();
    let onclick = Callback::from(move |_: MouseEvent| {
        // The dock offers only what the plan takes; a refusal would be a notice from the store.
        let _ = put.emit(next.clone());
    });
    html! { <button key={test.to_owned()} type="button" class="chip" data-test={format!("chip-{test}")} aria-pressed={on.to_string()} {onclick}>{ word }</button> }
}

fn finder(find: &UseStateHandle<String>, add: Callback<()>) -> Html {
    let oninput = {
        let find = find.clone();
        Callback::from(move |e: InputEvent| {
            if let Some(input) = e.target_dyn_into::<HtmlInputElement>() {
                find.set(input.value());
            }
        })
    };
    let onkeydown = {
        let add = add.clone();
        Callback::from(move |e: KeyboardEvent| {
            if e.key() == "Enter" {
                add.emit(());
            }
        })
    };
    html! {
        <div class="finder">
            <label class="field-label" for="cell-find">{ "Find a part, or name a new one" }</label>
            <div class="finder-row">
                <input type="text" id="cell-find" data-test="cell-find" data-draft="" autocomplete="off" value={(**find).clone()} {oninput} {onkeydown} />
                <button type="button" class="button" data-test="cell-new-part" onclick={Callback::from(move |_: MouseEvent| add.emit(()))}>{ "Put in" }</button>
            </div>
        </div>
    }
}

/// Puts the named part in, adding it to the plan where it is new.
fn new_part(
    store: &Store,
    props: &CellDockProps,
    free: bool,
    find: &UseStateHandle<String>,
) -> Callback<()> {
    let (store, socket, variant, find) = (
        store.clone(),
        props.socket.clone(),
        props.variant.clone(),
        find.clone(),
    );
    Callback::from(move |()| {
        let name = find.trim().to_owned();
        if name.is_empty() {
            return;
        }
        let old = store
            .read(|s| s.track().map(|t| t.plan.cell_text(&variant, &socket)))
            .unwrap_or_default();
        store.edit(Edit::WriteCell {
            variant: variant.clone(),
            socket: socket.clone(),
            text: choose::text_with(&old, &name, free),
        });
        find.set(String::new());
    })
}

fn pose(
    props: &CellDockProps,
    cell: &Cell,
    n: usize,
    seat: &Seat,
    free: bool,
    put: &Edited<Cell>,
) -> Html {
    let Some(part) = props.plan.part(&seat.part) else {
        return Html::default();
    };
    let pose = seat.pose;
    let turned = {
        let (cell, put) = (cell.clone(), put.clone());
        Callback::from(move |key: AttrValue| {
            let turn_deg = key.parse().unwrap_or(0.0);
            put.emit(choose::with_pose(&cell, n, Pose { turn_deg, ..pose }))
        })
    };
    let over = {
        let (cell, put) = (cell.clone(), put.clone());
        Callback::from(move |over: bool| {
            put.emit(choose::with_pose(&cell, n, Pose { over, ..pose }))
        })
    };
    let can_turn_over = pose.over || seat.plug_in(part).is_some_and(|p| p.thickness_mm.is_some());
    html! {
        <div key={format!("{}-{n}", seat.part)} class="seat" role="group" aria-label={part.name.clone()}>
            <Segments id={format!("turn-{n}")} label={format!("{}, turned by", part.name)} value={turn_key(pose.turn_deg)} options={turns(pose.turn_deg)} on_commit={turned} />
            { plugs(part, seat, cell, n, put) }
            if let Some(more) = choose::with_another_pose(cell, n).filter(|_| free) {
                { another(&part.name, n, more, put) }
            }
            if can_turn_over {
                <Toggle id={format!("over-{n}")} label="Turned over" value={pose.over} on_commit={over} />
            }
        </div>
    }
}

fn another(name: &str, n: usize, more: Cell, put: &Edited<Cell>) -> Html {
    let put = put.clone();
    let onclick = Callback::from(move |_: MouseEvent| {
        // A pose that the plan refuses would be told by the store.
        let _ = put.emit(more.clone());
    });
    html! { <button type="button" class="button is-quiet" data-test={format!("pose-more-{n}")} {onclick}>{ format!("{name} in another pose too") }</button> }
}

fn turn_key(deg: f64) -> String {
    crate::format::number(deg.rem_euclid(360.0))
}

/// Quarter turns, and the present turn where it is another.
fn turns(now_deg: f64) -> Vec<Choice> {
    let mut all: Vec<String> = ["0", "90", "180", "270"].map(str::to_owned).to_vec();
    let now = turn_key(now_deg);
    if !all.contains(&now) {
        all.push(now);
    }
    all.into_iter()
        .map(|t| Choice::new(t.clone(), format!("{t}\u{b0}")))
        .collect()
}

fn plugs(part: &Part, seat: &Seat, cell: &Cell, n: usize, put: &Edited<Cell>) -> Html {
    if part.plugs.len() < 2 {
        return Html::default();
    }
    let options: Vec<_> = part
        .plugs
        .iter()
        .map(|p| Choice::new(p.id.to_string(), p.id.to_string()))
        .collect();
    let value = seat
        .plug_in(part)
        .map(|p| p.id.to_string())
        .unwrap_or_default();
    let (cell, put, first) = (
        cell.clone(),
        put.clone(),
        part.plugs.first().map(|p| p.id.clone()),
    );
    let on_commit = Callback::from(move |key: AttrValue| {
        let mut next = cell.clone();
        let plug = PlugId::new(key.to_string());
        if let Some(seat) = next.seats.get_mut(n) {
            seat.plug = (Some(&plug) != first.as_ref()).then_some(plug);
        }
        put.emit(next)
    });
    html! { <SelectField id={format!("plug-{n}")} label="Sits by its plug" {options} {value} {on_commit} /> }
}

/// Copies the cell to the next variant and goes there, so that a few taps fill along the row.
fn onward(props: &CellDockProps, store: &Store) -> Html {
    let here = Pick::cell(&props.socket, &props.variant);
    let Some(next) = moved(&props.plan, &here, Step::Right) else {
        return Html::default();
    };
    let (store, on_go) = (store.clone(), props.on_go.clone());
    let onclick = Callback::from(move |_: MouseEvent| {
        store.send(Action::EditAll {
            label: "fill cells",
            edits: fill(&store, &here, &next),
        });
        on_go.emit(next.clone());
    });
    html! { <button type="button" class="button is-quiet" data-test="cell-onward" {onclick}>{ "The same in the next variant" }</button> }
}

fn everywhere(store: &Store, plan: &Plan, cell: &Cell) -> Callback<MouseEvent> {
    let edits: Vec<_> = plan
        .variants
        .iter()
        .map(|v| Edit::PutCell(v.id.clone(), cell.clone()))
        .collect();
    let store = store.clone();
    Callback::from(move |_| {
        store.send(Action::EditAll {
            label: "fill a row",
            edits: edits.clone(),
        })
    })
}

/// The cell's row and column in words.
fn words(plan: &Plan, socket: &SocketId, variant: &VariantId) -> (String, String) {
    let socket = plan
        .socket(socket)
        .map(|s| s.name.clone())
        .unwrap_or_default();
    let variant = plan
        .variant(variant)
        .map(|v| v.name.clone())
        .unwrap_or_default();
    (socket, variant)
}
