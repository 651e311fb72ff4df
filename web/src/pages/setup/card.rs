//! What every card of the page is given.

use lodewright_planner::kit::Plan;
use yew::prelude::*;

use crate::shared::Shared;

/// Props of every card of the page.
#[derive(PartialEq, Properties)]
pub struct CardProps {
    /// The plan.
    pub plan: Shared<Plan>,
}
