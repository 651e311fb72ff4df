//! The page: what a finger does, the drawing, the variants, and what is picked.

use lodewright_planner::kit::{Edit, Facing, Plan, SocketId, VariantId};
use yew::prelude::*;

use super::buttons::{button, chip};
use super::canvas::Canvas;
use super::panel::Panel;
use super::placing;
use super::sketch_state::{Kind, Sketch, SketchState, Tool};
use super::svg::difference;
use crate::components::{Choice, Live, Segments, SelectField, Shape, icon};
use crate::pages::PlanPageProps;
use crate::pages::grid::{AnswerStrip, BodyNotes};
use crate::routes::Page;
use crate::store::{Outcome, Store, use_store};

/// See the module.
#[component]
pub fn SketchPage(props: &PlanPageProps) -> Html {
    let store = use_store();
    let plan = &props.open.plan;
    let held = use_state_eq(|| SketchState::of(plan));
    let on_state = use_callback(held.setter(), |state, held| held.set(state));
    let sketch = Sketch::new(shown(plan, &held), on_state);
    let placing = sketch.tool == Tool::Place && placing::left(plan) > 0;
    let said = sketch.said.clone();
    html! {
        <div class="sk-page" data-test="page-sketch">
            <div class="page-head">
                <h1>{ Page::Sketch.title() }</h1>
                { sides(&sketch) }
            </div>
            <div class="sk">
                <div class="sk-main">
                    { tools(plan, &sketch) }
                    { hint(plan, &sketch) }
                    if placing {
                        { placing_bar(plan, &sketch, &store) }
                    }
                    <Canvas open={props.open.clone()} sketch={sketch.clone()} />
                    { variants(plan, &sketch, &store) }
                    <AnswerStrip plan_key={props.open.key.clone()} />
                    <BodyNotes plan_key={props.open.key.clone()} unplaced={false} />
                </div>
                <Panel open={props.open.clone()} sketch={sketch.clone()} />
            </div>
            <Live text={said} />
        </div>
    }
}

/// The state without what the plan no longer has, with what is to be placed in sight.
fn shown(plan: &Plan, held: &SketchState) -> SketchState {
    let state = held.pruned(plan);
    if state.tool == Tool::Place {
        placing::showing_host(plan, state)
    } else {
        state
    }
}

fn sides(sketch: &Sketch) -> Html {
    let options: Vec<_> = [
        Facing::Left,
        Facing::Right,
        Facing::Front,
        Facing::Back,
        Facing::Up,
        Facing::Down,
    ]
    .iter()
    .map(|f| Choice::new(f.way(), capital(f.way())))
    .collect();
    let now = sketch.clone();
    let on_commit = Callback::from(move |way: AttrValue| -> Outcome {
        if let Some(side) = Facing::ALL.into_iter().find(|f| f.way() == way.as_str()) {
            now.set(now.seen_from(side));
        }
        Ok(())
    });
    html! { <Segments id="side" label="Seen from" bare={true} value={sketch.side.way()} {options} {on_commit} /> }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters
        .next()
        .map(|c| c.to_uppercase().collect::<String>() + letters.as_str())
        .unwrap_or_default()
}

fn tools(plan: &Plan, sketch: &Sketch) -> Html {
    let tool = |test: &str, word: &str, tool: Tool| {
        let now = sketch.clone();
        let on = sketch.tool == tool;
        chip(test, word, on, move || now.set(now.taking(tool)))
    };
    html! {
        <div class="sk-bar" role="group" aria-label="What a finger does">
            { tool("tool-move", "Pick and move", Tool::Move) }
            { tool("tool-socket", "Put sockets", Tool::Socket) }
            if placing::left(plan) > 0 {
                { tool("tool-place", "Place sockets", Tool::Place) }
            }
            <span class="sk-bar-word" aria-hidden="true">{ "Draw a" }</span>
            { for Kind::ALL.into_iter().map(|kind| {
                let word = kind.drawn().word();
                tool(&format!("tool-{}", word.to_lowercase()), word, Tool::Draw(kind))
            }) }
        </div>
    }
}

/// What to do next, always in sight.
fn hint(plan: &Plan, state: &SketchState) -> Html {
    let words = match state.tool {
        Tool::Place => place_hint(plan, state),
        _ if !state.said.is_empty() => state.said.to_string(),
        Tool::Socket if plan.sockets.is_empty() => {
            "This is the base, the part that everything sits on. Tap a face where parts swap: a socket goes there. A tap on the outline means the face that is seen from its edge.".to_owned()
        }
        Tool::Socket => "Tap a face, or the outline for a face seen from its edge.".to_owned(),
        Tool::Move => "Tap to pick, drag to move. A frame drawn on the bare ground picks several; two fingers zoom and shift.".to_owned(),
        Tool::Slide => "Draw a finger over the drawing: the picture goes along.".to_owned(),
        Tool::Measure => "Tap both ends of a known length in the picture.".to_owned(),
        Tool::Draw(Kind::Outline) => "Tap corner by corner; tap the first again to close.".to_owned(),
        Tool::Draw(_) => "Draw from the socket outwards: the part grows evenly about it. Begun beside a socket, it is drawn from corner to corner.".to_owned(),
    };
    html! { <p class="sk-hint" data-test="sketch-hint">{ words }</p> }
}

