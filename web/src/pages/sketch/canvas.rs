//! The drawing itself: parts and sockets as they stand, moved by finger, pen, mouse, wheel and keys.

use std::rc::Rc;

use gloo::events::{EventListener, EventListenerOptions};
use lodewright_planner::kit::{Facing, Plan};
use wasm_bindgen::JsCast;
use web_sys::{Element, FocusOptions, HtmlElement, PointerEvent, WheelEvent};
use yew::prelude::*;

use super::commands::{done, keyed, tapped};
use super::gestures::{Gestures, Hit, Live, Meant, Sight};
use super::sketch_state::{Picked, SketchState};
use super::svg::{Drawing, drawing};
use crate::projection::look::{Camera, Look, Screen};
use crate::projection::scene::Scene;
use crate::shared::Shared;
use crate::store::{OpenPlan, Store, use_store};

/// Props of [`Canvas`].
#[derive(PartialEq, Properties)]
pub struct CanvasProps {
    /// The open plan.
    pub open: OpenPlan,
    /// What is shown and picked.
    pub state: SketchState,
    /// Takes another state of it.
    pub on_state: Callback<SketchState>,
}

/// Everything that a handler reads, as it was at the last render.
#[derive(Clone)]
pub struct HandlerContext {
    /// The store.
    pub store: Store,
    /// The plan.
    pub plan: Shared<Plan>,
    /// What is drawn.
    pub scene: Rc<Scene>,
    /// What is shown and picked.
    pub state: SketchState,
    /// Takes another state of it.
    pub on_state: Callback<SketchState>,
    camera: Camera,
    svg: NodeRef,
}

impl HandlerContext {
    fn screen(&self) -> Option<Screen> {
        let rect = self.svg.cast::<Element>()?.get_bounding_client_rect();
        Some(Screen {
            corner: [rect.left(), rect.top()],
            size: [rect.width(), rect.height()],
        })
    }

    /// What is needed to read a finger.
    pub fn sight(&self) -> Option<Sight<'_>> {
        Some(Sight {
            plan: &self.plan,
            scene: &self.scene,
            state: &self.state,
            screen: self.screen()?,
            camera: self.camera,
        })
    }
}

