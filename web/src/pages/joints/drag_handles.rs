//! Handles on the drawing of a face: a pair of pieces is moved by finger, pen, mouse or arrow keys, and the margin follows.

use std::rc::Rc;

use gloo::events::{EventListener, EventListenerOptions};
use lodewright_planner::joints::{ModelPair, PairSide, filling_size, fit_facts};
use lodewright_planner::{JointAnswer, JointIx, fit_words, is_free, move_pair};
use web_sys::{Element, PointerEvent, SvgElement};
use yew::prelude::*;

use super::drag::{Handle, Meant, Moving, Touch};
use super::draw::px;
use super::names::{millimetres, times};
use super::plane_view::{PlaneView, WIDTH};
use super::study::Studied;
use crate::format::number;
use crate::shared::Shared;
use crate::store::{Analysis, Store, use_store};

/// A handle is at least as wide as a finger, in pixels of the drawing.
const HANDLE: f64 = 25.0;

/// What the joint would come to with the pair there.
pub fn tried(studied: &Studied, moving: &Moving) -> Studied {
    let mut model = studied.model.clone();
    if let Some(pair) = studied.model.pairs.get(moving.pair) {
        let [x, y] = moving.at_mm;
        let shift = [x - pair.socket.at_mm[0], y - pair.socket.at_mm[1]];
        let there = [pair.plug.at_mm[0] + shift[0], pair.plug.at_mm[1] + shift[1]];
        model.move_piece(moving.pair, PairSide::Socket, moving.at_mm);
        model.move_piece(moving.pair, PairSide::Plug, there);
    }
    let verdict = model.judge();
    Studied { model, verdict }
}

/// Props of [`Handles`].
#[derive(PartialEq, Properties)]
pub struct HandlesProps {
    /// The analysis.
    pub analysis: Analysis,
    /// The joint.
    pub joint: JointIx,
    /// The joint by itself, as the plan has it.
    pub studied: Shared<Studied>,
    /// How the face lies on the drawing.
    pub view: PlaneView,
    /// The pair that is on its way.
    pub moving: Option<Moving>,
    /// Says where a pair is now, or that none moves any more.
    pub on_move: Callback<Option<Moving>>,
}

/// Round handles over the pairs that can be moved; to be drawn last, within the drawing.
#[component]
pub fn Handles(props: &HandlesProps) -> Html {
    let store = use_store();
    let group = use_node_ref();
    use_unscrolled(&group);
    let Some(answer) = props.analysis.joints().get(props.joint) else {
        return Html::default();
    };
    let pairs = props.studied.model.pairs.iter().enumerate();
    let free = pairs.filter(|(_, pair)| is_free(props.analysis.plan(), &answer.joint, pair));
    html! { <g ref={group}>{ for free.map(|(index, pair)| circle(props, &store, answer, index, pair)) }</g> }
}

fn circle(
    props: &HandlesProps,
    store: &Store,
    answer: &JointAnswer,
    index: usize,
    pair: &ModelPair,
) -> Html {
    let all = props.studied.model.pairs.iter().enumerate();
    let handle = Rc::new(Handle {
        pair: index,
        home_mm: pair.socket.at_mm,
        moving: props.moving.filter(|m| m.pair == index),
        others_mm: all
            .filter(|(i, _)| *i != index)
            .map(|(_, p)| p.socket.at_mm)
            .collect(),
        contact_mm: props.studied.model.contact_mm.clone(),
    });
    let act = {
        let (store, plan) = (store.clone(), props.analysis.plan().clone());
        let (joint, pair) = (answer.joint, *pair);
        props.on_move.reform(move |meant: Meant| match meant {
            Meant::Moves(moving) => Some(moving),
            Meant::Put(to_mm) => {
                if let Some(edit) = move_pair(&plan, &joint, &pair, to_mm) {
                    store.edit(edit);
                }
                None
            }
            Meant::Nothing | Meant::Ends => None,
        })
    };
    let on_touch = {
        let handle = Rc::clone(&handle);
        Rc::new(move |touch: Touch<'_>| {
            let meant = handle.after(touch);
            if meant != Meant::Nothing {
                act.emit(meant);
            }
            meant != Meant::Nothing
        })
    };
    let on_pointer = {
        let (on_touch, view) = (Rc::clone(&on_touch), props.view);
        Callback::from(move |e: PointerEvent| {
            if let Some(touch) = read(&e, &view) {
                on_touch(touch);
            }
        })
    };
    let onkeydown = {
        let on_touch = Rc::clone(&on_touch);
        Callback::from(move |e: KeyboardEvent| {
            if on_touch(Touch::Key(&e.key(), e.shift_key())) {
                e.prevent_default();
            }
        })
    };
    let onblur = Callback::from(move |_: FocusEvent| {
        on_touch(Touch::Blur);
    });
    let at_mm = handle.at_mm();
    let [x, y] = props.view.at(at_mm);
    let across_mm =
        filling_size(props.analysis.plan(), pair.socket.filling).map_or(0.0, |(d, _)| d);
    let r = (across_mm / 2.0 * props.view.scale).max(HANDLE);
    let label = format!(
        "Pair {} at {}, {} millimetres: move it with the arrow keys, Enter keeps, Escape takes back",
        index + 1,
        number(at_mm[0]),
        number(at_mm[1])
    );
    html! {
        <circle key={index} class={classes!("fig-handle", handle.moving.map(|_| "is-moving"))} data-test={format!("handle-{}", index + 1)}
            cx={px(x)} cy={px(y)} r={px(r)} tabindex="0" role="button" aria-label={label}
            onpointerdown={on_pointer.clone()} onpointermove={on_pointer.clone()} onpointerup={on_pointer.clone()} onpointercancel={on_pointer} {onkeydown} {onblur} />
    }
}

