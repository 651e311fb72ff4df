//! What taps, drags and keys come to: edits, and what is picked afterwards.

use lodewright_planner::kit::{Drawn, Edit, PartId, Plan, SocketId};

use super::edits;
use super::gestures::{Hit, Live, REACH_PX, Sight, banded};
use super::handler_context::HandlerContext;
use super::placing;
use super::sketch_state::{Kind, Picked, SketchState, Tool};
use crate::projection::look::{Look, apart, bounds};
use crate::projection::scene::{FINE_MM, STEP_MM, Scene};
use crate::store::{Action, Store};

/// A tap on something at a place.
pub fn tapped(ctx: &HandlerContext, sight: &Sight<'_>, hit: Hit, at: [f64; 2]) {
    let state = &ctx.sketch;
    let next = match (state.tool, hit) {
        (Tool::Draw(Kind::Outline), _) => corner(ctx, sight, at),
        (Tool::Measure, _) => end(state, at),
        (Tool::Slide, _) => return,
        (_, Hit::Corner) => return,
        (Tool::Place, _) => place(ctx, sight, at),
        (_, Hit::Socket(id)) => state.tapped(Picked::Socket(id)),
        (Tool::Socket, _) => socket(ctx, sight, at),
        (_, Hit::Part(id)) => state.tapped(Picked::Part(id)),
        (_, Hit::Bare) => state.with(|s| s.picked.clear()),
    };
    state.set(next);
}

fn socket(ctx: &HandlerContext, sight: &Sight<'_>, at: [f64; 2]) -> SketchState {
    let state: &SketchState = &ctx.sketch;
    let reach_mm = REACH_PX * sight.screen.mm_per_px(&sight.camera);
    let Some((body, face)) = ctx.scene.face_at(at, reach_mm) else {
        return state.saying("No part is there. Tap on a part, or just beside its edge for the face that is seen from its edge.");
    };
    let put = edits::put_socket(&ctx.plan, &ctx.scene.look, body, face, sight.taken(at));
    let Some((id, edits)) = put else {
        return state.clone();
    };
    ctx.make("put a socket", edits);
    let name = &ctx.plan.parts[body.part].name;
    let said = format!("A socket on the {} of {name}.", face.word());
    state
        .with(|s| s.picked = vec![Picked::Socket(id)])
        .saying(said)
}

/// A tap while sockets are placed: the next one sits there.
fn place(ctx: &HandlerContext, sight: &Sight<'_>, at: [f64; 2]) -> SketchState {
    let state: &SketchState = &ctx.sketch;
    let Some(socket) = placing::next(&ctx.plan, state) else {
        return state.taking(Tool::Move);
    };
    let reach_mm = REACH_PX * sight.screen.mm_per_px(&sight.camera);
    let Some(face) = ctx.scene.face_at(at, reach_mm) else {
        return state.saying("No part is there. Tap on the part that carries it, or just beside its edge for the face that is seen from its edge.");
    };
    let word = face.1.word();
    match placing::tapped(&ctx.plan, &ctx.scene, socket, face, sight.taken(at)) {
        Ok(edit) => {
            let said = format!("{} is on the {word}.", socket.name);
            ctx.make("place a socket", [edit]);
            state.saying(said)
        }
        Err(said) => state.saying(said),
    }
}

/// One end of a known length; a third tap begins anew.
fn end(state: &SketchState, at: [f64; 2]) -> SketchState {
    let mut next = state.clone();
    if next.outline.len() >= 2 {
        next.outline.clear();
    }
    next.outline.push(at);
    // The length is typed where nothing else is picked.
    next.picked.clear();
    let both = next.outline.len() == 2;
    next.saying(if both {
        "Type how long that is."
    } else {
        "Now the other end."
    })
}

/// One more corner of an outline; the first corner again closes it.
fn corner(ctx: &HandlerContext, sight: &Sight<'_>, at: [f64; 2]) -> SketchState {
    let mut state = SketchState::clone(&ctx.sketch);
    let near = REACH_PX * sight.screen.mm_per_px(&sight.camera);
    let first = state.outline.first().copied();
    if let Some(first) = first.filter(|_| state.outline.len() >= 3)
        && apart(first, at) <= near
    {
        return closed(&ctx.store, &ctx.plan, &state);
    }
    state.outline.push(sight.taken(at));
    let n = state.outline.len();
    state.saying(match n {
        1 => "The first corner. Tap the next.".to_owned(),
        2 => "Two corners. Tap at least one more.".to_owned(),
        _ => format!("{n} corners. Tap the first again, or close the outline."),
    })
}

