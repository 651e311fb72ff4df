//! Beside the drawing: what is picked, by typed numbers and chips; the way through the page by keys alone.

use lodewright_planner::kit::{Drawn, Edit, Part, PartId, Plan, Socket, SocketId, VariantId, slug};
use yew::prelude::*;

use super::commands::closed;
use super::edits;
use super::page::chip;
use super::picture::picture;
use super::sketch_state::{Kind, Picked, SketchState, Tool};
use crate::components::{NumberField, TextField, VectorFieldProps, vector_field};
use crate::format::number;
use crate::pages::grid::{CellDock, Pick};
use crate::pages::presets::presets;
use crate::routes::{Page, Route};
use crate::store::{Action, OpenPlan, Store, use_store};

/// Props of [`Panel`].
#[derive(PartialEq, Properties)]
pub struct PanelProps {
    /// The open plan.
    pub open: OpenPlan,
    /// What is shown and picked.
    pub state: SketchState,
    /// Takes another state of it.
    pub on_state: Callback<SketchState>,
}

/// Parts to put in a socket that are shown at once.
const CHIPS: usize = 30;

/// See the module.
#[component]
pub fn Panel(props: &PanelProps) -> Html {
    let store = use_store();
    let plan = &props.open.plan;
    let body = match props.state.picked.as_slice() {
        [Picked::Socket(id)] => plan.socket(id).map(|s| socket(props, s, &store)),
        [Picked::Part(id)] => plan.part(id).map(|p| part(props, p, &store)),
        [] => Some(nothing(props, &store)),
        _ => Some(several(props, &store)),
    };
    html! {
        <aside class="sk-panel card form" aria-label="What is picked" data-test="sketch-panel">
            if !props.state.outline.is_empty() && props.state.tool != Tool::Measure {
                { outline(props, &store) }
            }
            { body }
        </aside>
    }
}

pub fn button(test: &'static str, word: &str, run: impl Fn() + 'static) -> Html {
    html! { <button type="button" class="button" data-test={test} onclick={Callback::from(move |_: MouseEvent| run())}>{ word }</button> }
}

fn outline(props: &PanelProps, store: &Store) -> Html {
    let (state, on_state) = (props.state.clone(), props.on_state.clone());
    let (open, store) = (props.open.clone(), store.clone());
    let drop = {
        let (state, on_state) = (state.clone(), on_state.clone());
        move || {
            on_state.emit(SketchState {
                outline: Vec::new(),
                ..state.clone()
            })
        }
    };
    html! {
        <div class="actions">
            { button("outline-close", "Close the outline", move || on_state.emit(closed(&store, &open.plan, &state))) }
            { button("outline-drop", "Drop it", drop) }
        </div>
    }
}

fn remove(props: &PanelProps, store: &Store) -> Html {
    let (store, state) = (store.clone(), props.state.clone());
    button("sketch-remove", "Remove", move || {
        store.send(Action::EditAll {
            label: "remove what is picked",
            edits: edits::removed(&state.parts(), &state.sockets()),
        });
    })
}

fn socket(props: &PanelProps, s: &Socket, store: &Store) -> Html {
    let id = &s.id;
    let plan = &props.open.plan;
    let href = Route::at(Page::Parts, &props.open.key, &format!("socket/{id}")).href();
    let place = {
        let id = id.clone();
        store.edited(move |plan: &Plan, (n, v): (usize, f64)| {
            let mut socket = plan.socket(&id)?.clone();
            let mut at = socket.frame(plan.part(&socket.host)?).origin_mm;
            *at.get_mut(n)? = v;
            socket.at_mm = Some(at);
            Some(Edit::PutSocket(Box::new(socket)))
        })
    };
    let at = plan.part(&s.host).map(|h| {
        let at = s.frame(h).origin_mm;
        at.map(|v| (v * 100.0).round() / 100.0 + 0.0).to_vec()
    });
    html! {
        <div key={format!("s-{id}")} class="form">
            <TextField id="sketch-socket-name" label={format!("Socket, on the {}", s.facing.word())} value={s.name.clone()} on_commit={store.socket(id, |s, name: String| s.name = name.trim().to_owned())} />
            { seats(props, s) }
            { vector_field(&yew::props!(VectorFieldProps { id: "sketch-at", label: "Where, from the middle of the host", axes: axes(), values: at, unit: "mm", on_commit: place })) }
            { presets(id, store) }
            <div class="actions"><a class="button" {href}>{ "All about this socket" }</a>{ remove(props, store) }</div>
        </div>
    }
}

fn axes() -> Vec<AttrValue> {
    ["to the front", "to the left", "up"]
        .map(AttrValue::from)
        .to_vec()
}