/// Which socket is to be placed, after what was said of the last one.
fn place_hint(plan: &Plan, state: &SketchState) -> String {
    let wanted = match placing::next(plan, state) {
        Some(socket) => {
            let host = plan.part(&socket.host).map_or("", |p| &p.name);
            format!("{}: tap where it sits on {host}. A tap on the outline means the face that is seen from its edge.", socket.name)
        }
        None if placing::left(plan) == 0 => "Every socket has its place.".to_owned(),
        None => "What is left sits on parts that do not stand here yet: place those first, or give them a variant.".to_owned(),
    };
    if state.said.is_empty() {
        wanted
    } else {
        format!("{} {wanted}", state.said)
    }
}

/// Beside the taps: without a finger, later, and done.
fn placing_bar(plan: &Plan, sketch: &Sketch, store: &Store) -> Html {
    let now = placing::next(plan, sketch).map(|s| (s.id.clone(), s.facing.word()));
    let left = crate::format::count(placing::left(plan), "socket has", "sockets have");
    let done = {
        let now = sketch.clone();
        move || now.set(now.taking(Tool::Move).saying(""))
    };
    let again = {
        let now = sketch.clone();
        move || now.change(|s| s.put_off.clear())
    };
    html! {
        <div class="sk-bar is-placing" role="group" aria-label="Placing sockets" data-test="placing">
            <span class="sk-bar-word">{ format!("{left} no place yet") }</span>
            if let Some((id, word)) = now {
                { button("place-middle", &format!("In the middle of the {word}"), middle(&id, sketch, store)) }
                { button("place-later", "Later", put_off(&id, sketch)) }
            } else if !sketch.put_off.is_empty() {
                { button("place-again", "Those put off", again) }
            }
            { button("place-done", "Done", done) }
        </div>
    }
}

fn middle(id: &SocketId, sketch: &Sketch, store: &Store) -> impl Fn() + 'static {
    let (id, now, store) = (id.clone(), sketch.clone(), store.clone());
    move || {
        let placed = store.read(|s| {
            let plan = &s.track()?.plan;
            let said = format!("{} is in the middle.", plan.socket(&id)?.name);
            Some((placing::in_the_middle(plan, &id)?, said))
        });
        if let Some((edit, said)) = placed {
            store.edit(edit);
            now.set(now.saying(said));
        }
    }
}

fn put_off(id: &SocketId, sketch: &Sketch) -> impl Fn() + 'static {
    let (id, now) = (id.clone(), sketch.clone());
    move || now.set(now.with(|s| s.put_off.push(id.clone())).saying(""))
}

fn variants(plan: &Plan, sketch: &Sketch, store: &Store) -> Html {
    let show = |test: String, word: &str, variant: Option<VariantId>| {
        let now = sketch.clone();
        chip(&test, word, sketch.variant == variant, move || {
            now.change(|s| s.variant.clone_from(&variant));
        })
    };
    let add = {
        let (now, store) = (sketch.clone(), store.clone());
        Callback::from(move |_: MouseEvent| {
            let name =
                store.read(|s| Some(format!("Variant {}", s.track()?.plan.variants.len() + 1)));
            let Some(name) = name else { return };
            if store.try_edit(Edit::AddVariant(name)).is_ok() {
                let variant = store.read(|s| Some(s.track()?.plan.variants.last()?.id.clone()));
                let next = now.with(|s| s.variant = variant);
                now.set(next.saying("A further variant, with nothing in it yet."));
            }
        })
    };
    html! {
        <div class="sk-variants">
            <div class="sk-bar" role="group" aria-label="What stands there">
                <span class="sk-bar-word" aria-hidden="true">{ "Shown" }</span>
                { show("shown-base".to_owned(), "Base alone", None) }
                { for plan.variants.iter().map(|v| show(format!("shown-{}", v.id), &v.name, Some(v.id.clone()))) }
                <button type="button" class="button is-small" data-test="sketch-add-variant" onclick={add}>{ icon(Shape::Plus) }{ "Variant" }</button>
            </div>
            if plan.variants.len() > 1 && sketch.variant.is_some() {
                { compare(plan, sketch) }
            }
            if let Some(words) = difference(plan, sketch) {
                <p data-test="sketch-difference">{ words }</p>
            }
        </div>
    }
}

fn compare(plan: &Plan, sketch: &Sketch) -> Html {
    let mut options = vec![Choice::new("", "None")];
    options.extend(
        plan.variants
            .iter()
            .filter(|v| Some(&v.id) != sketch.variant.as_ref())
            .map(|v| Choice::new(v.id.to_string(), v.name.clone())),
    );
    let now = sketch.clone();
    let on_commit = Callback::from(move |id: AttrValue| -> Outcome {
        now.change(|s| s.other = (!id.is_empty()).then(|| id.as_str().into()));
        Ok(())
    });
    let value = sketch
        .other
        .as_ref()
        .map(ToString::to_string)
        .unwrap_or_default();
    html! { <SelectField id="compare-with" label="Show what changes to become" {options} {value} {on_commit} /> }
}
