//! Everything about one part.

use lodewright_planner::kit::{
    Edit, Inside, Mass, Part, PartId, Plan, Plug, PlugId, Section, ThinSection, slug,
};
use yew::prelude::*;

use super::place::{face, faces};
use super::plug_form::PlugForm;
use super::socket_form::xyz;
use crate::components::{
    Choice, Disclosure, NumberField, Segments, SelectField, TextField, Toggle, VectorFieldProps,
    vector_field,
};
use crate::format;
use crate::store::{OpenPlan, Store, use_store};

/// Props of [`PartForm`].
#[derive(PartialEq, Properties)]
pub struct PartFormProps {
    /// The open plan.
    pub open: OpenPlan,
    /// The part.
    pub part: Part,
}

/// See the module. Keyed by the part.
#[component]
pub fn PartForm(props: &PartFormProps) -> Html {
    let store = use_store();
    let (plan, p) = (&props.open.plan, &props.part);
    let id = &p.id;
    let is_base = *id == plan.base;
    let remove = {
        let (store, id) = (store.clone(), id.clone());
        Callback::from(move |_: MouseEvent| store.edit(Edit::DropPart(id.clone())))
    };
    html! {
        <div class="form" data-test="part-form">
            <div class="split-head"><h2>{ &p.name }</h2>
                if is_base {
                    <span class="quiet">{ "the base: everything sits on it" }</span>
                } else {
                    <button type="button" class="button is-small" data-test="part-drop" onclick={remove}>{ "Remove the part" }</button>
                }
            </div>
            <div class="pair">
                <TextField id="part-name" label="Name" value={p.name.clone()} on_commit={store.part(id, |p, name: String| p.name = name.trim().to_owned())} />
                <TextField id="part-sprue" label="Number on the sprue" value={p.sprue_number.clone()} on_commit={store.part(id, |p, v: String| p.sprue_number = v.trim().to_owned())} />
            </div>
            { vector_field(&yew::props!(VectorFieldProps { id: "part-size", label: "Outer size", axes: sizes(), values: p.size_mm.to_vec(), unit: "mm", on_commit: store.part(id, |p, (n, v): (usize, f64)| if let Some(s) = p.size_mm.get_mut(n) { *s = v }) })) }
            { inside(p, &store) }
            { mass(plan, p, &store) }
            if !is_base {
                <Toggle id="part-lift" label="People pick the model up by it" value={p.lift_point} on_commit={store.part(id, |p, v| p.lift_point = v)} />
            }
            <div>
                if !is_base {
                    <Disclosure id="part-thin" title="Thin section" summary={thin_words(p)} open={p.thin.is_some()}>{ thin(p, &store) }</Disclosure>
                }
                { plugs(props, is_base, &store) }
                <Disclosure id="part-centre" title="Centre of mass and box" summary={if p.centre_mm.is_some() { "given" } else { "the middle of its body" }}>{ centre(p, &store) }</Disclosure>
            </div>
        </div>
    }
}

fn sizes() -> Vec<AttrValue> {
    ["length", "width", "height"].map(AttrValue::from).to_vec()
}

/// What a part is inside, one after the other.
fn inside(p: &Part, store: &Store) -> Html {
    let options = vec![
        Choice::new("unsaid", "Not said"),
        Choice::new("solid", "Solid"),
        Choice::new("shell", "Hollow"),
    ];
    let (key, wall_mm) = match p.inside {
        Inside::Unsaid => ("unsaid", None),
        Inside::Solid => ("solid", None),
        Inside::Shell { wall_mm } => ("shell", Some(wall_mm)),
    };
    let on_commit = store.part(&p.id, |p, key: AttrValue| {
        p.inside = match key.as_str() {
            "solid" => Inside::Solid,
            "shell" => Inside::Shell { wall_mm: 1.2 },
            _ => Inside::Unsaid,
        };
    });
    html! {
        <>
            <Segments id="part-inside" label="Inside it is" {options} value={key} {on_commit} />
            if let Some(wall_mm) = wall_mm {
                <NumberField id="part-wall" label="Wall" unit="mm" value={wall_mm} hint="Measure it at an opening. Where a boss makes it thicker, say so at the hole."
                    on_commit={store.part(&p.id, |p, wall_mm| p.inside = Inside::Shell { wall_mm })} />
            }
        </>
    }
}

const WAYS: [(&str, &str); 3] = [
    ("body", "From its size"),
    ("weighed", "Weighed"),
    ("volume", "Volume"),
];

fn way(mass: Mass) -> &'static str {
    match mass {
        Mass::Body => "body",
        Mass::Weighed { .. } => "weighed",
        Mass::Volume { .. } => "volume",
    }
}

