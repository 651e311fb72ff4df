//! The panel with nothing picked: the base's size, parts to pick by keys, and what else can be done without a finger.

use lodewright_planner::kit::{Edit, Part, PartId, Plan, slug};
use yew::prelude::*;

use super::props::{PanelProps, more};
use crate::components::{NumberField, TextField};
use crate::pages::sketch::buttons::{button, chip};
use crate::pages::sketch::picture::picture;
use crate::pages::sketch::placing::in_the_middle;
use crate::pages::sketch::sketch_state::{Kind, Picked, Tool};
use crate::store::{Action, Store};

/// Parts to pick that are shown at once.
const CHIPS: usize = 30;

/// See the module.
pub fn nothing(props: &PanelProps, store: &Store) -> Html {
    let plan = &props.open.plan;
    let pick = |test: String, word: &str, what: Picked| {
        let sketch = props.sketch.clone();
        chip(&test, word, false, move || {
            sketch.set(sketch.tapped(what.clone()))
        })
    };
    let put = {
        let (store, sketch) = (store.clone(), props.sketch.clone());
        move || {
            let added = store.add_socket();
            let Some(id) = added else { return };
            let side = sketch.side;
            let _ = store.socket(&id, move |s, ()| s.facing = side).emit(());
            if let Some(edit) = store.read(|s| in_the_middle(&s.track()?.plan, &id)) {
                store.edit(edit);
            }
            let next = sketch.with(|s| s.picked = vec![Picked::Socket(id)]);
            sketch.set(next.saying(format!("A socket on the middle of the {}.", side.word())));
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
            { picture(plan, &props.sketch, store) }
        </>
    }
}

fn variant_name(props: &PanelProps, store: &Store) -> Html {
    let shown = props.sketch.variant.as_ref();
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
    let Tool::Draw(kind) = props.sketch.tool else {
        return Html::default();
    };
    if kind == Kind::Outline {
        return Html::default();
    }
    let (store, sketch) = (store.clone(), props.sketch.clone());
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
                Some((id, vec![Edit::AddPart(name), Edit::PutPart(Box::new(part))]))
            });
            let Some((id, edits)) = made else { return };
            store.send(Action::EditAll {
                label: "draw a part",
                edits,
            });
            sketch.change(|s| s.picked = vec![Picked::Part(id)]);
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
