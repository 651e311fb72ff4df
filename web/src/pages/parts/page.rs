//! The page: the list at the left, the form of what is picked at the right; one after the other on a narrow screen.

use yew::prelude::*;

use super::list::List;
use super::part_form::PartForm;
use super::place::Place;
use super::socket_form::SocketForm;
use crate::components::{Shape, icon};
use crate::pages::PlanPageProps;
use crate::routes::{Page, Route};

/// See the module.
#[component]
pub fn PartsPage(props: &PlanPageProps) -> Html {
    let place = Place::read(&props.rest);
    let back = Route::of(Page::Parts, &props.open.key).href();
    html! {
        <div data-test="page-parts">
            <div class="page-head"><h1>{ Page::Parts.title() }</h1></div>
            <div class={classes!("split", place.is_some().then_some("has-item"))}>
                <List open={props.open.clone()} place={place.clone()} />
                <div>
                    if place.is_some() {
                        <a class="button is-quiet only-narrow" href={back}>{ icon(Shape::Back) }{ "All parts and sockets" }</a>
                    }
                    { form(props, place) }
                </div>
            </div>
        </div>
    }
}

fn form(props: &PlanPageProps, place: Option<Place>) -> Html {
    let plan = &props.open.plan;
    let gone = || html! { <p class="empty">{ "This entry is no longer in the plan. Undo may bring it back." }</p> };
    match place {
        Some(Place::Part(id)) => match plan.part(&id) {
            Some(part) => {
                html! { <PartForm key={id.to_string()} open={props.open.clone()} part={part.clone()} /> }
            }
            None => gone(),
        },
        Some(Place::Socket(id)) => match plan.socket(&id) {
            Some(socket) => {
                html! { <SocketForm key={id.to_string()} open={props.open.clone()} socket={socket.clone()} /> }
            }
            None => gone(),
        },
        None => {
            html! { <p class="empty">{ "Pick a socket or a part. Everything here has a usual beginning: say only what differs, the heavy parts, the thin ones and the sockets that carry them first." }</p> }
        }
    }
}