fn mass(plan: &Plan, p: &Part, store: &Store) -> Html {
    let materials: Vec<_> = plan
        .materials
        .iter()
        .map(|m| Choice::new(m.id.to_string(), m.name.clone()))
        .collect();
    let ways: Vec<_> = WAYS
        .iter()
        .map(|(key, word)| Choice::new(*key, *word))
        .collect();
    html! {
        <>
            <SelectField id="part-material" label="Material" options={materials} value={p.material.to_string()} on_commit={store.part(&p.id, |p, key: AttrValue| p.material = key.as_str().into())} />
            <Segments id="part-mass" label="Mass" options={ways} value={way(p.mass)} on_commit={turned(plan, p, store)} />
            { mass_fields(p, store) }
            <p class="field-hint" data-test="part-mass-words">{ mass_words(plan, p) }</p>
        </>
    }
}

/// Another way to the mass, beginning with what the old way gives.
fn turned(plan: &Plan, p: &Part, store: &Store) -> crate::store::Edited<AttrValue> {
    let density = plan.material(&p.material).map_or(1.0, |m| m.density_g_cm3);
    let mass_g = (p.mass_estimate(density).mass_g * 10.0).round() / 10.0;
    let volume_cm3 = ((mass_g / density) * 100.0).round() / 100.0;
    store.part(&p.id, move |p, key: AttrValue| {
        p.mass = match key.as_str() {
            "weighed" => Mass::Weighed { mass_g },
            "volume" => Mass::Volume { volume_cm3 },
            _ => Mass::Body,
        };
    })
}

fn mass_fields(p: &Part, store: &Store) -> Html {
    match p.mass {
        Mass::Body => Html::default(),
        Mass::Weighed { mass_g } => html! {
            <NumberField id="part-mass-g" label="On the scale" unit="g" value={mass_g} on_commit={store.part(&p.id, |p, mass_g| p.mass = Mass::Weighed { mass_g })} />
        },
        Mass::Volume { volume_cm3 } => html! {
            <NumberField id="part-volume" label="Volume of material" unit={"cm\u{b3}"} value={volume_cm3} on_commit={store.part(&p.id, |p, volume_cm3| p.mass = Mass::Volume { volume_cm3 })} />
        },
    }
}

fn mass_words(plan: &Plan, p: &Part) -> String {
    let Some(material) = plan.material(&p.material) else {
        return "The material is not in the plan: pick one.".to_owned();
    };
    let mass = p.mass_estimate(material.density_g_cm3);
    let (low, high) = (
        mass.mass_g * (1.0 - mass.spread),
        mass.mass_g * (1.0 + mass.spread),
    );
    let why = if mass.guessed {
        "A guess, since it is not said whether it is solid: "
    } else {
        ""
    };
    format!(
        "{why}{} g, from {} to {} g.",
        format::fixed(mass.mass_g, 1),
        format::fixed(low, 1),
        format::fixed(high, 1)
    )
}

fn centre(p: &Part, store: &Store) -> Html {
    let at = store.part(&p.id, |p: &mut Part, (n, v): (usize, f64)| {
        let mut at = p.centre_of_mass_mm();
        if let Some(x) = at.get_mut(n) {
            *x = v;
        }
        p.centre_mm = Some(at);
    });
    html! {
        <>
            { vector_field(&yew::props!(VectorFieldProps { id: "part-centre", label: "Centre of mass, in the part\u{2019}s axes", axes: xyz(), values: p.centre_mm.map(Vec::from), unit: "mm", placeholder: "middle", on_commit: at, on_clear: store.part(&p.id, |p: &mut Part, ()| p.centre_mm = None) })) }
            { vector_field(&yew::props!(VectorFieldProps { id: "part-middle", label: "Middle of the box, in the part\u{2019}s axes", axes: xyz(), values: p.box_middle_mm.to_vec(), unit: "mm", on_commit: store.part(&p.id, |p, (n, v): (usize, f64)| if let Some(x) = p.box_middle_mm.get_mut(n) { *x = v }) })) }
        </>
    }
}

fn thin_words(p: &Part) -> String {
    match p.thin.as_ref().map(|t| t.section) {
        None => "none: need not come off before it snaps".to_owned(),
        Some(Section::Round { diameter_mm }) => format!("{} mm round", format::number(diameter_mm)),
        Some(Section::Rectangle {
            width_mm,
            height_mm,
        }) => format!(
            "{} \u{d7} {} mm",
            format::number(width_mm),
            format::number(height_mm)
        ),
    }
}

fn thin(p: &Part, store: &Store) -> Html {
    let id = &p.id;
    let on = store.part(id, |p: &mut Part, on: bool| {
        p.thin = on.then_some(ThinSection {
            length_mm: 20.0,
            section: Section::Round { diameter_mm: 1.0 },
            reach_mm: 20.0,
            notch_factor: 1.0,
        });
    });
    html! {
        <>
            <Toggle id="part-thin-on" label="Must come off before it snaps" value={p.thin.is_some()} on_commit={on} />
            if let Some(t) = &p.thin {
                { section(id, t.section, store) }
                <div class="pair">
                    <NumberField id="part-thin-length" label="From the section to where it is caught" unit="mm" value={t.length_mm} on_commit={thin_put(id, store, |t, v| t.length_mm = v)} />
                    <NumberField id="part-thin-reach" label="From the joint to where it is caught" unit="mm" value={t.reach_mm} on_commit={thin_put(id, store, |t, v| t.reach_mm = v)} />
                    <NumberField id="part-thin-notch" label="Stress concentration" value={t.notch_factor} hint="1 for a smooth rod, 2 to 3 at a sharp corner or hole." on_commit={thin_put(id, store, |t, v| t.notch_factor = v)} />
                </div>
            }
        </>
    }
}

