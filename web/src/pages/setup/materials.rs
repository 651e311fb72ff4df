//! What parts are made of.

use lodewright_planner::kit::{Edit, Material, MaterialId, Plan, slug};
use yew::prelude::*;

use super::card::CardProps;
use crate::components::{Disclosure, NumberField, TextField};
use crate::store::{Edited, Store, use_store};

/// See the module.
#[component]
pub fn MaterialCard(props: &CardProps) -> Html {
    let store = use_store();
    let add = all(&store, |list, ()| {
        let id = MaterialId::new(slug("material", list.iter().map(|m| m.id.as_str())));
        list.push(Material {
            id,
            name: "New material".to_owned(),
            density_g_cm3: 1.0,
            strength_mpa: 30.0,
        });
    });
    html! {
        <section class="card section" aria-label="Materials">
            <h2>{ "Materials" }</h2>
            <div>{ for props.plan.materials.iter().map(|m| fold(m, &store)) }</div>
            <div><button type="button" class="button" data-test="add-material" onclick={Callback::from(move |_: MouseEvent| { let _ = add.emit(()); })}>{ "Add a material" }</button></div>
        </section>
    }
}

fn fold(m: &Material, store: &Store) -> Html {
    let id = |word: &str| format!("material-{}-{word}", m.id);
    let gone = {
        let (id, drop_it) = (
            m.id.clone(),
            all(store, |list, id: MaterialId| list.retain(|m| m.id != id)),
        );
        let store = store.clone();
        Callback::from(move |_: MouseEvent| {
            if let Err(said) = drop_it.emit(id.clone()) {
                store.send(crate::store::Action::Tell(crate::store::Notice::refused(
                    said,
                )));
            }
        })
    };
    html! {
        <Disclosure key={m.id.to_string()} id={id("fold")} title={m.name.clone()} summary={format!("{} g/cm\u{b3}", crate::format::number(m.density_g_cm3))}>
            <TextField id={id("name")} label="Name" value={m.name.clone()} on_commit={one(store, &m.id, |m, v: String| m.name = v.trim().to_owned())} />
            <div class="pair">
                <NumberField id={id("density")} label="Density" unit={"g/cm\u{b3}"} value={m.density_g_cm3} on_commit={one(store, &m.id, |m, v| m.density_g_cm3 = v)} />
                <NumberField id={id("strength")} label="Bending stress it may bear" unit="MPa" value={m.strength_mpa} on_commit={one(store, &m.id, |m, v| m.strength_mpa = v)} />
            </div>
            <div><button type="button" class="button is-small" data-test={id("drop")} onclick={gone}>{ "Remove" }</button></div>
        </Disclosure>
    }
}

fn all<V: 'static>(store: &Store, change: impl Fn(&mut Vec<Material>, V) + 'static) -> Edited<V> {
    store.edited(move |plan: &Plan, value| {
        let mut list = plan.materials.clone();
        change(&mut list, value);
        Some(Edit::PutMaterials(list))
    })
}

fn one<V: 'static>(
    store: &Store,
    id: &MaterialId,
    change: impl Fn(&mut Material, V) + 'static,
) -> Edited<V> {
    let id = id.clone();
    all(store, move |list, value| {
        if let Some(material) = list.iter_mut().find(|m| m.id == id) {
            change(material, value);
        }
    })
}
