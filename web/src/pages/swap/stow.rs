//! Where the loose parts of a variant lie: the spaces, and each drawn in layers from above.

use lodewright_planner::kit::{Edit, Ix, PartIx, Plan, StowSpace, Stowing, VariantIx};
use lodewright_planner::{FilledSpace, LyingPart, StowPlan, mm};
use yew::prelude::*;

use crate::components::{NumberField, TextField, VectorFieldProps, vector_field};
use crate::format;
use crate::store::{Analysis, Edited, Store, use_store};

/// Props of [`Stow`].
#[derive(PartialEq, Properties)]
pub struct StowProps {
    /// The analysis.
    pub analysis: Analysis,
    /// The variant that the model is.
    pub variant: VariantIx,
}

fn edited<V: 'static>(store: &Store, change: impl Fn(&mut Stowing, V) + 'static) -> Edited<V> {
    store.edited(move |plan: &Plan, value| {
        let mut stowing = plan.stowing.clone();
        change(&mut stowing, value);
        Some(Edit::PutStowing(Box::new(stowing)))
    })
}

fn button(store: &Store, change: impl Fn(&mut Stowing) + 'static) -> Callback<MouseEvent> {
    store.press(move |plan| {
        let mut stowing = plan.stowing.clone();
        change(&mut stowing);
        Some(Edit::PutStowing(Box::new(stowing)))
    })
}

/// See the module.
#[component]
pub fn Stow(props: &StowProps) -> Html {
    let store = use_store();
    let found = use_memo((props.analysis.clone(), props.variant), |(a, v)| {
        a.stow_loose(*v)
    });
    let plan = props.analysis.plan();
    let stowing = &plan.stowing;
    let name = plan
        .variants
        .get(props.variant.get())
        .map_or("", |v| &v.name);
    html! {
        <section class="stow" aria-labelledby="stow-title" data-test="stow">
            <h2 id="stow-title">{ format!("Loose parts while it is {name}") }</h2>
            <p>{ "Give the hollow in the model, or a tray: the parts that are not on it are laid in, as boxes with padding round them." }</p>
            <div class="stow-spaces">{ for stowing.spaces.iter().enumerate().map(|(n, s)| space_form(&store, n, s)) }</div>
            <div class="pair">
                <NumberField id="stow-padding" label="Padding round each part" unit="mm" value={stowing.padding_mm} on_commit={edited(&store, |s, v| s.padding_mm = v)} />
                <p><button type="button" class="button" data-test="stow-add" onclick={button(&store, add_space)}>{ "Add a space" }</button></p>
            </div>
            { match found.as_ref() {
                Err(refusal) if stowing.spaces.is_empty() => html! { <p class="quiet">{ &refusal.said }</p> },
                Err(refusal) => html! { <p class="bench-error" role="alert">{ &refusal.said }</p> },
                Ok(found) => html! {
                    <>
                        <p class="stow-said" role="status" data-test="stow-said"><strong>{ said(plan, found) }</strong></p>
                        { for found.spaces.iter().filter(|s| !s.layers.is_empty()).map(|s| drawn(&store, plan, s)) }
                    </>
                },
            } }
        </section>
    }
}

fn add_space(stowing: &mut Stowing) {
    stowing.spaces.push(StowSpace {
        name: match stowing.spaces.len() {
            0 => "Tray".to_owned(),
            n => format!("Tray {}", n + 1),
        },
        inside_mm: [150.0, 100.0, 40.0],
        count: 1,
    });
}

fn space_form(store: &Store, n: usize, space: &StowSpace) -> Html {
    fn with<V: 'static>(store: &Store, n: usize, set: fn(&mut StowSpace, V)) -> Edited<V> {
        edited(store, move |s, v| {
            if let Some(space) = s.spaces.get_mut(n) {
                set(space, v);
            }
        })
    }
    html! {
        <div key={n} class="stow-space">
            <TextField id={format!("stow-{n}-name")} label="Space" value={space.name.clone()} on_commit={with::<String>(store, n, |s, v| s.name = v)} />
            { vector_field(&yew::props!(VectorFieldProps { id: format!("stow-{n}-inside"), label: "Inside", axes: ["along", "across", "high"].map(AttrValue::from).to_vec(), unit: "mm", values: Some(space.inside_mm.to_vec()), on_commit: with::<(usize, f64)>(store, n, |s, (k, v)| if let Some(edge) = s.inside_mm.get_mut(k) { *edge = v; }) })) }
            <NumberField id={format!("stow-{n}-count")} label="How many" whole={true} step={Some(1.0)} value={f64::from(space.count)} on_commit={with::<f64>(store, n, |s, v| s.count = v.clamp(0.0, 1e6) as u32)} />
            <button type="button" class="button is-small" aria-label={format!("Remove {}", space.name)} onclick={button(store, move |s| if n < s.spaces.len() { s.spaces.remove(n); })}>{ "Remove" }</button>
        </div>
    }
}

