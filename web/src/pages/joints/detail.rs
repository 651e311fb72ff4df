//! One joint in full: the verdict first, then the drawings, the numbers and where they come from.

use lodewright_planner::joints::{Held, Reason};
use lodewright_planner::{Apart, JointAnswer, JointIx};
use yew::prelude::*;

use super::advice::Advice;
use super::confidence::ConfidenceView;
use super::face::FaceView;
use super::force_window::{AttitudeView, CloseProps, WindowView};
use super::formula_list::formula_list;
use super::inputs::inputs;
use super::pair::PairView;
use super::status::{Status, status, status_mark};
use super::stranger_list::StrangerList;
use super::study::{Studied, use_study};
use super::table::HoldTable;
use super::verdict::{hand, let_go, verdict, worst_variant};
use crate::components::Disclosure;
use crate::pages::kept_apart::kept_apart;
use crate::routes::{Page, Route};
use crate::shared::Shared;
use crate::store::{Analysis, PlanKey, use_store};

/// Props of [`JointDetail`].
#[derive(PartialEq, Properties)]
pub struct JointDetailProps {
    /// The open plan.
    pub plan_key: PlanKey,
    /// The answers.
    pub analysis: Analysis,
    /// The joint.
    pub joint: JointIx,
}

/// See the module.
#[component]
pub fn JointDetail(props: &JointDetailProps) -> Html {
    let store = use_store();
    let studied = use_study(&props.analysis, props.joint);
    let d = &props.analysis;
    let Some(joint) = d.joints().get(props.joint) else {
        return Html::default();
    };
    let stands = status(joint);
    let held =
        matches!(joint.report.held, Held::Magnets | Held::Friction) && joint.report.hand_n > 0.0;
    let poles = Route::of(Page::Magnets, &props.plan_key).href();
    let socket = &d.plan().sockets[joint.joint.socket];
    let change = Route::at(
        Page::Parts,
        &props.plan_key,
        &format!("socket/{}", socket.id),
    )
    .href();
    let is_on_purpose = matches!(joint.separable, Some(Apart::OnPurpose(_)));
    html! {
        <article aria-labelledby="joint-title">
            <h2 id="joint-title" tabindex="-1">{ &joint.words }</h2>
            <p class="joint-stands">{ status_mark(stands) }</p>
            <p class="verdict" data-test="verdict">{ verdict(d.plan(), joint) }{ worst_variant(d.plan(), joint).map(|s| format!(" {s}")).unwrap_or_default() }</p>
            if let Some(since) = d.separable_words(joint) {
                <p>
                    if !is_on_purpose {
                        <strong>{ "Why it must come apart: " }</strong>
                    }
                    { since }
                </p>
            }
            if joint.separable.is_none() || is_on_purpose {
                { kept_apart(socket, &store) }
            }
            <FaceView analysis={d.clone()} joint={props.joint} studied={studied.clone()} />
            if matches!(stands, Status::Against(Reason::Repels { .. })) {
                <p><a class="button" href={poles}>{ "See why, with ways out" }</a></p>
            } else if let Some(studied) = studied.clone().filter(|s| !s.verdict.is_good()) {
                <Advice analysis={d.clone()} joint={props.joint} {studied} />
            }
            <HoldTable analysis={d.clone()} joint={props.joint} />
            if held {
                <section aria-label="By hand">
                    <h3>{ "By hand" }</h3>
                    <p>{ hand(d.plan(), joint) }</p>
                    if let Some(case) = &joint.report.let_go {
                        <p class={classes!((!case.lets_go).then_some("is-bad-words"))}>{ let_go(d.plan(), case) }</p>
                    }
                    if let Some(studied) = studied.clone() {
                        <WindowView analysis={d.clone()} {studied} />
                    }
                </section>
            }
            { for (0..joint.report.pairs.len()).map(|pair| html! { <PairView key={pair} analysis={d.clone()} joint={props.joint} {pair} studied={studied.clone()} /> }) }
            { studied.map(|studied| folds(props, joint, studied)) }
            <p class="joint-change"><a class="button" href={change}>{ "Change this socket" }</a></p>
        </article>
    }
}

/// What is folded away until it is asked for.
fn folds(props: &JointDetailProps, joint: &JointAnswer, studied: Shared<Studied>) -> Html {
    let d = &props.analysis;
    let pairs = joint.report.pairs.iter();
    let holes: Vec<_> = pairs.flat_map(|p| p.holes).collect();
    html! {
        <>
            <Disclosure id="turned" title="Turned over and shaken" summary="six attitudes">
                <AttitudeView analysis={d.clone()} studied={studied.clone()} />
            </Disclosure>
            <Disclosure id="sure-fold" title="How sure is that" summary="with a hand-held drill">
                <ConfidenceView analysis={d.clone()} studied={studied.clone()} />
            </Disclosure>
            <Disclosure id="strangers-fold" title="Magnets that should not meet" summary="beside and behind these" late={true}>
                <StrangerList analysis={d.clone()} holes={Some(holes)} />
            </Disclosure>
            <Disclosure id="formulas-fold" title="Every number" summary="with its formula and what went in">
                { inputs(d, props.joint) }
                { formula_list(&yew::props!(CloseProps { analysis: d.clone(), studied })) }
            </Disclosure>
        </>
    }
}
