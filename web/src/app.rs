//! The app: the store and the address around the frame.

use yew::prelude::*;

use crate::address::here;
use crate::layout::Shell;
use crate::router::Router;
use crate::shared::Shared;
use crate::storage::{Autosave, Start};
use crate::store::{AnswersProvider, StoreProvider};

/// Props of [`App`].
#[derive(PartialEq, Properties)]
pub struct AppProps {
    /// What is kept in this browser.
    pub start: Shared<Start>,
}

/// Shows the page that the address asks for.
#[component]
pub fn App(props: &AppProps) -> Html {
    let found = props.start.clone();
    let start = use_memo((), |()| {
        let mut state = found.state();
        let route = here();
        state.open.clone_from(&route.plan);
        (Shared::new(state), route)
    });
    html! {
        <StoreProvider start={start.0.clone()}>
            <Autosave start={props.start.clone()} />
            <AnswersProvider>
                <Router start={start.1.clone()}><Shell /></Router>
            </AnswersProvider>
        </StoreProvider>
    }
}
