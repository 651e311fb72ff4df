//! Poles that conflict: each contradiction as a story, and the ways out of all of them, each one tap that can be undone.

use lodewright_planner::JointIx;
use lodewright_planner::joints::Contradiction;
use lodewright_planner::kit::Ix;
use yew::prelude::*;

use super::ways_out::WaysOut;
use crate::pages::joints::names::joint_key;
use crate::routes::{Page, Route};
use crate::store::{Analysis, PlanKey};

/// Props of [`contradictions`].
#[derive(PartialEq, Properties)]
pub struct ContradictionsProps {
    /// The open plan.
    pub plan_key: PlanKey,
    /// The answers.
    pub analysis: Analysis,
}

/// See the module.
pub fn contradictions(props: &ContradictionsProps) -> Html {
    let list = props.analysis.contradictions();
    if list.is_empty() {
        return Html::default();
    }
    html! {
        <section class="magnet-block" aria-labelledby="contradictions-title">
            <h2 id="contradictions-title">{ "Poles that conflict" }</h2>
            { for list.iter().enumerate().map(|(n, c)| html! {
                <Story key={n} plan_key={props.plan_key.clone()} analysis={props.analysis.clone()} contradiction={n} holes={c.holes.len()} />
            }) }
            <WaysOut analysis={props.analysis.clone()} />
        </section>
    }
}

#[derive(PartialEq, Properties)]
struct StoryProps {
    plan_key: PlanKey,
    analysis: Analysis,
    contradiction: usize,
    holes: usize,
}

#[component]
fn Story(props: &StoryProps) -> Html {
    let d = &props.analysis;
    let Some(c) = d.contradictions().get(props.contradiction) else {
        return Html::default();
    };
    let told = d.contradiction_words(c).story;
    let (end, story) = told
        .split_last()
        .map_or(("", &told[..]), |(end, rest)| (end.as_str(), rest));
    html! {
        <article class="contradiction" data-test="contradiction">
            <p class="lead">{ format!("These {} magnets cannot all attract: follow the chain and the last would have to show both N and S.", props.holes) }</p>
            <ol class="story">{ for story.iter().map(|s| html! { <li>{ s }</li> }) }</ol>
            <p>{ end.to_owned() }</p>
            { own_sites(&props.plan_key, d, c) }
        </article>
    }
}

/// The joints of the story, where a site of its own could be given to one of them.
fn own_sites(key: &PlanKey, d: &Analysis, c: &Contradiction) -> Html {
    let mut seen = Vec::new();
    for joint in c.joints.iter().flatten() {
        if !seen.contains(joint) {
            seen.push(*joint);
        }
    }
    let link = |joint: JointIx| {
        let answer = d.joints().get(joint)?;
        let href = Route::at(Page::Joints, key, &joint_key(d.plan(), answer)).href();
        Some(html! { <li key={joint.get()}><a {href}>{ &answer.words }</a></li> })
    };
    html! {
        <>
            <p class="fine">{ "The joints in it:" }</p>
            <ul class="plain-links">{ for seen.into_iter().filter_map(link) }</ul>
        </>
    }
}
