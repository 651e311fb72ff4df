//! The joint by itself, made once for each state of the plan, for all that looks at it closely.

use lodewright_planner::JointIx;
use lodewright_planner::joints::{JointModel, Verdict};
use yew::prelude::*;

use crate::shared::Shared;
use crate::store::Analysis;

/// A joint with what it comes to.
#[derive(Clone, Debug)]
pub struct Studied {
    /// The joint.
    pub model: JointModel,
    /// What it comes to as it is.
    pub verdict: Verdict,
}

impl Studied {
    /// `None` where the joint may be glued or nothing holds it.
    pub fn of(d: &Analysis, joint: JointIx) -> Option<Self> {
        let model = d.study(joint)?;
        let verdict = model.judge();
        Some(Self { model, verdict })
    }
}

/// A joint.
#[hook]
pub fn use_study(analysis: &Analysis, joint: JointIx) -> Option<Shared<Studied>> {
    let made = use_memo((analysis.clone(), joint), |(d, joint)| {
        Studied::of(d, *joint).map(Shared::new)
    });
    (*made).clone()
}
