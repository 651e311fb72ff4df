//! The drawing itself: parts and sockets as they stand, moved by finger, pen, mouse, wheel and keys.

use lodewright_planner::kit::{Facing, Plan, VariantId};
use wasm_bindgen::JsCast;
use web_sys::{Element, FocusOptions, HtmlElement, PointerEvent};
use yew::prelude::*;

use super::canvas_hooks::{use_camera, use_size, use_wheel};
use super::commands::{done, keyed, tapped};
use super::gestures::{Gestures, Hit, Live, Meant};
use super::handler_context::HandlerContext;
use super::sketch_state::Sketch;
use super::svg::{Drawing, drawing};
use crate::projection::look::Look;
use crate::projection::scene::Scene;
use crate::shared::Shared;
use crate::store::{OpenPlan, use_store};

/// Props of [`Canvas`].
#[derive(PartialEq, Properties)]
pub struct CanvasProps {
    /// The open plan.
    pub open: OpenPlan,
    /// What is shown and picked.
    pub sketch: Sketch,
}

/// See the module.
#[component]
pub fn Canvas(props: &CanvasProps) -> Html {
    let store = use_store();
    let svg = use_node_ref();
    let (sketch, plan) = (&props.sketch, &props.open.plan);
    let of = |variant: &Option<VariantId>| (plan.clone(), variant.clone(), sketch.side);
    let stands = |(plan, variant, side): &(Shared<Plan>, Option<VariantId>, Facing)| {
        Scene::of(plan, variant.as_ref(), Look::from(*side))
    };
    let scene = use_memo(of(&sketch.variant), stands);
    let coming = use_memo(of(&sketch.other), |of| of.1.is_some().then(|| stands(of)));
    let size = use_size(&svg);
    let (camera, on_camera) = use_camera(sketch, &scene, size);
    let ctx = HandlerContext {
        store,
        plan: plan.clone(),
        scene: scene.clone(),
        sketch: sketch.clone(),
        camera,
        on_camera,
        svg: svg.clone(),
    };
    use_wheel(ctx.clone());
    let live = use_state_eq(Live::default);
    let gestures = use_mut_ref(Gestures::default);
    let on_pointer = {
        let (ctx, live) = (ctx.clone(), live.setter());
        Callback::from(move |e: PointerEvent| {
            let mut gestures = gestures.borrow_mut();
            pointed(&ctx, &mut gestures, &e);
            live.set(gestures.live.clone());
        })
    };
    let onkeydown = {
        let ctx = ctx.clone();
        Callback::from(move |e: KeyboardEvent| pressed(&ctx, &e))
    };
    let frame = Drawing {
        plan,
        scene: &scene,
        coming: (*coming).as_ref(),
        state: sketch,
        live: &live,
        mm_per_px: camera.span / size[0].min(size[1]).max(1.0),
        camera: &camera,
        size,
    };
    html! {
        <div class="sk-canvas">
            <svg ref={svg} class="sk-drawing" data-test="drawing" viewBox={camera.view_box()} preserveAspectRatio="xMidYMid meet" role="group" tabindex="-1"
                aria-label={format!("The model seen from the {}", sketch.side.way())}
                onpointerdown={on_pointer.clone()} onpointermove={on_pointer.clone()} onpointerup={on_pointer.clone()} onpointercancel={on_pointer} {onkeydown}>
                { drawing(&frame) }
            </svg>
            { around(&scene.look) }
            <div class="sk-zoom">
                { zoom("zoom-in", "Nearer", "+", &ctx, 0.8) }
                { zoom("zoom-out", "Farther", "\u{2212}", &ctx, 1.25) }
                { fit(&ctx) }
            </div>
        </div>
    }
}

/// Which sides of the model lie at the four sides of the drawing.
fn around(look: &Look) -> Html {
    let words = look.sides().map(Facing::way);
    let sides = words
        .into_iter()
        .zip(["is-right", "is-top", "is-left", "is-bottom"]);
    html! { { for sides.map(|(word, class)| html! { <span class={classes!("sk-side", class)} aria-hidden="true">{ word }</span> }) } }
}

fn pointed(ctx: &HandlerContext, gestures: &mut Gestures, e: &PointerEvent) {
    let Some(sight) = ctx.sight() else { return };
    let at_px = [f64::from(e.client_x()), f64::from(e.client_y())];
    match e.type_().as_str() {
        "pointerdown" if e.button() == 0 => {
            let hit = sight.meant(hit(e), at_px);
            capture(e, &ctx.svg);
            gestures.down(e.pointer_id(), at_px, hit, sight.camera);
        }
        "pointermove" => {
            if let Some(camera) = gestures.moved(e.pointer_id(), at_px, &sight) {
                ctx.on_camera.emit(camera);
            }
        }
        "pointerup" => match gestures.up(e.pointer_id(), &sight) {
            Meant::Tap(hit, at) => tapped(ctx, &sight, hit, at),
            Meant::Done(live, hit) => done(ctx, live, &hit),
            Meant::Nothing => {}
        },
        "pointercancel" => gestures.lost(e.pointer_id()),
        _ => {}
    }
}

fn pressed(ctx: &HandlerContext, e: &KeyboardEvent) {
    if e.ctrl_key() || e.meta_key() || e.alt_key() {
        return;
    }
    let on = e
        .target_dyn_into::<Element>()
        .and_then(|t| t.get_attribute("data-hit"))
        .map(|mark| Hit::read(&mark));
    if keyed(ctx, &e.key(), e.shift_key(), on) {
        e.prevent_default();
    }
}

fn zoom(
    test: &'static str,
    word: &'static str,
    sign: &'static str,
    ctx: &HandlerContext,
    factor: f64,
) -> Html {
    let (camera, on_camera) = (ctx.camera, ctx.on_camera.clone());
    let onclick = Callback::from(move |_: MouseEvent| {
        on_camera.emit(camera.zoomed(camera.middle, factor));
    });
    html! { <button type="button" class="button is-icon" data-test={test} aria-label={word} {onclick}>{ sign }</button> }
}

fn fit(ctx: &HandlerContext) -> Html {
    let sketch = ctx.sketch.clone();
    let onclick = Callback::from(move |_: MouseEvent| sketch.change(|s| s.fits += 1));
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
