//! The answers to the open plan: worked out when a page first asks for them, once for each state of the plan.

use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

use gloo::timers::callback::Timeout;
use lodewright_planner::Analysis;
use lodewright_planner::kit::CheckedPlan;
use yew::prelude::*;

use super::{OpenPlan, PlanKey, use_plan};
use crate::shared::Shared;

/// What a page learns.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answered {
    /// The last good answers; those of the plan as it is now where there is no error.
    pub good: Option<Analysis>,
    /// Why the plan as it is now has no answers.
    pub error: Option<AttrValue>,
}

/// The last good answers, and the key of their plan.
type Last = Rc<RefCell<Option<(PlanKey, Analysis)>>>;

/// One state of the open plan and its answers, once somebody has asked.
#[derive(Default)]
struct Question {
    open: Option<OpenPlan>,
    last: Last,
    answer: OnceCell<Answered>,
}

impl Question {
    fn answer(&self) -> Answered {
        self.answer.get_or_init(|| self.work_out()).clone()
    }

    fn work_out(&self) -> Answered {
        let Some(open) = &self.open else {
            return Answered::default();
        };
        let plan = match CheckedPlan::of((*open.plan).clone()) {
            Ok(plan) => plan,
            Err(problems) => {
                let first = problems.first().map(ToString::to_string);
                return Answered {
                    good: self.last_of(&open.key),
                    error: first.map(AttrValue::from),
                };
            }
        };
        let last = self.last_of(&open.key);
        let still_good = last.and_then(|last| last.with_ticks_of(&plan));
        let good = still_good.unwrap_or_else(|| Analysis::from(plan));
        self.last.replace(Some((open.key.clone(), good.clone())));
        Answered {
            good: Some(good),
            error: None,
        }
    }

    fn last_of(&self, key: &PlanKey) -> Option<Analysis> {
        let last = self.last.borrow();
        last.as_ref()
            .filter(|(of, _)| of == key)
            .map(|(_, good)| good.clone())
    }
}

/// Props of [`AnswersProvider`].
#[derive(PartialEq, Properties)]
pub struct AnswersProviderProps {
    /// Who may ask.
    pub children: Html,
}

/// How long after an edit the answers are asked for anew, milliseconds: the edit itself shows before they are worked out.
const SETTLES_MS: u32 = 20;

/// The open plan once it has been the same for a moment; another plan at once.
#[hook]
fn use_settled_plan() -> Option<OpenPlan> {
    let open = use_plan();
    let settled = use_state(|| open.clone());
    {
        let settled = settled.clone();
        use_effect_with(open.clone(), move |open| {
            let open = open.clone();
            let timer = Timeout::new(SETTLES_MS, move || settled.set(open));
            || drop(timer)
        });
    }
    let same = |a: &OpenPlan| open.as_ref().is_some_and(|b| a.key == b.key);
    match &*settled {
        Some(plan) if same(plan) => Some(plan.clone()),
        _ => open,
    }
}

/// Provides the answers to the open plan. A page that asks for none costs nothing.
#[component]
pub fn AnswersProvider(props: &AnswersProviderProps) -> Html {
    let last = use_memo((), |()| Last::default());
    let open = use_settled_plan();
    let question = use_memo(open, |open| Question {
        open: open.clone(),
        last: Rc::clone(&last),
        answer: OnceCell::new(),
    });
    html! {
        <ContextProvider<Shared<Question>> context={Shared::from(question)}>{ props.children.clone() }</ContextProvider<Shared<Question>>>
    }
}

/// The answers to the open plan; nothing where no plan is open.
#[hook]
pub fn use_answers() -> Answered {
    use_context::<Shared<Question>>()
        .map(|q| q.answer())
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{PartId, Plan};

    use super::*;

    fn question(last: &Last, key: &str, plan: Plan) -> Question {
        Question {
            open: Some(OpenPlan {
                key: AttrValue::from(key.to_owned()),
                plan: Shared::new(plan),
            }),
            last: Rc::clone(last),
            answer: OnceCell::new(),
        }
    }

    fn broken() -> Plan {
        Plan {
            base: PartId::new("nobody"),
            ..Plan::empty("broken")
        }
    }

    #[test]
    fn the_last_good_answers_stay_beside_an_error() {
        let last = Last::default();
        let good = question(&last, "a", Plan::empty("a")).answer();
        assert!(good.error.is_none());
        let after = question(&last, "a", broken()).answer();
        assert!(after.error.is_some());
        assert!(after.good.is_some() && after.good == good.good);
    }

    #[test]
    fn another_plan_does_not_inherit_them() {
        let last = Last::default();
        assert!(
            question(&last, "a", Plan::empty("a"))
                .answer()
                .good
                .is_some()
        );
        assert!(question(&last, "b", broken()).answer().good.is_none());
    }

    #[test]
    fn ticks_of_the_work_keep_the_answers_and_other_edits_do_not() {
        let last = Last::default();
        let plan = Plan::empty("a");
        let good = question(&last, "a", plan.clone()).answer().good.unwrap();
        let mut ticked = plan.clone();
        ticked.progress.done.push("drill:a".to_owned());
        let after = question(&last, "a", ticked.clone()).answer().good.unwrap();
        assert!(std::ptr::eq(after.joints(), good.joints()) && **after.plan() == ticked);
        ticked.settings.hold_target_g += 1.0;
        let other = question(&last, "a", ticked).answer().good.unwrap();
        assert!(!std::ptr::eq(other.joints(), good.joints()));
    }

    #[test]
    fn an_answer_is_worked_out_once() {
        let asked = question(&Last::default(), "a", Plan::empty("a"));
        let (one, two) = (asked.answer(), asked.answer());
        assert!(one.good.is_some() && one == two);
    }
}