/// The outline becomes a part.
pub fn closed(store: &Store, plan: &Plan, state: &SketchState) -> SketchState {
    let points = state.outline.clone();
    let Some((low, high)) = bounds(points.iter().copied()).filter(|_| points.len() >= 3) else {
        return state.saying("An outline needs three corners.");
    };
    let middle = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
    let drawn = Drawn::Outline {
        seen_from: state.side,
        points_mm: points
            .iter()
            .map(|p| [p[0] - middle[0], p[1] - middle[1]])
            .collect(),
    };
    let next = state.with(|s| s.outline.clear());
    let scene = Scene::of(plan, next.variant.as_ref(), Look::from(next.side));
    part((store, plan, &scene), &next, drawn, (low, high), None)
}

/// A drag that came to something, begun on `hit`.
pub fn done(ctx: &HandlerContext, live: Live, hit: &Hit) {
    let (sketch, scene) = (&ctx.sketch, &*ctx.scene);
    match live {
        Live::Still => {}
        Live::Move(ids, by, _) => {
            ctx.make(
                "move a socket",
                edits::move_sockets(&ctx.plan, scene, &ids, by),
            );
            if let [id] = ids.as_slice() {
                sketch.change(|s| s.picked = vec![Picked::Socket(id.clone())]);
            }
        }
        Live::Band(a, b) => sketch.set(framed(sketch, banded(scene, a, b))),
        Live::Draw(from, to) => {
            if let Tool::Draw(kind) = sketch.tool {
                let low = std::array::from_fn(|k| from[k].min(to.at[k]));
                let high = std::array::from_fn(|k| from[k].max(to.at[k]));
                let begun_on = match hit {
                    Hit::Socket(id) => Some(id.clone()),
                    _ => None,
                };
                let all = (&ctx.store, &*ctx.plan, scene);
                sketch.set(part(all, sketch, kind.drawn(), (low, high), begun_on));
            }
        }
        Live::Size(id, to) => {
            let body = scene.body(&id);
            let part = body.and_then(|b| edits::resized(&ctx.plan, scene, b, to.at));
            ctx.make("size a part", part.map(|p| Edit::PutPart(Box::new(p))));
        }
        Live::Shift(id, by) => shift(ctx, &id, by),
        Live::Slide(by) => {
            let moved = ctx.plan.backdrop.as_ref().map(|b| Box::new(b.moved(by)));
            ctx.make(
                "move the picture",
                moved.map(|b| Edit::PutBackdrop(Some(b))),
            );
        }
    }
}

/// What a frame drawn around things picks.
fn framed(state: &SketchState, mut found: Vec<Picked>) -> SketchState {
    let mut next = state.clone();
    if !next.several {
        next.picked.clear();
    }
    next.picked.append(&mut found);
    next.picked.dedup();
    next.saying(format!("{} picked.", next.picked.len()))
}

fn shift(ctx: &HandlerContext, id: &PartId, by: [f64; 2]) {
    let body = ctx.scene.body(id);
    let part = body.and_then(|b| edits::shifted(&ctx.plan, &ctx.scene, b, by));
    ctx.make(
        "move a part on its socket",
        part.map(|p| Edit::PutPart(Box::new(p))),
    );
}

