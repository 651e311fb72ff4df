//! What taps, drags and keys come to: edits, and what is picked afterwards.

use lodewright_planner::kit::{Drawn, Edit, Plan, SocketId};

use super::act;
use super::canvas::{Reach, meant_by_keys};
use super::easel::{Easel, Kind, Picked, Tool};
use super::hand::{Hit, Live, REACH_PX, Sight, banded};
use super::picture::slid;
use crate::drawn::look::{Look, apart, bounds};
use crate::drawn::scene::{FINE_MM, STEP_MM, Scene};
use crate::store::{Action, Store};

fn make(reach: &Reach, label: &'static str, edits: Vec<Edit>) {
    if !edits.is_empty() {
        reach.store.send(Action::EditAll { label, edits });
    }
}

/// A tap on something at a place.
pub fn tapped(reach: &Reach, sight: &Sight<'_>, hit: Hit, at: [f64; 2]) {
    let easel = &reach.easel;
    let next = match (easel.tool, hit) {
        (Tool::Draw(Kind::Outline), _) => corner(reach, sight, at),
        (Tool::Measure, _) => end(easel, at),
        (Tool::Slide, _) => return,
        (_, Hit::Corner) => return,
        (_, Hit::Socket(id)) => easel.tapped(Picked::Socket(id)),
        (Tool::Socket, _) => socket(reach, sight, at),
        (_, Hit::Part(id)) => easel.tapped(Picked::Part(id)),
        (_, Hit::Bare) => Easel {
            picked: Vec::new(),
            ..easel.clone()
        },
    };
    reach.on_easel.emit(next);
}

fn socket(reach: &Reach, sight: &Sight<'_>, at: [f64; 2]) -> Easel {
    let easel = reach.easel.clone();
    let reach_mm = REACH_PX * sight.screen.mm_per_px(&sight.camera);
    let Some((body, face)) = reach.scene.face_at(at, reach_mm) else {
        return easel.saying("No part is there. Tap on a part, or just beside its edge for the face that is seen from its edge.");
    };
    let put = act::put_socket(&reach.plan, &reach.scene.look, body, face, sight.taken(at));
    let Some((id, edits)) = put else { return easel };
    make(reach, "put a socket", edits);
    let name = reach.plan.parts.get(body.part).map_or("", |p| &p.name);
    let said = format!("A socket on the {} of {name}.", face.word());
    Easel {
        picked: vec![Picked::Socket(id)],
        ..easel
    }
    .saying(said)
}

/// One end of a known length; a third tap begins anew.
fn end(easel: &Easel, at: [f64; 2]) -> Easel {
    let mut next = easel.clone();
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
fn corner(reach: &Reach, sight: &Sight<'_>, at: [f64; 2]) -> Easel {
    let mut easel = reach.easel.clone();
    let near = REACH_PX * sight.screen.mm_per_px(&sight.camera);
    let first = easel.outline.first().copied();
    if let Some(first) = first.filter(|_| easel.outline.len() >= 3)
        && apart(first, at) <= near
    {
        return closed(&reach.store, &reach.plan, &easel);
    }
    easel.outline.push(sight.taken(at));
    let n = easel.outline.len();
    easel.saying(match n {
        1 => "The first corner. Tap the next.".to_owned(),
        2 => "Two corners. Tap at least one more.".to_owned(),
        _ => format!("{n} corners. Tap the first again, or close the outline."),
    })
}

/// The outline becomes a part.
pub fn closed(store: &Store, plan: &Plan, easel: &Easel) -> Easel {
    let points = easel.outline.clone();
    let Some((low, high)) = bounds(points.iter().copied()).filter(|_| points.len() >= 3) else {
        return easel.clone().saying("An outline needs three corners.");
    };
    let middle = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0];
    let drawn = Drawn::Outline {
        seen_from: easel.side,
        points_mm: points
            .iter()
            .map(|p| [p[0] - middle[0], p[1] - middle[1]])
            .collect(),
    };
    let next = Easel {
        outline: Vec::new(),
        ..easel.clone()
    };
    let scene = Scene::of(plan, next.variant.as_ref(), Look::from(next.side));
    part((store, plan, &scene), &next, drawn, (low, high), None)
}

