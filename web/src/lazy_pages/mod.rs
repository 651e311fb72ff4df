//! Code that comes in files of its own: the page of all plans stands before the pages of a plan are fetched, and the long
//! searches are fetched by the worker alone. `cargo xtask` cuts the files at the functions of `cuts`.

mod cuts;
mod view;

use std::cell::Cell;

use lodewright_planner::kit::Plan;
use yew::prelude::*;

use crate::routes::Route;
use crate::shared::Shared;
use crate::store::{OpenPlan, Shelf, Store};

pub use cuts::{NotFetched, answer};
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

thread_local! {
    static PAGES: Cell<Option<Pages>> = const { Cell::new(None) };
}

/// The pages, where they are there already.
fn pages() -> Option<Pages> {
    PAGES.get().or_else(cuts::whole)
}

/// Fetches the pages, once.
///
/// # Errors
/// They could not be fetched; asking again tries again.
pub async fn fetch() -> Result<Pages, NotFetched> {
    let fetched = cuts::pages().await?;
    PAGES.set(Some(fetched));
    Ok(fetched)
}
