//! The glue answer: which parts become one piece, which joints may be glued, which come apart and why.

use lodewright_planner::JointAnswer;
use lodewright_planner::kit::{Ix, PartIx};
use yew::prelude::*;

use crate::format;
use crate::pages::joints::names::joint_key;
use crate::pages::kept_apart::keep_button;
use crate::routes::{Page, Route};
use crate::store::{Analysis, PlanKey, Store};

/// Props of [`glue_answer`].
#[derive(PartialEq, Properties)]
pub struct GlueAnswerProps {
    /// The open plan.
    pub plan_key: PlanKey,
    /// The answers.
    pub analysis: Analysis,
    /// Where a mark goes.
    pub store: Store,
}

/// See the module.
pub fn glue_answer(props: &GlueAnswerProps) -> Html {
    let d = &props.analysis;
    let (apart, glued): (Vec<_>, Vec<_>) = d
        .joints()
        .values()
        .iter()
        .partition(|j| j.separable.is_some());
    html! {
        <section class="magnet-block" aria-labelledby="glue-title" data-test="glue-answer">
            <h2 id="glue-title">{ "Glue or separate" }</h2>
            <p>{ sentence(glued.len(), apart.len()) }</p>
            { pieces(d) }
            if !glued.is_empty() {
                <h3>{ "May be glued for good" }</h3>
                <ul class="plain-links">{ for glued.iter().map(|j| link(props, j)) }</ul>
            }
            if !apart.is_empty() {
                <h3>{ "Come apart" }</h3>
                <dl class="apart">{ for apart.iter().map(|j| reason(props, j)) }</dl>
            }
            { idle(d) }
        </section>
    }
}

fn sentence(glued: usize, apart: usize) -> String {
    match (glued, apart) {
        (0, a) => format!(
            "Nothing may be glued for good: all {} come apart.",
            format::count(a, "joint", "joints")
        ),
        (g, 0) => format!(
            "All {} may be glued for good: no part swaps.",
            format::count(g, "joint", "joints")
        ),
        (g, a) => format!(
            "{} may be glued for good, {} come apart.",
            format::count(g, "joint", "joints"),
            a
        ),
    }
}

/// Parts that become one piece, as chips in one frame.
fn pieces(d: &Analysis) -> Html {
    let many = d.glue().groups.iter().filter(|g| g.len() > 1);
    let name = |p: &PartIx| d.plan().parts[*p].name.clone();
    let group = |g: &Vec<PartIx>| {
        html! {
            <li class="glue-group">
                { for g.iter().map(|p| html! { <span key={p.get()} class="glue-part">{ name(p) }</span> }) }
            </li>
        }
    };
    let groups: Vec<Html> = many.map(group).collect();
    html! {
        if !groups.is_empty() {
            <h3>{ "Become one piece" }</h3>
            <ul class="glue-groups">{ for groups }</ul>
        }
    }
}

fn link(props: &GlueAnswerProps, joint: &JointAnswer) -> Html {
    let key = joint_key(props.analysis.plan(), joint);
    let href = Route::at(Page::Joints, &props.plan_key, &key).href();
    let keep = keep_button(&props.analysis, joint, &props.store);
    html! { <li key={key}><a {href}>{ &joint.words }</a>{ keep }</li> }
}

fn reason(props: &GlueAnswerProps, joint: &JointAnswer) -> Html {
    let key = joint_key(props.analysis.plan(), joint);
    let href = Route::at(Page::Joints, &props.plan_key, &key).href();
    html! {
        <div key={key}>
            <dt><a {href}>{ &joint.words }</a></dt>
            <dd>{ props.analysis.separable_words(joint).unwrap_or_default() }{ keep_button(&props.analysis, joint, &props.store) }</dd>
        </div>
    }
}

fn idle(d: &Analysis) -> Html {
    let idle = d.glue().idle.iter().map(|p| &d.plan().parts[*p]);
    let names: Vec<_> = idle.map(|p| p.name.as_str()).collect();
    if names.is_empty() {
        return Html::default();
    }
    html! { <p class="quiet">{ format!("No variant uses {}.", names.join(", ")) }</p> }
}
