//! The drawing's size on the screen, what of it is in sight, and the wheel that zooms.

use gloo::events::{EventListener, EventListenerOptions};
use lodewright_planner::kit::Facing;
use wasm_bindgen::JsCast;
use web_sys::{Element, WheelEvent};
use yew::prelude::*;

use super::handler_context::HandlerContext;
use super::sketch_state::SketchState;
use crate::projection::look::Camera;
use crate::projection::scene::Scene;

/// What a camera is for: a side, the wishes to have everything in sight, the size of the drawing.
type Key = (Facing, u32, [f64; 2]);

/// What is in sight, and what takes another sight.
#[hook]
pub fn use_camera(
    state: &SketchState,
    scene: &Scene,
    size: [f64; 2],
) -> (Camera, Callback<Camera>) {
    let key: Key = (state.side, state.fits, size);
    // What is in sight follows the plan only when somebody asks, so that nothing jumps under a finger.
    let fitted = use_memo(key, |(_, _, [w, h])| {
        Camera::around(scene.corners(), w / h.max(1.0))
    });
    let held = use_state_eq(|| None::<(Key, Camera)>);
    let camera = match &*held {
        Some((of, camera)) if *of == key => *camera,
        _ => *fitted,
    };
    let held = held.setter();
    let on_camera = Callback::from(move |camera: Camera| held.set(Some((key, camera))));
    (camera, on_camera)
}

/// Width and height of the drawing on the screen, measured once it is there and whenever the window changes.
#[hook]
pub fn use_size(svg: &NodeRef) -> [f64; 2] {
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
    *size
}

/// The wheel zooms, and a finger does not scroll the page: the framework's own listeners may not prevent anything.
#[hook]
pub fn use_wheel(ctx: HandlerContext) {
    let svg = ctx.svg.clone();
    let now = use_mut_ref(|| None::<HandlerContext>);
    now.replace(Some(ctx));
    use_effect_with((), move |()| {
        let options = EventListenerOptions::enable_prevent_default();
        let listeners = svg.cast::<Element>().map(|element| {
            let wheel = EventListener::new_with_options(&element, "wheel", options, move |e| {
                e.prevent_default();
                let now = now.borrow();
                if let (Some(e), Some(ctx)) = (e.dyn_ref::<WheelEvent>(), now.as_ref())
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
                    ctx.on_camera.emit(sight.camera.zoomed(at, factor));
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
