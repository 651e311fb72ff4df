//! Between holding and letting go: the range of pulls that does both, as one bar, and the attitudes of the model.

use lodewright_planner::joints::{Attitude, AttitudeCase, Window, attitudes, window};
use lodewright_planner::kit::Plan;
use yew::prelude::*;

use super::draw::px;
use super::names::newtons;
use super::study::Studied;
use crate::format::{fixed, number};
use crate::shared::Shared;
use crate::store::Derived;

const WIDTH: f64 = 400.0;
const HEIGHT: f64 = 64.0;
const LEFT: f64 = 8.0;

/// Props of the views here.
#[derive(PartialEq, Properties)]
pub struct CloseProps {
    /// The answers.
    pub derived: Derived,
    /// The joint by itself.
    pub studied: Shared<Studied>,
}

/// The window.
#[component]
pub fn WindowView(props: &CloseProps) -> Html {
    let plan = &props.derived.plan;
    let Some(w) = window(plan, &props.studied.model) else {
        return Html::default();
    };
    let end = if w.most.is_finite() { w.most } else { 2.0 };
    let to = (1.0_f64)
        .max(end)
        .max(if w.least.is_finite() { w.least } else { 1.0 })
        .min(12.0)
        * 1.15;
    let at = |v: f64| LEFT + v.clamp(0.0, to) / to * (WIDTH - 2.0 * LEFT);
    let (from, till) = (at(w.least), at(w.most));
    html! {
        <figure class="figure">
            <svg class="drawing" viewBox={format!("0 0 {WIDTH} {HEIGHT}")} role="img" aria-label={words(plan, &w)}>
                <rect class="fig-contact" x={px(LEFT)} y="26" width={px(WIDTH - 2.0 * LEFT)} height="16" />
                if !w.is_empty() {
                    <rect class="fig-window" x={px(from)} y="26" width={px((till - from).max(2.0))} height="16" />
                }
                <path class="fig-now" d={format!("M{} 18v26", px(at(1.0)))} />
                <text class="fig-text" x={px(at(1.0).clamp(40.0, WIDTH - 40.0))} y="13" text-anchor="middle">{ "now" }</text>
                <text class="fig-text" x={px(LEFT)} y="58">{ "weaker" }</text>
                <text class="fig-text" x={px(WIDTH - LEFT)} y="58" text-anchor="end">{ "stronger" }</text>
            </svg>
            <figcaption data-test="window-words">{ words(plan, &w) }</figcaption>
        </figure>
    }
}

fn words(plan: &Plan, w: &Window) -> String {
    let upper = if w.hand_binds {
        "is still comfortable to pull off"
    } else {
        "still lets go in time"
    };
    if !w.least.is_finite() {
        return "No pull makes this joint hold as it is: something else must change first."
            .to_owned();
    }
    if !w.most.is_finite() {
        return format!(
            "Pulls of {} times the present ones would still hold; nothing sets an upper end.",
            number((w.least * 100.0).round() / 100.0)
        );
    }
    let times = |v: f64| number((v * 100.0).round() / 100.0);
    if w.is_empty() {
        let thicker = w.thicker.map_or_else(String::new, |t| {
            format!(
                " A thin section {} times as thick would open the window.",
                times(t)
            )
        });
        return format!(
            "No pull does both: holding {} times its weight takes {} times the present pulls, and from {} times on it no longer {}. With a target of {} times the weight both could be met.{thicker}",
            number(plan.settings.hold_target_g),
            times(w.least),
            times(w.most),
            upper
                .trim_start_matches("is still ")
                .trim_start_matches("still "),
            fixed((w.target_that_fits_g * 10.0).floor() / 10.0, 1)
        );
    }
    format!(
        "Both are met from {} to {} times the present pulls ({} at the weak end, {} at the strong end): below it holds too little, and up to there it {upper}.",
        times(w.least),
        times(w.most),
        newtons(w.least_n),
        newtons(w.most_n)
    )
}

/// The attitudes.
#[component]
pub fn AttitudeView(props: &CloseProps) -> Html {
    let plan = &props.derived.plan;
    let cases = attitudes(plan, &props.studied.model);
    if cases.is_empty() {
        return html! { <p class="quiet">{ "Only a lifted model loads this joint: who lifts it chooses the attitude." }</p> };
    }
    let row = |c: &AttitudeCase| {
        html! {
            <tr key={c.attitude.said()}>
                <th scope="row"><span class="attitude">{ little(c.attitude) }{ c.attitude.said() }</span></th>
                <td class="is-number">{ bears(c) }</td>
                <td>{ if c.reaches { "enough" } else { "too little" } }</td>
            </tr>
        }
    };
    html! {
        <table class="figures" data-test="attitudes">
            <caption>{ format!("Shaking in any direction on top of gravity; asked for: {} g (one g is the part\u{2019}s own weight again).", number(plan.settings.shake_g)) }</caption>
            <thead><tr><th scope="col">{ "Model" }</th><th scope="col" class="is-number">{ "Bears" }</th><th scope="col">{ "That is" }</th></tr></thead>
            <tbody>{ for cases.iter().map(row) }</tbody>
        </table>
    }
}

fn bears(c: &AttitudeCase) -> String {
    if c.shake_g < 0.0 {
        "falls off at rest".to_owned()
    } else {
        format!("{}\u{a0}g", fixed((c.shake_g * 10.0).floor() / 10.0, 1))
    }
}

/// A hull with a roof and a nose, turned.
fn little(attitude: Attitude) -> Html {
    let (turn, mirrored) = match attitude {
        Attitude::Upright => (0, false),
        Attitude::UpsideDown => (180, false),
        Attitude::OnLeft => (-90, true),
        Attitude::OnRight => (90, true),
        Attitude::NoseDown => (90, false),
        Attitude::NoseUp => (-90, false),
    };
    // Seen from the side, nose to the right; seen from the front for the two sides.
    let hull = if mirrored {
        "M6 18V9L12 4L18 9V18Z"
    } else {
        "M3 18V10H8V6H14V10H21L23 18Z"
    };
    html! {
        <svg class="attitude-mark" viewBox="0 0 26 24" aria-hidden="true"><path d={hull} transform={format!("rotate({turn} 13 12)")} /></svg>
    }
}
