//! What every page of a plan is given.

use yew::prelude::*;

use crate::store::OpenPlan;

/// Props of every page of a plan.
#[derive(Clone, PartialEq, Properties)]
pub struct PlanPageProps {
    /// The open plan.
    pub open: OpenPlan,
    /// What is picked out on the page, from the address.
    #[prop_or_default]
    pub rest: AttrValue,
}
