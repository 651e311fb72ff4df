//! Sockets and parts to pick from.

use lodewright_planner::kit::{Edit, Part, Plan, Socket};
use yew::prelude::*;

use super::place::Place;
use crate::address::go;
use crate::components::{Shape, icon};
use crate::format::number;
use crate::routes::{Page, Route};
use crate::store::{OpenPlan, Store, use_store};

/// Props of [`List`].
#[derive(PartialEq, Properties)]
pub struct ListProps {
    /// The open plan.
    pub open: OpenPlan,
    /// What is picked out.
    pub place: Option<Place>,
}

/// See the module.
#[component]
pub fn List(props: &ListProps) -> Html {
    let store = use_store();
    let plan = &props.open.plan;
    let link = |place: Place, name: &str, brief: String| {
        let here = props.place.as_ref() == Some(&place);
        let rest = place.rest();
        html! {
            <li key={rest.clone()}>
                <a href={Route::at(Page::Parts, &props.open.key, &rest).href()} data-test={format!("pick-{rest}")} aria-current={here.then_some("true")}>
                    <span>{ name }</span><span class="quiet">{ brief }</span>
                </a>
            </li>
        }
    };
    html! {
        <div class="split-list">
            <section aria-label="Sockets">
                <div class="split-head"><h2>{ "Sockets" }</h2>{ add("add-socket", "Socket", &store, &props.open, add_socket) }</div>
                <ul class="pick-list">{ for plan.sockets.iter().map(|s| link(Place::Socket(s.id.clone()), &s.name, socket_brief(plan, s))) }</ul>
                if plan.sockets.is_empty() { <p class="quiet">{ "None yet. A socket is a place where parts swap." }</p> }
            </section>
            <section aria-label="Parts">
                <div class="split-head"><h2>{ "Parts" }</h2>{ add("add-part", "Part", &store, &props.open, add_part) }</div>
                <ul class="pick-list">{ for plan.parts.iter().map(|p| link(Place::Part(p.id.clone()), &p.name, part_brief(plan, p))) }</ul>
            </section>
        </div>
    }
}

fn socket_brief(plan: &Plan, socket: &Socket) -> String {
    let host = plan
        .part(&socket.host)
        .map_or(socket.host.as_str(), |p| p.name.as_str());
    format!("{host}, {}", socket.facing.word())
}

/// The mass, with a sign before it where it is only guessed.
fn part_brief(plan: &Plan, part: &Part) -> String {
    let Some(material) = plan.material(&part.material) else {
        return String::new();
    };
    let mass = part.mass_estimate(material.density_g_cm3);
    let about = if mass.guessed { "about " } else { "" };
    format!("{about}{} g", number((mass.mass_g * 10.0).round() / 10.0))
}

type Add = fn(&Store) -> Option<Place>;

fn add(test: &'static str, word: &'static str, store: &Store, open: &OpenPlan, run: Add) -> Html {
    let (store, key) = (store.clone(), open.key.clone());
    let onclick = Callback::from(move |_: MouseEvent| {
        if let Some(place) = run(&store) {
            go(&Route::at(Page::Parts, &key, &place.rest()));
        }
    });
    html! { <button type="button" class="button is-quiet is-small" data-test={test} {onclick}>{ icon(Shape::Plus) }{ word }</button> }
}

fn add_socket(store: &Store) -> Option<Place> {
    store.add_socket().map(Place::Socket)
}

fn add_part(store: &Store) -> Option<Place> {
    let name = store.read(|s| Some(format!("Part {}", s.track()?.plan.parts.len() + 1)))?;
    store.try_edit(Edit::AddPart(name)).ok()?;
    store.read(|s| Some(Place::Part(s.track()?.plan.parts.last()?.id.clone())))
}