/// See the module.
#[component]
pub fn Canvas(props: &CanvasProps) -> Html {
    let store = use_store();
    let svg = use_node_ref();
    let gestures = use_mut_ref(Gestures::default);
    let live = use_state_eq(Live::default);
    let state = &props.state;
    let plan = &props.open.plan;
    let scene = use_memo(
        (plan.clone(), state.variant.clone(), state.side),
        |(plan, variant, side)| Scene::of(plan, variant.as_ref(), Look::from(*side)),
    );
    let coming = use_memo(
        (plan.clone(), state.other.clone(), state.side),
        |(plan, other, side)| {
            other
                .as_ref()
                .map(|v| Scene::of(plan, Some(v), Look::from(*side)))
        },
    );
    let size = use_size(&svg);
    let key = (state.side, state.fits, *size);
    // What is in sight follows the plan only when somebody asks, so that nothing jumps under a finger.
    let fitted = use_memo(key, |(_, _, [w, h])| {
        Camera::around(scene.corners(), w / h.max(1.0))
    });
    let held = use_state_eq(|| None::<((Facing, u32, [f64; 2]), Camera)>);
    let camera = match &*held {
        Some((of, camera)) if *of == key => *camera,
        _ => *fitted,
    };
    let hold = {
        let held = held.setter();
        Callback::from(move |camera: Camera| held.set(Some((key, camera))))
    };
    let ctx = HandlerContext {
        store,
        plan: plan.clone(),
        scene: scene.clone(),
        state: state.clone(),
        on_state: props.on_state.clone(),
        camera,
        svg: svg.clone(),
    };
    use_wheel(&svg, ctx.clone(), hold.clone());
    let on_pointer = {
        let (ctx, live) = (ctx.clone(), live.setter());
        Callback::from(move |e: PointerEvent| {
            let Some(sight) = ctx.sight() else { return };
            let at_px = [f64::from(e.client_x()), f64::from(e.client_y())];
            let mut gestures = gestures.borrow_mut();
            match e.type_().as_str() {
                "pointerdown" if e.button() == 0 => {
                    let hit = sight.meant(hit(&e), at_px);
                    capture(&e, &ctx.svg);
                    gestures.down(e.pointer_id(), at_px, hit, sight.camera);
                }
                "pointermove" => {
                    if let Some(camera) = gestures.moved(e.pointer_id(), at_px, &sight) {
                        hold.emit(camera);
                    }
                }
                "pointerup" => match gestures.up(e.pointer_id(), &sight) {
                    Meant::Tap(hit, at) => tapped(&ctx, &sight, hit, at),
                    Meant::Done(live, hit) => done(&ctx, live, &hit),
                    Meant::Nothing => {}
                },
                "pointercancel" => gestures.lost(e.pointer_id()),
                _ => {}
            }
            live.set(gestures.live.clone());
        })
    };
    let onkeydown = {
        let ctx = ctx.clone();
        Callback::from(move |e: KeyboardEvent| {
            if e.ctrl_key() || e.meta_key() || e.alt_key() {
                return;
            }
            let on = e
                .target_dyn_into::<Element>()
                .and_then(|t| t.get_attribute("data-hit"))
                .map(|mark| Hit::read(&mark));
            if keyed(&ctx, &e.key(), e.shift_key(), on) {
                e.prevent_default();
            }
        })
    };
    let frame = Drawing {
        plan,
        scene: &scene,
        coming: (*coming).as_ref(),
        state,
        live: &live,
        mm_per_px: camera.span / size[0].min(size[1]).max(1.0),
        camera: &camera,
        size: *size,
    };
    let sides = ctx.scene.look.sides().map(Facing::way);
    html! {
        <div class="sk-canvas">
            <svg ref={svg} class="sk-drawing" data-test="drawing" viewBox={camera.view_box()} preserveAspectRatio="xMidYMid meet" role="group" tabindex="-1"
                aria-label={format!("The model seen from the {}", state.side.way())}
                onpointerdown={on_pointer.clone()} onpointermove={on_pointer.clone()} onpointerup={on_pointer.clone()} onpointercancel={on_pointer} {onkeydown}>
                { drawing(&frame) }
            </svg>
            { for sides.into_iter().zip(["is-right", "is-top", "is-left", "is-bottom"]).map(|(word, class)| html! { <span class={classes!("sk-side", class)} aria-hidden="true">{ word }</span> }) }
            <div class="sk-zoom">
                { zoom("zoom-in", "Nearer", "+", &ctx, 0.8, &held.setter(), key) }
                { zoom("zoom-out", "Farther", "\u{2212}", &ctx, 1.25, &held.setter(), key) }
                { fit(&ctx) }
            </div>
        </div>
    }
}

type Held = Option<((Facing, u32, [f64; 2]), Camera)>;

fn zoom(
    test: &'static str,
    word: &'static str,
    sign: &'static str,
    ctx: &HandlerContext,
    factor: f64,
    held: &UseStateSetter<Held>,
    key: (Facing, u32, [f64; 2]),
) -> Html {
    let (camera, held) = (ctx.camera, held.clone());
    let onclick = Callback::from(move |_: MouseEvent| {
        held.set(Some((key, camera.zoomed(camera.middle, factor))));
    });
    html! { <button type="button" class="button is-icon" data-test={test} aria-label={word} {onclick}>{ sign }</button> }
}

fn fit(ctx: &HandlerContext) -> Html {
    let ctx = ctx.clone();
    let onclick = Callback::from(move |_: MouseEvent| {
        let fits = ctx.state.fits + 1;
        ctx.on_state.emit(SketchState {
            fits,
            ..ctx.state.clone()
        });
    });
    html! { <button type="button" class="button" data-test="zoom-fit" {onclick}>{ "All" }</button> }
}