/// What sits in the socket of the shown variant: as beside the grid.
fn seats(props: &PanelProps, s: &Socket) -> Html {
    let plan = &props.open.plan;
    let Some(variant) = props.state.variant.clone() else {
        return html! { <p class="field-hint">{ "Show a variant, or draw a part here, to say what sits in this socket." }</p> };
    };
    let on_go = {
        let (state, on_state) = (props.state.clone(), props.on_state.clone());
        Callback::from(move |pick: Pick| {
            on_state.emit(SketchState {
                variant: pick.variant,
                ..state.clone()
            })
        })
    };
    html! {
        <>
            <CellDock key={format!("{}/{variant}", s.id)} plan={plan.clone()} socket={s.id.clone()} variant={variant.clone()} {on_go} />
            if plan.parts.len() < 2 {
                <p class="field-hint">{ "No part to choose from yet: choose a shape above and draw one from here." }</p>
            }
        </>
    }
}

fn part(props: &PanelProps, p: &Part, store: &Store) -> Html {
    let plan = &props.open.plan;
    let id = &p.id;
    let href = Route::at(Page::Parts, &props.open.key, &format!("part/{id}")).href();
    let size = {
        let id = id.clone();
        store.edited(move |plan: &Plan, (n, v): (usize, f64)| {
            let old = plan.part(&id)?;
            let mut part = old.clone();
            *part.size_mm.get_mut(n)? = v;
            let next = if v.is_finite() && v > 0.0 {
                edits::refitted(old, part)?
            } else {
                // Refused by the plan itself, in its own words.
                part
            };
            Some(Edit::PutPart(Box::new(next)))
        })
    };
    let mass = plan.material(&p.material).map(|m| {
        let mass = p.mass_estimate(m.density_g_cm3);
        format!(
            "About {} g{}.",
            number((mass.mass_g * 10.0).round() / 10.0),
            if mass.spread > 0.1 {
                ", an estimate from its shape"
            } else {
                ""
            }
        )
    });
    html! {
        <div key={format!("p-{id}")} class="form">
            <TextField id="sketch-part-name" label="Part" value={p.name.clone()} on_commit={store.part(id, |p, name: String| p.name = name.trim().to_owned())} />
            { vector_field(&yew::props!(VectorFieldProps { id: "sketch-size", label: "Outer size", axes: ["length", "width", "height"].map(AttrValue::from).to_vec(), values: p.size_mm.to_vec(), unit: "mm", on_commit: size })) }
            { shapes(p, store) }
            <p class="field-hint">{ mass }</p>
            { sits_in(plan, props.state.variant.as_ref(), id) }
            <div class="actions"><a class="button" {href}>{ "All about this part" }</a>
                if *id != plan.base { { remove(props, store) } }
            </div>
        </div>
    }
}

fn shapes(p: &Part, store: &Store) -> Html {
    let shape = |kind: Kind| {
        let drawn = kind.drawn();
        let on = drawn.word() == p.drawn.word();
        let (store, id) = (store.clone(), p.id.clone());
        let word = drawn.word();
        chip(
            &format!("shape-{}", word.to_lowercase()),
            word,
            on,
            move || {
                let part = store.read(|s| {
                    let mut part = s.track()?.plan.part(&id)?.clone();
                    if part.mass == part.drawn.mass(part.size_mm)
                        || part.mass == lodewright_planner::kit::Mass::Guessed
                    {
                        part.mass = drawn.mass(part.size_mm);
                    }
                    part.drawn = drawn.clone();
                    Some(part)
                });
                if let Some(part) = part {
                    store.edit(Edit::PutPart(Box::new(part)));
                }
            },
        )
    };
    let simple = Kind::ALL.into_iter().filter(|k| *k != Kind::Outline);
    html! {
        <div class="chips" role="group" aria-label="Its shape">
            { for simple.map(shape) }
            if matches!(p.drawn, Drawn::Outline { .. }) {
                { chip("shape-outline", "Outline", true, || {}) }
            }
        </div>
    }
}

fn sits_in(plan: &Plan, variant: Option<&VariantId>, id: &PartId) -> Html {
    let shown = variant.and_then(|v| plan.variant(v));
    let socket = shown.and_then(|v| {
        let cell = v
            .cells
            .iter()
            .find(|c| c.seats.iter().any(|s| s.part == *id))?;
        plan.socket(&cell.socket)
    });
    let words = match (socket, shown) {
        (Some(s), Some(v)) => format!("Sits in {} in {}.", s.name, v.name),
        _ if *id == plan.base => "The base: everything sits on it.".to_owned(),
        (_, Some(v)) => format!("Sits nowhere in {}: pick a socket to put it in.", v.name),
        _ => String::new(),
    };
    html! { <p class="field-hint">{ words }</p> }
}