fn said(plan: &Plan, found: &StowPlan) -> String {
    let names = |list: &[PartIx]| {
        let parts = list.iter().map(|p| plan.parts[*p].name.as_str());
        let words: Vec<&str> = parts.collect();
        words.join(", ")
    };
    if found.loose == 0 {
        return "Nothing is loose: every part is on the model.".to_owned();
    }
    if found.left.is_empty() && found.too_large.is_empty() {
        return match found.loose {
            1 => "The one loose part fits in.".to_owned(),
            n => format!("All {n} loose parts fit in."),
        };
    }
    let lying = found.loose - found.left.len() - found.too_large.len();
    let mut text = format!(
        "{lying} of {} fit in.",
        format::count(found.loose, "loose part", "loose parts")
    );
    if !found.too_large.is_empty() {
        text.push_str(&format!(
            " Too large for any space: {}.",
            names(&found.too_large)
        ));
    }
    if !found.left.is_empty() {
        text.push_str(&format!(
            " No room was found for {}: another space, or a larger one, would help.",
            names(&found.left)
        ));
    }
    text
}

/// Each layer from above, the lowest first, in the order in which they are laid in.
fn drawn(store: &Store, plan: &Plan, space: &FilledSpace) -> Html {
    html! {
        <section key={space.name.clone()} class="stow-filled" aria-label={space.name.clone()}>
            <h3>{ format!("{}, {:.0}\u{a0}% full", space.name, space.filled * 100.0) }</h3>
            <div class="stow-layers">
                { for space.layers.iter().enumerate().map(|(n, layer)| html! {
                    <figure key={n}>
                        { layer_svg(plan, space, layer) }
                        <figcaption>{ match space.layers.len() { 1 => "From above".to_owned(), _ if n == 0 => "Laid in first, from above".to_owned(), _ => format!("Then layer {}", n + 1) } }</figcaption>
                        <ol class="stow-parts">{ for layer.iter().enumerate().map(|(i, p)| part_row(store, plan, i, p)) }</ol>
                    </figure>
                }) }
            </div>
        </section>
    }
}

fn part_row(store: &Store, plan: &Plan, n: usize, lying: &LyingPart) -> Html {
    let part = &plan.parts[lying.part];
    let id = part.id.clone();
    let upright = plan.stowing.upright.contains(&id);
    let toggle = button(store, move |s| {
        if upright {
            s.upright.retain(|p| *p != id);
        } else {
            s.upright.push(id.clone());
        }
    });
    let words = if upright { "May lie" } else { "Keep upright" };
    html! {
        <li key={n} value={(n + 1).to_string()}>
            <span>{ format!("{}, {}, {} mm up", part.name, lying.lies, mm(lying.at_mm[2])) }</span>
            <button type="button" class="button is-small" aria-label={format!("{words}: {}", part.name)} aria-pressed={upright.to_string()} onclick={toggle}>{ words }</button>
        </li>
    }
}

fn layer_svg(plan: &Plan, space: &FilledSpace, layer: &[LyingPart]) -> Html {
    let [along, across, _] = space.inside_mm;
    let names: Vec<&str> = layer
        .iter()
        .map(|p| plan.parts[p.part].name.as_str())
        .collect();
    let letter = (along.min(across) / 10.0).clamp(2.0, 14.0);
    html! {
        <svg class="stow-drawing" viewBox={format!("-1 -1 {} {}", along + 2.0, across + 2.0)} role="img" aria-label={format!("{} from above: {}", space.name, names.join(", "))}>
            <rect class="stow-room" width={along.to_string()} height={across.to_string()} />
            { for layer.iter().enumerate().map(|(n, p)| html! {
                <g key={n}>
                    <rect class="stow-part" x={mm(p.at_mm[0])} y={mm(across - p.at_mm[1] - p.size_mm[1])} width={mm(p.size_mm[0])} height={mm(p.size_mm[1])} />
                    <text class="stow-number" x={mm(p.at_mm[0] + p.size_mm[0] / 2.0)} y={mm(across - p.at_mm[1] - p.size_mm[1] / 2.0)} font-size={letter.to_string()} text-anchor="middle" dominant-baseline="central">{ n + 1 }</text>
                </g>
            }) }
        </svg>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_fit_is_named() {
        let mut plan = Plan::empty("t")
            .edited(&Edit::PasteGrid(
                "\tWinter\tSummer\nNose\tPlough\tHook".to_owned(),
            ))
            .unwrap();
        add_space(&mut plan.stowing);
        let told = |plan: &Plan| {
            let analysis = Analysis::of(plan.clone()).unwrap();
            said(plan, &analysis.stow_loose(VariantIx::new(0)).unwrap())
        };
        assert_eq!(told(&plan), "The one loose part fits in.");
        plan.stowing.spaces[0].inside_mm = [5.0; 3];
        let text = told(&plan);
        assert!(text.contains("Too large for any space: Hook."), "{text}");
    }
}
