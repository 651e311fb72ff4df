//! A plan that was checked once, so that nobody has to check it again.

use std::ops::Deref;
use std::rc::Rc;

use crate::{Edit, Plan, Problem, Refusal, Severity};

/// A plan that a file can hold, with what is wrong in it all the same; shared, and never changed.
///
/// ```
/// use lodewright_kit::{CheckedPlan, Edit, Plan};
///
/// let plan = CheckedPlan::of(Plan::empty("Tug")).unwrap();
/// let next = plan.edited(&Edit::SetTitle("Harbour tug".to_owned())).unwrap();
/// assert_eq!((plan.title.as_str(), next.title.as_str()), ("Tug", "Harbour tug"));
/// assert!(plan.edited(&Edit::SetTitle(String::new())).is_err());
/// ```
#[derive(Clone, Debug)]
pub struct CheckedPlan(Rc<Checked>);

#[derive(Debug)]
struct Checked {
    plan: Plan,
    problems: Vec<Problem>,
}

impl CheckedPlan {
    /// Checks a plan.
    ///
    /// # Errors
    /// Everything for which a file with this plan would be refused.
    pub fn of(plan: Plan) -> Result<Self, Vec<Problem>> {
        let (refused, problems): (Vec<_>, Vec<_>) = plan
            .problems()
            .into_iter()
            .partition(|p| p.severity == Severity::Refused);
        if refused.is_empty() {
            Ok(Self(Rc::new(Checked { plan, problems })))
        } else {
            Err(refused)
        }
    }

    /// The plan after an edit.
    ///
    /// # Errors
    /// A [`Refusal`] where the edit names what is not there, or would leave a plan that a file could not hold.
    pub fn edited(&self, edit: &Edit) -> Result<Self, Refusal> {
        self.0.plan.edited_and_checked(edit)
    }

    /// What is wrong in it without a file being refused for it.
    pub fn problems(&self) -> &[Problem] {
        &self.0.problems
    }

    /// The plan itself, to be changed.
    pub fn into_plan(self) -> Plan {
        Rc::try_unwrap(self.0).map_or_else(|shared| shared.plan.clone(), |own| own.plan)
    }
}

impl Deref for CheckedPlan {
    type Target = Plan;

    fn deref(&self) -> &Plan {
        &self.0.plan
    }
}

impl PartialEq for CheckedPlan {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.0, &other.0) || self.0.plan == other.0.plan
    }
}
