//! The app: the store and the address around the frame.

use yew::prelude::*;

use crate::layout::{Router, Shell, here};
use crate::shared::Shared;
use crate::storage::{Autosave, BrowserStorage, load};
use crate::store::{AnswersProvider, AppState, StoreProvider};

/// Reads what is kept in this browser and shows the page that the address asks for.
#[component]
pub fn App() -> Html {
    let start = use_memo((), |()| {
        let mut state = AppState::starting(load(&BrowserStorage::open()));
        let route = here();
        state.open.clone_from(&route.plan);
        (Shared::new(state), route)
    });
    html! {
        <StoreProvider start={start.0.clone()}>
            <Autosave />
            <AnswersProvider>
                <Router start={start.1.clone()}><Shell /></Router>
            </AnswersProvider>
        </StoreProvider>
    }
}