/// A drag that came to something, begun on `hit`.
pub fn done(reach: &Reach, live: Live, hit: &Hit) {
    let easel = &reach.easel;
    let scene = &*reach.scene;
    match live {
        Live::Still => {}
        Live::Move(ids, by, _) => {
            make(
                reach,
                "move a socket",
                act::move_sockets(&reach.plan, scene, &ids, by),
            );
            if let [id] = ids.as_slice() {
                reach.on_easel.emit(Easel {
                    picked: vec![Picked::Socket(id.clone())],
                    ..easel.clone()
                });
            }
        }
        Live::Band(a, b) => {
            let mut picked = if easel.several {
                easel.picked.clone()
            } else {
                Vec::new()
            };
            picked.extend(banded(scene, a, b));
            picked.dedup();
            let said = format!("{} picked.", picked.len());
            reach.on_easel.emit(
                Easel {
                    picked,
                    ..easel.clone()
                }
                .saying(said),
            );
        }
        Live::Draw(from, to) => {
            if let Tool::Draw(kind) = easel.tool {
                let low = [from[0].min(to.at[0]), from[1].min(to.at[1])];
                let high = [from[0].max(to.at[0]), from[1].max(to.at[1])];
                let begun_on = match hit {
                    Hit::Socket(id) => Some(id.clone()),
                    _ => None,
                };
                let all = (&reach.store, &*reach.plan, scene);
                let next = part(all, easel, kind.drawn(), (low, high), begun_on);
                reach.on_easel.emit(next);
            }
        }
        Live::Size(id, to) => {
            let part = scene
                .body(&id)
                .and_then(|b| act::resized(&reach.plan, scene, b, to.at));
            let edits = part.map(|p| Edit::PutPart(Box::new(p)));
            make(reach, "size a part", edits.into_iter().collect());
        }
        Live::Shift(id, by) => shift(reach, &id, by),
        Live::Slide(by) => {
            let moved = reach.plan.backdrop.as_ref().map(|b| slid(b, by));
            let edits = moved.map(|b| Edit::PutBackdrop(Some(Box::new(b))));
            make(reach, "move the picture", edits.into_iter().collect());
        }
    }
}

fn shift(reach: &Reach, id: &lodewright_planner::kit::PartId, by: [f64; 2]) {
    let part = reach
        .scene
        .body(id)
        .and_then(|b| act::shifted(&reach.plan, &reach.scene, b, by));
    let edits = part.map(|p| Edit::PutPart(Box::new(p)));
    make(
        reach,
        "move a part on its socket",
        edits.into_iter().collect(),
    );
}

/// A part between two corners, in the socket that it was begun on, else in the nearest one that it covers, else in the picked
/// one.
fn part(
    (store, plan, scene): (&Store, &Plan, &Scene),
    easel: &Easel,
    drawn: Drawn,
    (low, high): ([f64; 2], [f64; 2]),
    begun_on: Option<SocketId>,
) -> Easel {
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
    let socket = begun_on.or_else(covered).or_else(|| easel.socket());
    let word = drawn.word();
    let new = act::draw_part(
        plan,
        scene,
        drawn,
        (low, high),
        socket.as_ref(),
        easel.variant.as_ref(),
    );
    let Some(new) = new else {
        return easel
            .clone()
            .saying("That is too small to be a part: half a millimetre is the least.");
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
    Easel {
        variant: easel.variant.clone().or(new.variant),
        picked: vec![Picked::Part(new.id)],
        ..easel.clone()
    }
    .saying(said)
}

/// A key on the drawing, or on what has the focus there. Answers whether it was one of the drawing's.
pub fn keyed(reach: &Reach, key: &str, fine: bool, on: Option<Hit>) -> bool {
    let easel = &reach.easel;
    let step = if fine { FINE_MM } else { STEP_MM };
    let by = match key {
        "ArrowLeft" => [-step, 0.0],
        "ArrowRight" => [step, 0.0],
        "ArrowUp" => [0.0, step],
        "ArrowDown" => [0.0, -step],
        _ => return other_key(reach, key, on),
    };
    let picked = meant_by_keys(easel, on.as_ref());
    if picked.is_empty() {
        return false;
    }
    let next = Easel {
        picked,
        ..easel.clone()
    };
    let sockets = next.sockets();
    make(
        reach,
        "move a socket",
        act::move_sockets(&reach.plan, &reach.scene, &sockets, by),
    );
    for part in next.parts() {
        shift(reach, &part, by);
    }
    reach.on_easel.emit(next);
    true
}

fn other_key(reach: &Reach, key: &str, on: Option<Hit>) -> bool {
    let easel = &reach.easel;
    let next = match (key, on) {
        ("Enter" | " ", Some(Hit::Socket(id))) => easel.tapped(Picked::Socket(id)),
        ("Enter" | " ", Some(Hit::Part(id))) => easel.tapped(Picked::Part(id)),
        ("Delete" | "Backspace", on) => {
            let next = Easel {
                picked: meant_by_keys(easel, on.as_ref()),
                ..easel.clone()
            };
            return remove(reach, &next);
        }
        ("Escape", _) if !easel.outline.is_empty() => Easel {
            outline: Vec::new(),
            ..easel.clone()
        }
        .saying("The outline is dropped."),
        ("Escape", _) if !easel.picked.is_empty() => Easel {
            picked: Vec::new(),
            ..easel.clone()
        },
        _ => return false,
    };
    reach.on_easel.emit(next);
    true
}

fn remove(reach: &Reach, easel: &Easel) -> bool {
    let edits = act::removed(&easel.parts(), &easel.sockets());
    if edits.is_empty() {
        return false;
    }
    make(reach, "remove what is picked", edits);
    reach
        .on_easel
        .emit(easel.clone().saying("Removed. Undo brings it back."));
    true
}