fn several(props: &PanelProps, store: &Store) -> Html {
    let sockets = props.state.sockets();
    html! {
        <>
            <h2>{ format!("{} picked", props.state.picked.len()) }</h2>
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
            let at = |s: &Socket| Some(s.frame(plan.part(&s.host)?).origin_mm);
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

fn more(props: &PanelProps) -> Html {
    let (state, on_state) = (props.state.clone(), props.on_state.clone());
    chip(
        "pick-several",
        "A tap adds to what is picked",
        props.state.several,
        move || {
            on_state.emit(SketchState {
                several: !state.several,
                ..state.clone()
            })
        },
    )
}

/// Nothing is picked: the base's size, parts and sockets to pick by keys, and what else can be done without a finger.
fn nothing(props: &PanelProps, store: &Store) -> Html {
    let plan = &props.open.plan;
    let pick = |test: String, word: &str, what: Picked| {
        let (state, on_state) = (props.state.clone(), props.on_state.clone());
        chip(&test, word, false, move || {
            on_state.emit(state.tapped(what.clone()))
        })
    };
    let put = {
        let (store, state, on_state) = (store.clone(), props.state.clone(), props.on_state.clone());
        move || {
            let added = store.add_socket();
            let Some(id) = added else { return };
            let side = state.side;
            let _ = store.socket(&id, move |s, ()| s.facing = side).emit(());
            on_state.emit(
                SketchState {
                    picked: vec![Picked::Socket(id)],
                    ..state.clone()
                }
                .saying(format!("A socket on the middle of the {}.", side.word())),
            );
        }
    };
    html! {
        <>
            if let Some(base) = plan.part(&plan.base) {
                { base_size(base, store) }
            }
            { variant_name(props, store) }
            <div class="field" role="group" aria-label="Parts">
                <p class="field-label" aria-hidden="true">{ "Parts" }</p>
                <div class="chips">{ for plan.parts.iter().take(CHIPS).map(|p| pick(format!("pick-part-{}", p.id), &p.name, Picked::Part(p.id.clone()))) }</div>
            </div>
            <div class="actions">
                { button("put-middle", "A socket on the middle of this side", put) }
                { new_part(props, store) }
            </div>
            { more(props) }
            { picture(plan, &props.state, &props.on_state, store) }
        </>
    }
}

fn variant_name(props: &PanelProps, store: &Store) -> Html {
    let shown = props.state.variant.as_ref();
    let Some(variant) = shown.and_then(|id| props.open.plan.variant(id)) else {
        return Html::default();
    };
    let id = variant.id.clone();
    let commit = store.edited(move |_, name: String| Some(Edit::RenameVariant(id.clone(), name)));
    html! { <TextField key={variant.id.to_string()} id="sketch-variant-name" label="The shown variant" value={variant.name.clone()} on_commit={commit} /> }
}

fn base_size(base: &Part, store: &Store) -> Html {
    let id = base.id.clone();
    let field = |n: usize, word: &'static str| {
        let commit = {
            let id = id.clone();
            store.edited(move |plan: &Plan, v: f64| {
                let old = plan.part(&id)?;
                let mut part = old.clone();
                *part.size_mm.get_mut(n)? = v;
                Some(Edit::PutPart(Box::new(part)))
            })
        };
        html! { <NumberField key={n} id={format!("base-{n}")} label={word} value={base.size_mm[n]} unit="mm" on_commit={commit} /> }
    };
    html! {
        <fieldset class="vector">
            <legend class="field-label">{ format!("{}, outer size", base.name) }</legend>
            <div class="vector-row">{ field(0, "length") }{ field(1, "width") }{ field(2, "height") }</div>
        </fieldset>
    }
}

/// A part of the chosen shape without a finger: it gets the usual size, to be typed over.
fn new_part(props: &PanelProps, store: &Store) -> Html {
    let Tool::Draw(kind) = props.state.tool else {
        return Html::default();
    };
    if kind == Kind::Outline {
        return Html::default();
    }
    let (store, state, on_state) = (store.clone(), props.state.clone(), props.on_state.clone());
    let word = kind.drawn().word();
    button(
        "new-part",
        &format!("A {} of usual size", word.to_lowercase()),
        move || {
            let made = store.read(|s| {
                let plan = &s.track()?.plan;
                let name = format!("{word} {}", plan.parts.len() + 1);
                let id = PartId::new(slug(&name, plan.parts.iter().map(|p| p.id.as_str())));
                let mut part = Part::plain(id.clone(), name.clone());
                part.drawn = kind.drawn();
                part.size_mm = usual_mm(kind);
                part.mass = part.drawn.mass(part.size_mm);
                Some((id, vec![Edit::AddPart(name), Edit::PutPart(Box::new(part))]))
            });
            let Some((id, edits)) = made else { return };
            store.send(Action::EditAll {
                label: "draw a part",
                edits,
            });
            on_state.emit(SketchState {
                picked: vec![Picked::Part(id)],
                ..state.clone()
            });
        },
    )
}

/// A beginning for parts that are typed, mm (common practice, no source).
fn usual_mm(kind: Kind) -> [f64; 3] {
    match kind {
        Kind::Box | Kind::Outline => [20.0, 20.0, 20.0],
        Kind::Plate => [30.0, 20.0, 2.0],
        Kind::Barrel => [8.0, 8.0, 30.0],
        Kind::Frame => [40.0, 30.0, 4.0],
        Kind::Figure => [14.0, 10.0, 54.0],
    }
}
