//! Long work as a component sees it: asleep, working, found or failed.

use std::rc::Rc;

use serde::de::DeserializeOwned;
use yew::prelude::*;

use super::{LongWork, Question, Told};
use crate::store::Derived;

/// How long work stands.
#[derive(Clone, Debug, PartialEq)]
pub enum Work<T> {
    /// Nothing was asked.
    Asleep,
    /// So much is done of so much.
    Working(u32, u32),
    /// The answer.
    Found(T),
    /// Why there is none, in words.
    Failed(String),
}

impl<T: DeserializeOwned> Work<T> {
    fn after(told: Told) -> Self {
        match told {
            Told::Progress(done, of) => Self::Working(done.min(of), of.max(1)),
            Told::Failed(said) => Self::Failed(said),
            Told::Answer(text) => match serde_json::from_str(&text) {
                Ok(found) => Self::Found(found),
                Err(e) => Self::Failed(format!("The answer could not be read: {e}.")),
            },
        }
    }
}

/// Work with the means to begin it and to stop it.
pub struct UseLongWork<T> {
    /// How it stands.
    pub work: Work<T>,
    /// Begins, in place of what may be under way.
    pub ask: Callback<Question>,
    /// Stops.
    pub stop: Callback<MouseEvent>,
}

/// Work on the state of a plan: another state makes it stale, and leaving the page stops it.
#[hook]
pub fn use_long_work<T>(derived: &Derived) -> UseLongWork<T>
where
    T: DeserializeOwned + Clone + PartialEq + 'static,
{
    let state = use_state_eq(|| Work::<T>::Asleep);
    let worker = use_mut_ref(|| None::<LongWork>);
    {
        let (state, worker) = (state.setter(), Rc::clone(&worker));
        use_effect_with(derived.clone(), move |_| {
            state.set(Work::Asleep);
            worker.borrow_mut().take();
            move || drop(worker.borrow_mut().take())
        });
    }
    let ask = {
        let (state, worker) = (state.setter(), Rc::clone(&worker));
        Callback::from(move |question: Question| {
            state.set(Work::Working(0, 1));
            let tell = {
                let state = state.clone();
                move |told: Told| state.set(Work::after(told))
            };
            match LongWork::start(&question, tell) {
                Ok(started) => *worker.borrow_mut() = Some(started),
                Err(said) => state.set(Work::Failed(said)),
            }
        })
    };
    let stop = {
        let (state, worker) = (state.setter(), worker);
        Callback::from(move |_: MouseEvent| {
            worker.borrow_mut().take();
            state.set(Work::Asleep);
        })
    };
    UseLongWork {
        work: (*state).clone(),
        ask,
        stop,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_answer_is_said() {
        let after = Work::<Vec<u32>>::after;
        assert!(matches!(
            after(Told::Answer("{".to_owned())),
            Work::Failed(_)
        ));
        assert_eq!(after(Told::Answer("[1]".to_owned())), Work::Found(vec![1]));
        assert_eq!(after(Told::Progress(9, 4)), Work::Working(4, 4));
    }
}