fn hit(e: &PointerEvent) -> Hit {
    let element = e
        .target_dyn_into::<Element>()
        .and_then(|t| t.closest("[data-hit]").ok().flatten());
    element
        .and_then(|t| t.get_attribute("data-hit"))
        .map_or(Hit::Bare, |mark| Hit::read(&mark))
}

/// The drawing keeps the finger, and the keyboard goes on where it touched.
fn capture(e: &PointerEvent, svg: &NodeRef) {
    if let Some(svg) = svg.cast::<Element>() {
        // Without capture a quick finger runs out of the drawing; a drag still works while it stays on it.
        let _ = svg.set_pointer_capture(e.pointer_id());
    }
    let focusable = e
        .target_dyn_into::<Element>()
        .and_then(|t| t.closest("[tabindex]").ok().flatten());
    if let Some(element) = focusable {
        // Without scrolling: the drawing must not move under the finger. Pieces of a drawing have the same method.
        let options = FocusOptions::new();
        options.set_prevent_scroll(true);
        let _ = element
            .unchecked_ref::<HtmlElement>()
            .focus_with_options(&options);
    }
}

/// Width and height of the drawing on the screen, measured once it is there and whenever the window changes.
#[hook]
fn use_size(svg: &NodeRef) -> UseStateHandle<[f64; 2]> {
    let size = use_state_eq(|| [800.0, 560.0]);
    let (svg, set) = (svg.clone(), size.setter());
    use_effect_with((), move |()| {
        let measure = move || {
            if let Some(rect) = svg
                .cast::<Element>()
                .map(|s| s.get_bounding_client_rect())
                .filter(|r| r.width() > 0.0 && r.height() > 0.0)
            {
                set.set([rect.width().round(), rect.height().round()]);
            }
        };
        measure();
        let listener = web_sys::window()
            .map(|window| EventListener::new(&window, "resize", move |_| measure()));
        move || drop(listener)
    });
    size
}

/// The wheel zooms, and a finger does not scroll the page: the framework's own listeners may not prevent anything.
#[hook]
fn use_wheel(svg: &NodeRef, ctx: HandlerContext, hold: Callback<Camera>) {
    let now = use_mut_ref(|| None::<(HandlerContext, Callback<Camera>)>);
    now.replace(Some((ctx, hold)));
    let svg = svg.clone();
    use_effect_with((), move |()| {
        let options = EventListenerOptions::enable_prevent_default();
        let listeners = svg.cast::<Element>().map(|element| {
            let wheel = EventListener::new_with_options(&element, "wheel", options, move |e| {
                e.prevent_default();
                let now = now.borrow();
                if let (Some(e), Some((ctx, hold))) = (e.dyn_ref::<WheelEvent>(), now.as_ref())
                    && let Some(sight) = ctx.sight()
                {
                    let at = [f64::from(e.client_x()), f64::from(e.client_y())];
                    let at = sight.screen.place(&sight.camera, at);
                    // A turn of the wheel is about 100; a touchpad sends many small ones.
                    let turn = (e.delta_y() / 500.0).clamp(-0.5, 0.5);
                    let factor = if turn < 0.0 {
                        1.0 / (1.0 - turn)
                    } else {
                        1.0 + turn
                    };
                    hold.emit(sight.camera.zoomed(at, factor));
                }
            });
            let touch = EventListener::new_with_options(&element, "touchstart", options, |e| {
                if e.cancelable() {
                    e.prevent_default();
                }
            });
            (wheel, touch)
        });
        move || drop(listeners)
    });
}

/// What is picked, for keys: what has the focus, or all that is picked.
pub fn meant_by_keys(state: &SketchState, on: Option<&Hit>) -> Vec<Picked> {
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
