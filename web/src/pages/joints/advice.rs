//! What would help a joint: each change was tried on the whole plan, and one tap makes it.

use lodewright_planner::{Advice as Piece, JointIx};
use yew::prelude::*;

use super::names::times;
use super::study::Studied;
use crate::shared::Shared;
use crate::store::{Analysis, use_store};

/// Props of [`Advice`].
#[derive(PartialEq, Properties)]
pub struct AdviceProps {
    /// The answers.
    pub analysis: Analysis,
    /// The joint.
    pub joint: JointIx,
    /// The joint by itself.
    pub studied: Shared<Studied>,
}

/// What was tried, and on which plan and joint.
type Tried = (Analysis, JointIx, Shared<Vec<Piece>>);

/// Offers to try the changes: that takes as long as working the plan out several times, so it waits to be asked.
#[component]
pub fn Advice(props: &AdviceProps) -> Html {
    let store = use_store();
    let tried = use_state_eq(|| None::<Tried>);
    let now = (*tried)
        .clone()
        .filter(|(d, joint, _)| *d == props.analysis && *joint == props.joint);
    let onclick = {
        let (tried, d, joint) = (tried.clone(), props.analysis.clone(), props.joint);
        Callback::from(move |_: MouseEvent| {
            let list = d.advice(joint);
            tried.set(Some((d.clone(), joint, Shared::new(list))));
        })
    };
    let holds = props.studied.verdict.holds_enough();
    let row = |(n, a): (usize, &Piece)| {
        let take = {
            let (store, edit) = (store.clone(), a.edit.clone());
            Callback::from(move |_: MouseEvent| store.edit(edit.clone()))
        };
        html! {
            <li key={a.said.clone()} class={classes!(a.good.then_some("is-mending"))}>
                <span>
                    { &a.said }{ " " }<strong>{ format!("{}\u{a0}\u{d7}\u{a0}weight", times(a.margin_x_weight)) }</strong>
                    { if a.good { ", all is met" } else { ", better, not yet enough" } }
                    if let Some(takes) = &a.takes { <span class="quiet">{ format!(" It then takes {takes}.") }</span> }
                    { for a.but.iter().map(|b| html! { <span class="is-bad-words">{ " " }{ b.clone() }</span> }) }
                </span>
                <button type="button" class="button is-small" data-test={format!("take-{}", n + 1)} onclick={take} aria-label={format!("Make this change: {}", a.said)}>{ "Make this change" }</button>
            </li>
        }
    };
    let lead = if holds {
        "It holds, but something else that is asked of it is not met. The planner can try smaller sizes and deeper settings, one at a time, and say what each would bring."
    } else {
        "The planner can try other sizes, other places, a second pair, masking, pegs and thinner walls, one at a time, and say what each would bring."
    };
    html! {
        <section class="advice" aria-label="What would help">
            <h3>{ "What would help" }</h3>
            <div aria-live="polite">
                if let Some((_, _, list)) = &now {
                    if list.is_empty() {
                        <p>{ "None of the usual changes helps. A lighter part, a wider contact or a socket elsewhere may." }</p>
                    } else {
                        <p>{ "Each change on its own, with the whole plan recalculated; the joint would then hold:" }</p>
                        <ul class="advice-list">{ for list.iter().enumerate().map(row) }</ul>
                    }
                } else {
                    <p>{ lead }</p>
                }
            </div>
            if now.is_none() {
                <button type="button" class="button" data-test="try-changes" {onclick}>{ "Try the changes" }</button>
            }
        </section>
    }
}
