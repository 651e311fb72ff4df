//! A picture to trace: picked from the machine, made small, laid behind one side, scaled by a known length.

use gloo::file::File;
use lodewright_planner::kit::{Backdrop, Edit, Facing, Picture, Plan, limits};
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement, HtmlImageElement, HtmlInputElement};
use yew::prelude::*;

use super::buttons::{button, chip};
use super::sketch_state::{Sketch, Tool};
use crate::components::{Disclosure, NumberField, Toggle, VectorFieldProps, vector_field};
use crate::projection::look::apart;
use crate::store::{Action, Notice, Store};

/// The longer side of a picture once it is small, pixels; tried one after the other until it is short enough.
const SIDES_PX: [u32; 4] = [1200, 900, 640, 400];
/// How hard JPEG squeezes, from 0 to 1.
const QUALITY: f64 = 0.6;
/// A picture at first, across, mm; the base's own width where that is larger.
const FIRST_MM: f64 = 100.0;

/// The fold about the picture.
pub fn picture(plan: &Plan, sketch: &Sketch, store: &Store) -> Html {
    let body = match &plan.backdrop {
        Some(b) => laid(b, sketch, store),
        None => html! {
            <>
                <p class="field-hint">{ format!("A photograph or drawing of this side, to trace over. It is made small, at most {} kB, and kept in the plan.", limits::PICTURE / 1000) }</p>
                { pick(sketch.side, plan, store) }
            </>
        },
    };
    let summary = match &plan.backdrop {
        Some(b) => format!("seen from the {}", b.seen_from.way()),
        None => "none".to_owned(),
    };
    html! { <Disclosure id="sketch-picture" title="Picture to trace" {summary}>{ body }</Disclosure> }
}

fn pick(side: Facing, plan: &Plan, store: &Store) -> Html {
    let wide_mm = plan
        .part(&plan.base)
        .map_or(FIRST_MM, |b| b.size_mm.into_iter().fold(FIRST_MM, f64::max));
    let store = store.clone();
    let onchange = Callback::from(move |e: Event| {
        let Some(input) = e.target_dyn_into::<HtmlInputElement>() else {
            return;
        };
        let file = input.files().and_then(|files| files.get(0));
        // The same file again is a change too.
        input.set_value("");
        if let Some(file) = file {
            load(store.clone(), File::from(file), side, wide_mm);
        }
    });
    html! {
        <label class="button file-button"><span>{ "Pick a picture" }</span>
            <input class="visually-hidden" type="file" accept="image/*" data-test="picture-file" {onchange} />
        </label>
    }
}

fn load(store: Store, file: File, side: Facing, wide_mm: f64) {
    yew::platform::spawn_local(async move {
        match small(&file).await {
            Some((address, [w, h])) => {
                let backdrop = Backdrop {
                    picture: Picture::from(address),
                    seen_from: side,
                    middle_mm: [0.0; 2],
                    width_mm: wide_mm,
                    height_mm: wide_mm * h / w.max(1.0),
                    stays_here: false,
                };
                store.edit(Edit::PutBackdrop(Some(Box::new(backdrop))));
            }
            None => store.send(Action::Tell(Notice::refused(
                "This file could not be read as a picture, or not made small enough. Pick a JPEG or PNG picture.",
            ))),
        }
    });
}

/// The picture as a short JPEG address, with its proportions.
async fn small(file: &File) -> Option<(String, [f64; 2])> {
    let address = gloo::file::futures::read_as_data_url(file).await.ok()?;
    let image = HtmlImageElement::new().ok()?;
    image.set_src(&address);
    JsFuture::from(image.decode()).await.ok()?;
    let (w, h) = (image.natural_width(), image.natural_height());
    if w == 0 || h == 0 {
        return None;
    }
    let canvas: HtmlCanvasElement = gloo::utils::document()
        .create_element("canvas")
        .ok()?
        .dyn_into()
        .ok()?;
    let context: CanvasRenderingContext2d = canvas.get_context("2d").ok()??.dyn_into().ok()?;
    SIDES_PX.into_iter().find_map(|side| {
        let k = (f64::from(side) / f64::from(w.max(h))).min(1.0);
        let (w, h) = ((f64::from(w) * k).max(1.0), (f64::from(h) * k).max(1.0));
        canvas.set_width(w as u32);
        canvas.set_height(h as u32);
        // What is clear in a PNG would be black in a JPEG.
        context.set_fill_style_str("#ffffff");
        context.fill_rect(0.0, 0.0, w, h);
        context
            .draw_image_with_html_image_element_and_dw_and_dh(&image, 0.0, 0.0, w, h)
            .ok()?;
        let address = canvas
            .to_data_url_with_type_and_encoder_options("image/jpeg", &QUALITY.into())
            .ok()?;
        (address.len() <= limits::PICTURE).then_some((address, [w, h]))
    })
}

