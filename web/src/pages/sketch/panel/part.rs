//! The panel with one part picked: its name, size and shape, and where it sits.

use lodewright_planner::kit::{Drawn, Edit, Part, PartId, Plan, VariantId};
use yew::prelude::*;

use super::props::{PanelProps, remove};
use crate::components::{TextField, VectorFieldProps, vector_field};
use crate::format::number;
use crate::pages::sketch::buttons::chip;
use crate::pages::sketch::sketch_state::Kind;
use crate::routes::{Page, Route};
use crate::store::Store;

/// See the module.
pub fn part(props: &PanelProps, p: &Part, store: &Store) -> Html {
    let plan = &props.open.plan;
    let id = &p.id;
    let href = Route::at(Page::Parts, &props.open.key, &format!("part/{id}")).href();
    let size = {
        let id = id.clone();
        store.edited(move |plan: &Plan, (n, v): (usize, f64)| {
            let old = plan.part(&id)?;
            let mut size_mm = old.size_mm;
            *size_mm.get_mut(n)? = v;
            let next = if v.is_finite() && v > 0.0 {
                old.sized(size_mm)?
            } else {
                // Refused by the plan itself, in its own words.
                Part {
                    size_mm,
                    ..old.clone()
                }
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
            { sits_in(plan, props.sketch.variant.as_ref(), id) }
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
