//! Magnets that are not meant to meet, for one joint or the whole plan.

use lodewright_planner::UnintendedPairWords;
use lodewright_planner::joints::HoleIx;
use yew::prelude::*;

use crate::format::number;
use crate::store::Analysis;

/// Props of [`StrangerList`].
#[derive(PartialEq, Properties)]
pub struct StrangerListProps {
    /// The answers.
    pub analysis: Analysis,
    /// Only pairs with one of these holes; all where none is named.
    #[prop_or_default]
    pub holes: Option<Vec<HoleIx>>,
}

/// See the module.
#[component]
pub fn StrangerList(props: &StrangerListProps) -> Html {
    let found = use_memo(props.analysis.clone(), Analysis::unintended_pairs);
    let counts = |s: &&UnintendedPairWords| {
        let mine = props.holes.as_ref();
        mine.is_none_or(|mine| s.pair.holes.iter().any(|h| mine.contains(h)))
    };
    let list: Vec<_> = found.iter().filter(counts).collect();
    if list.is_empty() {
        let limit = number(props.analysis.plan().settings.stranger_limit_n);
        return html! { <p class="quiet" data-test="strangers">{ format!("No two magnets that are not meant to meet feel each other with more than {limit} N.") }</p> };
    }
    html! {
        <ul class="strangers" data-test="strangers">
            { for list.into_iter().enumerate().map(|(n, s)| html! { <li key={n}>{ &s.said }{ " " }<span class="quiet">{ &s.remedy }</span></li> }) }
        </ul>
    }
}