fn laid(b: &Backdrop, sketch: &Sketch, store: &Store) -> Html {
    let put = |change: fn(&mut Backdrop, f64)| {
        store.edited(move |plan: &Plan, v: f64| {
            let mut next = plan.backdrop.clone()?;
            change(&mut next, v);
            Some(Edit::PutBackdrop(Some(Box::new(next))))
        })
    };
    let middle = store.edited(|plan: &Plan, (n, v): (usize, f64)| {
        let mut next = plan.backdrop.clone()?;
        *next.middle_mm.get_mut(n)? = v;
        Some(Edit::PutBackdrop(Some(Box::new(next))))
    });
    let stays = store.edited(|plan: &Plan, stays_here: bool| {
        let next = Backdrop {
            stays_here,
            ..plan.backdrop.clone()?
        };
        Some(Edit::PutBackdrop(Some(Box::new(next))))
    });
    let remove = {
        let store = store.clone();
        move || store.edit(Edit::PutBackdrop(None))
    };
    html! {
        <>
            <div class="chips">{ slide(b, sketch) }{ measure(b, sketch, store) }</div>
            <div class="pair">
                <NumberField id="picture-width" label="Width" unit="mm" value={b.width_mm} on_commit={put(|b, v| {
                    b.height_mm *= v / b.width_mm;
                    b.width_mm = v;
                })} />
            </div>
            { vector_field(&yew::props!(VectorFieldProps { id: "picture-at", label: "Its middle, from the middle of the base", axes: ["to the right", "up"].map(AttrValue::from).to_vec(), values: b.middle_mm.to_vec(), unit: "mm", on_commit: middle })) }
            <Toggle id="picture-stays" label="Leave it out of files" value={b.stays_here} on_commit={stays} hint="It then stays in this browser." />
            <p class="field-hint">{ format!("{} kB in the plan.", b.picture.address().len().div_ceil(1000)) }</p>
            <div class="actions">{ button("picture-remove", "Take the picture away", remove) }</div>
        </>
    }
}

/// The picture under the finger, until that is switched off.
fn slide(b: &Backdrop, sketch: &Sketch) -> Html {
    let on = sketch.tool == Tool::Slide;
    let (sketch, side) = (sketch.clone(), b.seen_from);
    chip("picture-slide", "Move it by finger", on, move || {
        let tool = if on { Tool::Move } else { Tool::Slide };
        sketch.set(sketch.taking(tool).seen_from(side));
    })
}

/// Two taps on the ends of something of known length, and the length.
fn measure(b: &Backdrop, sketch: &Sketch, store: &Store) -> Html {
    let on = sketch.tool == Tool::Measure;
    let begin = {
        let (sketch, side) = (sketch.clone(), b.seen_from);
        chip(
            "picture-measure",
            "Scale by a known length",
            on,
            move || {
                let next = sketch.taking(Tool::Measure).seen_from(side);
                sketch.set(
                    next.saying("Tap both ends of something in the picture whose length is known."),
                );
            },
        )
    };
    let length = match sketch.outline.as_slice() {
        [a, b] if on => known_length(*a, apart(*a, *b), sketch, store),
        _ => Html::default(),
    };
    html! { <>{ begin }{ length }</> }
}

/// The length between two taps, typed: the picture is scaled about the first.
fn known_length(first: [f64; 2], now_mm: f64, sketch: &Sketch, store: &Store) -> Html {
    let sketch = sketch.clone();
    let edited = store.edited(move |plan: &Plan, long_mm: f64| {
        let next = plan
            .backdrop
            .as_ref()?
            .scaled(first, long_mm / now_mm.max(1e-6));
        Some(Edit::PutBackdrop(Some(Box::new(next))))
    });
    let commit = Callback::from(move |long_mm: f64| {
        edited.emit(long_mm)?;
        sketch.set(
            sketch
                .taking(Tool::Move)
                .saying("The picture is to scale now."),
        );
        Ok(())
    });
    html! { <NumberField id="picture-length" label="Between the two taps it is" unit="mm" value={(now_mm * 10.0).round() / 10.0} on_commit={commit} /> }
}
