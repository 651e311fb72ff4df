//! The joint by itself, made once for each state of the plan, for all that looks at it closely.

use lodewright_planner::joints::{JointModel, ModelAccount};
use lodewright_planner::study;
use yew::prelude::*;

use crate::shared::Shared;
use crate::store::Derived;

/// A joint with what it comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Studied {
    /// The joint.
    pub model: JointModel,
    /// What it comes to as it is.
    pub account: ModelAccount,
}

impl Studied {
    /// `None` where the joint may be glued or nothing holds it.
    pub fn of(d: &Derived, joint: usize) -> Option<Self> {
        let model = study(&d.plan, &d.answers, joint)?;
        let account = model.account(&d.plan);
        Some(Self { model, account })
    }
}

/// The joint of this index.
#[hook]
pub fn use_study(derived: &Derived, joint: usize) -> Option<Shared<Studied>> {
    let made = use_memo((derived.clone(), joint), |(d, joint)| {
        Studied::of(d, *joint).map(Shared::new)
    });
    (*made).clone()
}