/// What a pointer does to a handle; one that comes down takes the focus and stays with it.
fn read(e: &PointerEvent, view: &PlaneView) -> Option<Touch<'static>> {
    match e.type_().as_str() {
        "pointerdown" if e.is_primary() && e.button() == 0 => {
            if let Some(target) = e.target_dyn_into::<Element>() {
                // Without capture a quick finger runs out of the handle; the drag still works while it stays on it.
                let _ = target.set_pointer_capture(e.pointer_id());
            }
            // A prevented touch gives no focus by itself; with it the keys go on where the finger left off.
            if let Some(target) = e.target_dyn_into::<SvgElement>() {
                let _ = target.focus();
            }
            Some(Touch::Down(place_of(e, view)))
        }
        "pointermove" => place_of(e, view).map(Touch::Move),
        "pointerup" => Some(Touch::Up),
        "pointercancel" => Some(Touch::Lost),
        _ => None,
    }
}

/// A finger on what is within does not scroll the page. The style's `touch-action` is not heeded by every browser for
/// pieces of a drawing, and the framework's own listeners may not prevent anything.
#[hook]
fn use_unscrolled(group: &NodeRef) {
    let group = group.clone();
    use_effect_with((), move |()| {
        let listener = group.cast::<Element>().map(|element| {
            let options = EventListenerOptions::enable_prevent_default();
            EventListener::new_with_options(&element, "touchstart", options, |e| {
                if e.cancelable() {
                    e.prevent_default();
                }
            })
        });
        move || drop(listener)
    });
}

/// The place in the mating plane under a pointer.
fn place_of(e: &PointerEvent, view: &PlaneView) -> Option<[f64; 2]> {
    let drawing = e.target_dyn_into::<Element>()?.closest("svg").ok()??;
    let rect = drawing.get_bounding_client_rect();
    if rect.width() <= 0.0 || rect.height() <= 0.0 {
        return None;
    }
    let x = (f64::from(e.client_x()) - rect.left()) / rect.width() * WIDTH;
    let y = (f64::from(e.client_y()) - rect.top()) / rect.height() * view.height;
    Some(view.from([x, y]))
}

/// Props of [`Readout`].
#[derive(PartialEq, Properties)]
pub struct ReadoutProps {
    /// The analysis.
    pub analysis: Analysis,
    /// The joint as it is on the drawing.
    pub shown: Shared<Studied>,
    /// The pair that is on its way.
    pub moving: Option<Moving>,
}

/// What the joint bears with the pair where it is drawn; the line keeps its place when nothing moves.
#[component]
pub fn Readout(props: &ReadoutProps) -> Html {
    let verdict = &props.shown.verdict;
    let margin = verdict.margin_x_weight().map_or_else(
        || "carries nothing".to_owned(),
        |m| format!("{}\u{a0}\u{d7}\u{a0}weight", times(m)),
    );
    let Some(moving) = props.moving else {
        return html! {
            <p class="mover-readout quiet" data-test="mover-readout">{ "Drag a pair, or step to it with Tab and move it with the arrow keys: the margin follows. The host\u{2019}s hole and the part\u{2019}s move together, and with the host\u{2019}s those of every part that sits here. Now it bears " }<strong>{ margin }</strong>{ "." }</p>
        };
    };
    let facts = fit_facts(&props.shown.model, moving.pair, PairSide::Socket);
    let (edge, warnings) = facts.map_or_else(
        || (String::new(), Vec::new()),
        |f| {
            (
                format!(
                    " \u{b7} wall to the edge {}",
                    millimetres((f.edge_mm * 10.0).round() / 10.0)
                ),
                f.warnings(),
            )
        },
    );
    let enough = verdict.is_good();
    html! {
        <p class={classes!("mover-readout", (!enough).then_some("is-short"))} data-test="mover-readout" role="status">
            { format!("{} / {} mm \u{b7} bears ", number(moving.at_mm[0]), number(moving.at_mm[1])) }
            <strong>{ margin }</strong>
            { if enough { ", enough" } else { ", not all that is asked" } }
            { edge }
            if let Some(first) = warnings.first() { { ". " }{ fit_words(*first) } }
        </p>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn a_pair_put_back_gives_the_same_margin() {
        let d = Analysis::of(samples::demo()).unwrap();
        let mut seen = 0;
        for joint in d.joints().values() {
            let Some(studied) = Studied::of(&d, joint.at) else {
                continue;
            };
            for (pair, p) in studied.model.pairs.iter().enumerate() {
                let moving = |at_mm| Moving {
                    pair,
                    at_mm,
                    grab_mm: None,
                };
                let same = tried(&studied, &moving(p.socket.at_mm));
                assert_eq!(same.verdict, studied.verdict);
                let away = [p.socket.at_mm[0] + 1.0, p.socket.at_mm[1]];
                assert_ne!(
                    tried(&studied, &moving(away)).model.pairs,
                    studied.model.pairs
                );
                seen += 1;
            }
        }
        assert!(seen > 20);
    }
}
