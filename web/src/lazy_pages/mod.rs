//! Pages that come in files of their own: the page of all plans stands before the pages of a plan are fetched. This folder
//! says what they are and shows them once they are there; `cuts` knows where they come from.

mod view;

use std::cell::Cell;
use std::pin::Pin;

use lodewright_planner::kit::Plan;
use yew::prelude::*;

use crate::routes::Route;
use crate::shared::Shared;
use crate::store::{OpenPlan, Shelf, Store};

pub use view::{LazyPageView, lazy_page};

/// What the fetched pages can show.
#[derive(Clone, PartialEq)]
pub enum LazyPage {
    /// A page of a plan.
    OfPlan(Route, OpenPlan),
    /// How the numbers are made, at a subject.
    How(AttrValue),
    /// What a link carries, packed.
    Carried(AttrValue),
    /// The ways to share a plan.
    Share(OpenPlan),
    /// A plan beside those that it can be compared with.
    Compare(OpenPlan, Shared<Shelf>),
}

/// What comes with the pages.
#[derive(Clone, Copy)]
pub struct Pages {
    /// Shows what is asked for.
    pub show: fn(&LazyPage, &Store) -> Html,
    /// The demo plan, or why there is none, in words.
    pub demo: fn() -> Result<Plan, String>,
}

/// The pages could not be fetched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotFetched;

/// Fetches the pages.
pub type Fetch = fn() -> Pin<Box<dyn Future<Output = Result<Pages, NotFetched>>>>;

thread_local! {
    static FETCH: Cell<Option<Fetch>> = const { Cell::new(None) };
    static PAGES: Cell<Option<Pages>> = const { Cell::new(None) };
}

/// Says how the pages are fetched.
pub fn come_from(fetch: Fetch) {
    FETCH.set(Some(fetch));
}

/// Hands the pages over, where they need no fetching.
pub fn are_here(pages: Pages) {
    PAGES.set(Some(pages));
}

/// Fetches the pages, once.
///
/// # Errors
/// They could not be fetched; asking again tries again.
pub async fn fetch() -> Result<Pages, NotFetched> {
    let fetched = FETCH.get().ok_or(NotFetched)?().await?;
    PAGES.set(Some(fetched));
    Ok(fetched)
}
