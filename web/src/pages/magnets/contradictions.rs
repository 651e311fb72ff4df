//! Poles that cannot be: each contradiction as a story, with remedies that are one tap and can be undone.

use lodewright_planner::joints::{Contradiction, Filling};
use lodewright_planner::kit::Edit;
use yew::prelude::*;

use super::remedy::{first_steel, fit_steel, free_pole};
use super::ways_out::WaysOut;
use crate::pages::joints::names::{hole_words, joint_key, piece_words};
use crate::routes::{Page, Route};
use crate::store::{Derived, PlanKey, use_store};

/// Props of [`Contradictions`].
#[derive(PartialEq, Properties)]
pub struct ContradictionsProps {
    /// The open plan.
    pub plan_key: PlanKey,
    /// The answers.
    pub derived: Derived,
}

/// See the module.
#[component]
pub fn Contradictions(props: &ContradictionsProps) -> Html {
    let list = &props.derived.answers.contradictions;
    if list.is_empty() {
        return Html::default();
    }
    html! {
        <section class="magnet-block" aria-labelledby="contradictions-title">
            <h2 id="contradictions-title">{ "Poles that cannot be" }</h2>
            { for list.iter().enumerate().map(|(n, c)| html! {
                <Story key={n} plan_key={props.plan_key.clone()} derived={props.derived.clone()} contradiction={n} holes={c.holes.len()} />
            }) }
            <WaysOut derived={props.derived.clone()} />
        </section>
    }
}

#[derive(PartialEq, Properties)]
struct StoryProps {
    plan_key: PlanKey,
    derived: Derived,
    contradiction: usize,
    holes: usize,
}

#[component]
fn Story(props: &StoryProps) -> Html {
    let d = &props.derived;
    let Some(c) = d.answers.contradictions.get(props.contradiction) else {
        return Html::default();
    };
    let (end, story) = c
        .story
        .split_last()
        .map_or(("", &c.story[..]), |(end, rest)| (end.as_str(), rest));
    html! {
        <article class="contradiction" data-test="contradiction">
            <p class="lead">{ format!("These {} magnets cannot all pull: going round them, the last would need the pole it cannot have.", props.holes) }</p>
            <ol class="story">{ for story.iter().map(|s| html! { <li>{ s }</li> }) }</ol>
            <p>{ end }</p>
            <Remedies derived={d.clone()} contradiction={props.contradiction} />
            { own_sites(&props.plan_key, d, c) }
        </article>
    }
}

#[derive(PartialEq, Properties)]
struct RemediesProps {
    derived: Derived,
    contradiction: usize,
}

/// One button for each hole that steel fits, and for each pole that is only wished for.
#[component]
fn Remedies(props: &RemediesProps) -> Html {
    let store = use_store();
    let d = &props.derived;
    let Some(c) = d.answers.contradictions.get(props.contradiction) else {
        return Html::default();
    };
    let button = |test: String, words: String, detail: String, edit: Edit| {
        let store = store.clone();
        let onclick = Callback::from(move |_: MouseEvent| store.edit(edit.clone()));
        html! {
            <li key={test.clone()}>
                <button type="button" class="button" data-test={test} {onclick}>{ words }</button>
                <span class="quiet">{ detail }</span>
            </li>
        }
    };
    let steel = c.holes.iter().filter_map(|hole| {
        let edit = fit_steel(&d.plan, &d.answers, *hole)?;
        let size = first_steel(&d.plan, d.answers.holes.holes.get(*hole)?)?;
        let at = d.plan.stock.steel.iter().position(|s| s.id == size.id)?;
        let words = format!(
            "Fit steel in {} instead",
            hole_words(&d.plan, &d.answers.holes, *hole)
        );
        Some(button(
            format!("fit-steel-{hole}"),
            words,
            piece_words(&d.plan, Filling::Steel(at)),
            edit,
        ))
    });
    let free = c.holes.iter().filter_map(|hole| {
        let edit = free_pole(&d.plan, &d.answers, *hole)?;
        let words = format!(
            "Leave the pole of {} to the planner",
            hole_words(&d.plan, &d.answers.holes, *hole)
        );
        Some(button(
            format!("free-pole-{hole}"),
            words,
            "it is wished for now".to_owned(),
            edit,
        ))
    });
    let all: Vec<Html> = steel.chain(free).collect();
    html! {
        if all.is_empty() {
            <p>{ "No steel in stock fits one of these holes: add a smaller disc in Setup, or give a joint a site of its own." }</p>
        } else {
            <h3>{ "Ways out" }</h3>
            <p class="fine">{ "Steel has no poles, so it pulls either way, but less than a magnet: look at the joint afterwards. Each can be undone." }</p>
            <ul class="remedies">{ for all }</ul>
        }
    }
}

/// The joints of the story, where a site of its own could be given to one of them.
fn own_sites(key: &PlanKey, d: &Derived, c: &Contradiction) -> Html {
    let mut seen = Vec::new();
    for joint in c.joints.iter().flatten() {
        if !seen.contains(joint) {
            seen.push(*joint);
        }
    }
    let link = |joint: usize| {
        let answer = d.answers.joints.get(joint)?;
        let href = Route::at(Page::Joints, key, &joint_key(&d.plan, answer)).href();
        Some(html! { <li key={joint}><a {href}>{ &answer.words }</a></li> })
    };
    html! {
        <>
            <p class="fine">{ "The joints in it:" }</p>
            <ul class="plain-links">{ for seen.into_iter().filter_map(link) }</ul>
        </>
    }
}
