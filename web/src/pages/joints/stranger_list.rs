//! Magnets that are not meant to meet, for one joint or the whole plan.

use lodewright_planner::{StrangerWords, strangers};
use yew::prelude::*;

use crate::format::number;
use crate::store::Derived;

/// Props of [`StrangerList`].
#[derive(PartialEq, Properties)]
pub struct StrangerListProps {
    /// The answers.
    pub derived: Derived,
    /// Only pairs with one of these holes; all where none is named.
    #[prop_or_default]
    pub holes: Option<Vec<usize>>,
}

/// See the module.
#[component]
pub fn StrangerList(props: &StrangerListProps) -> Html {
    let found = use_memo(props.derived.clone(), |d| strangers(&d.plan, &d.answers));
    let counts = |s: &&StrangerWords| {
        let mine = props.holes.as_ref();
        mine.is_none_or(|mine| s.pair.holes.iter().any(|h| mine.contains(h)))
    };
    let list: Vec<_> = found.iter().filter(counts).collect();
    if list.is_empty() {
        let limit = number(props.derived.plan.settings.stranger_limit_n);
        return html! { <p class="quiet" data-test="strangers">{ format!("No two magnets that are not meant to meet feel each other with more than {limit} N.") }</p> };
    }
    html! {
        <ul class="strangers" data-test="strangers">
            { for list.into_iter().enumerate().map(|(n, s)| html! { <li key={n}>{ &s.said }{ " " }<span class="quiet">{ &s.remedy }</span></li> }) }
        </ul>
    }
}