/// A part between two corners, in the socket that it was begun on, else in the nearest one that it covers, else in the picked
/// one.
fn part(
    (store, plan, scene): (&Store, &Plan, &Scene),
    state: &SketchState,
    drawn: Drawn,
    (low, high): ([f64; 2], [f64; 2]),
    begun_on: Option<SocketId>,
) -> SketchState {
    let near = |at: [f64; 2]| -> f64 {
        (0..2)
            .map(|k| (low[k] - at[k]).max(at[k] - high[k]).max(0.0))
            .fold(0.0, f64::max)
    };
    let reach_mm = 0.08 * (high[0] - low[0] + high[1] - low[1]) + 2.0;
    let covered = || {
        let marks = scene.marks.iter().filter(|m| near(m.at) <= reach_mm);
        let off = |at: [f64; 2]| {
            let middle = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
            apart(at, middle)
        };
        marks
            .min_by(|a, b| off(a.at).total_cmp(&off(b.at)))
            .map(|m| m.id.clone())
    };
    let socket = begun_on.or_else(covered).or_else(|| state.socket());
    let word = drawn.word();
    let new = edits::draw_part(
        plan,
        scene,
        drawn,
        (low, high),
        socket.as_ref(),
        state.variant.as_ref(),
    );
    let Some(new) = new else {
        return state.saying("That is too small to be a part: half a millimetre is the least.");
    };
    store.send(Action::EditAll {
        label: "draw a part",
        edits: new.edits,
    });
    let name = |id: &SocketId| plan.socket(id).map(|s| s.name.clone()).unwrap_or_default();
    let said = match (&socket, &new.variant) {
        (Some(id), Some(_)) => format!("{word} drawn, in {}.", name(id)),
        (Some(_), None) => format!(
            "{word} drawn. Only the base is shown, so it sits in no variant yet: show a variant first to put it in one."
        ),
        (None, _) => format!(
            "{word} drawn; no socket is near, so it sits nowhere yet. Pick a socket to put it in."
        ),
    };
    let next = state.with(|s| {
        s.variant = s.variant.take().or(new.variant);
        s.picked = vec![Picked::Part(new.id)];
    });
    next.saying(said)
}

/// A key on the drawing, or on what has the focus there. Answers whether it was one of the drawing's.
pub fn keyed(ctx: &HandlerContext, key: &str, fine: bool, on: Option<Hit>) -> bool {
    let state = &ctx.sketch;
    let step = if fine { FINE_MM } else { STEP_MM };
    let by = match key {
        "ArrowLeft" => [-step, 0.0],
        "ArrowRight" => [step, 0.0],
        "ArrowUp" => [0.0, step],
        "ArrowDown" => [0.0, -step],
        _ => return other_key(ctx, key, on),
    };
    let picked = meant_by_keys(state, on.as_ref());
    if picked.is_empty() {
        return false;
    }
    let next = state.with(|s| s.picked = picked);
    let sockets = next.sockets();
    ctx.make(
        "move a socket",
        edits::move_sockets(&ctx.plan, &ctx.scene, &sockets, by),
    );
    for part in next.parts() {
        shift(ctx, &part, by);
    }
    state.set(next);
    true
}

fn other_key(ctx: &HandlerContext, key: &str, on: Option<Hit>) -> bool {
    let state = &ctx.sketch;
    let next = match (key, on) {
        ("Enter" | " ", Some(Hit::Socket(id))) => state.tapped(Picked::Socket(id)),
        ("Enter" | " ", Some(Hit::Part(id))) => state.tapped(Picked::Part(id)),
        ("Delete" | "Backspace", on) => {
            let picked = meant_by_keys(state, on.as_ref());
            return remove(ctx, &state.with(|s| s.picked = picked));
        }
        ("Escape", _) if !state.outline.is_empty() => {
            let next = state.with(|s| s.outline.clear());
            next.saying("The outline is dropped.")
        }
        ("Escape", _) if !state.picked.is_empty() => state.with(|s| s.picked.clear()),
        _ => return false,
    };
    state.set(next);
    true
}

fn remove(ctx: &HandlerContext, state: &SketchState) -> bool {
    let edits = edits::removed(&state.parts(), &state.sockets());
    if edits.is_empty() {
        return false;
    }
    ctx.make("remove what is picked", edits);
    ctx.sketch
        .set(state.saying("Removed. Undo brings it back."));
    true
}

/// What is picked, for keys: what has the focus, or all that is picked.
fn meant_by_keys(state: &SketchState, on: Option<&Hit>) -> Vec<Picked> {
    let focused = match on {
        Some(Hit::Socket(id)) => Some(Picked::Socket(id.clone())),
        Some(Hit::Part(id)) => Some(Picked::Part(id.clone())),
        _ => None,
    };
    match focused {
        Some(one) if !state.picked.contains(&one) => vec![one],
        _ => state.picked.clone(),
    }
}