fn thin_put(
    id: &PartId,
    store: &Store,
    change: fn(&mut ThinSection, f64),
) -> crate::store::Edited<f64> {
    store.part(id, move |p, v| {
        if let Some(thin) = &mut p.thin {
            change(thin, v);
        }
    })
}

fn section(id: &PartId, section: Section, store: &Store) -> Html {
    let put = |make: fn(Section, f64) -> Section| {
        store.part(id, move |p, v| {
            if let Some(thin) = &mut p.thin {
                thin.section = make(thin.section, v);
            }
        })
    };
    let kind = store.part(id, |p, key: AttrValue| {
        if let Some(thin) = &mut p.thin {
            thin.section = if key == "round" {
                Section::Round { diameter_mm: 1.0 }
            } else {
                Section::Rectangle {
                    width_mm: 2.0,
                    height_mm: 1.0,
                }
            };
        }
    });
    let options = vec![
        Choice::new("round", "Round"),
        Choice::new("rectangle", "Rectangular"),
    ];
    let (key, fields) = match section {
        Section::Round { diameter_mm } => (
            "round",
            html! {
                <NumberField id="part-thin-diameter" label="Diameter" unit="mm" value={diameter_mm} on_commit={put(|_, diameter_mm| Section::Round { diameter_mm })} />
            },
        ),
        Section::Rectangle {
            width_mm,
            height_mm,
        } => (
            "rectangle",
            html! {
                <div class="pair">
                    <NumberField id="part-thin-width" label="Across the bending" unit="mm" value={width_mm} on_commit={put(|s, v| match s { Section::Rectangle { height_mm, .. } => Section::Rectangle { width_mm: v, height_mm }, other => other })} />
                    <NumberField id="part-thin-height" label="Along the bending" unit="mm" value={height_mm} on_commit={put(|s, v| match s { Section::Rectangle { width_mm, .. } => Section::Rectangle { width_mm, height_mm: v }, other => other })} />
                </div>
            },
        ),
    };
    html! { <><Segments id="part-thin-kind" label="Section" {options} value={key} on_commit={kind} />{ fields }</> }
}

fn plugs(props: &PartFormProps, is_base: bool, store: &Store) -> Html {
    let p = &props.part;
    if is_base {
        return Html::default();
    }
    let fold = |plug: &Plug| {
        let summary = plug
            .facing
            .map_or("meets the socket as drawn", |f| f.word());
        let title = if p.plugs.len() == 1 {
            "Mounting face".to_owned()
        } else {
            format!("Mounting face {}", plug.id)
        };
        html! {
            <Disclosure key={plug.id.to_string()} id={format!("plug-{}", plug.id)} {title} {summary}>
                <PlugForm key={plug.id.to_string()} plan={props.open.plan.clone()} part={p.id.clone()} plug={plug.clone()} />
                if p.plugs.len() > 1 { { drop_plug(&p.id, &plug.id, store) } }
            </Disclosure>
        }
    };
    html! {
        <>
            { for p.plugs.iter().map(fold) }
            <AddPlug part={p.id.clone()} />
        </>
    }
}

fn drop_plug(part: &PartId, plug: &PlugId, store: &Store) -> Html {
    let plug = plug.clone();
    let gone = store.part(part, move |p: &mut Part, ()| {
        p.plugs.retain(|x| x.id != plug)
    });
    let store = store.clone();
    let onclick = Callback::from(move |_: MouseEvent| {
        if let Err(said) = gone.emit(()) {
            store.send(crate::store::Action::Tell(crate::store::Notice::refused(
                said,
            )));
        }
    });
    html! { <div><button type="button" class="button is-small" {onclick}>{ "Remove this mounting face" }</button></div> }
}

#[derive(PartialEq, Properties)]
struct AddPlugProps {
    part: PartId,
}

/// A further mounting face, on the face that is picked.
#[component]
fn AddPlug(props: &AddPlugProps) -> Html {
    let store = use_store();
    let on_commit = store.part(&props.part, |p: &mut Part, word: AttrValue| {
        let Some(facing) = face(&word) else { return };
        let id = PlugId::new(slug(facing.word(), p.plugs.iter().map(|x| x.id.as_str())));
        p.plugs.push(Plug {
            facing: Some(facing),
            ..Plug::plain(id)
        });
    });
    let options: Vec<_> = std::iter::once(Choice::new("", "\u{2013}"))
        .chain(faces())
        .collect();
    html! {
        <Disclosure id="add-plug" title="Further mounting face" summary="for a part that can sit by more than one">
            <SelectField id="add-plug-face" label={"On the part\u{2019}s"} {options} value="" {on_commit} />
        </Disclosure>
    }
}
