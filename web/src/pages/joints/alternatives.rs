//! Other places and sizes of one pair: the margin along both axes of the face and for every size in stock.

use lodewright_planner::joints::{Filling, PlaceCurve, SizePoint};
use lodewright_planner::kit::Ix;
use lodewright_planner::{JointIx, reason_words, with_size};
use yew::prelude::*;

use super::draw::{axis, points, px, round_below, ticks};
use super::names::{newtons, piece_words, side_word, times};
use super::study::Studied;
use crate::format::number;
use crate::shared::Shared;
use crate::store::{Analysis, use_store};

const WIDTH: f64 = 400.0;
const HEIGHT: f64 = 190.0;
const LEFT: f64 = 46.0;
const RIGHT: f64 = 12.0;
const TOP: f64 = 14.0;
const BOTTOM: f64 = 42.0;
const PLACES: usize = 41;

/// Props of [`Alternatives`].
#[derive(PartialEq, Properties)]
pub struct AlternativesProps {
    /// The answers.
    pub analysis: Analysis,
    /// The joint.
    pub joint: JointIx,
    /// The joint by itself.
    pub studied: Shared<Studied>,
    /// Index of the pair.
    pub pair: usize,
}

/// See the module.
#[component]
pub fn Alternatives(props: &AlternativesProps) -> Html {
    let made = use_memo((props.studied.clone(), props.pair), |(s, pair)| {
        let along = [0, 1].map(|axis| s.model.place_curve(*pair, axis, PLACES));
        (along, s.model.size_curve(*pair))
    });
    let (along, sizes) = &*made;
    let target_x_weight = props.analysis.plan().settings.hold_target_g;
    html! {
        <>
            <div class="pair-drawings">
                { for along.iter().flatten().map(|c| place_view(&props.analysis, props.joint, c, target_x_weight)) }
            </div>
            <SizeTable analysis={props.analysis.clone()} joint={props.joint} studied={props.studied.clone()} pair={props.pair} sizes={Shared::new(sizes.clone())} />
        </>
    }
}

/// Millimetres and margins on the drawing.
struct Chart {
    from_mm: f64,
    to_mm: f64,
    to_g: f64,
    step_g: f64,
}

impl Chart {
    fn of(curve: &PlaceCurve, target_x_weight: f64) -> Option<Self> {
        let first = curve.points.first()?;
        let last = curve.points.last()?;
        let most = curve
            .points
            .iter()
            .map(|p| p.margin_x_weight)
            .fold(target_x_weight, f64::max);
        let (to_g, step_g) = axis(most * 1.05);
        Some(Self {
            from_mm: first.at_mm,
            to_mm: last.at_mm.max(first.at_mm + 1e-3),
            to_g,
            step_g,
        })
    }

    fn at(&self, [mm, g]: [f64; 2]) -> [f64; 2] {
        let share = (mm - self.from_mm) / (self.to_mm - self.from_mm);
        [
            LEFT + share * (WIDTH - LEFT - RIGHT),
            HEIGHT - BOTTOM - g / self.to_g * (HEIGHT - TOP - BOTTOM),
        ]
    }
}

fn place_view(d: &Analysis, joint: JointIx, curve: &PlaceCurve, target_x_weight: f64) -> Html {
    let Some(chart) = Chart::of(curve, target_x_weight) else {
        return Html::default();
    };
    let towards = towards(d, joint, curve.axis);
    let line: Vec<_> = curve
        .points
        .iter()
        .map(|p| chart.at([p.at_mm, p.margin_x_weight]))
        .collect();
    let now_g = near(curve, curve.now_mm);
    let [nx, ny] = chart.at([curve.now_mm.clamp(chart.from_mm, chart.to_mm), now_g]);
    let [_, ty] = chart.at([chart.from_mm, target_x_weight]);
    let best = curve
        .points
        .iter()
        .max_by(|a, b| a.margin_x_weight.total_cmp(&b.margin_x_weight));
    let said = best.map_or_else(String::new, |b| {
        format!(
            "Moved {towards}: best {} \u{d7} weight at {} mm; now {} at {} mm.",
            times(b.margin_x_weight),
            number((b.at_mm * 10.0).round() / 10.0),
            times(now_g),
            number((curve.now_mm * 10.0).round() / 10.0)
        )
    });
    let step = round_below((chart.to_mm - chart.from_mm) / 4.0);
    let first = (chart.from_mm / step).ceil();
    let marks = (0..12)
        .map(|i| (first + f64::from(i)) * step)
        .take_while(|mm| *mm <= chart.to_mm + 1e-9);
    html! {
        <figure key={curve.axis} class="figure">
            <svg class="drawing" viewBox={format!("0 0 {WIDTH} {HEIGHT}")} role="img" aria-label={said.clone()}>
                { for ticks(chart.to_g, chart.step_g).into_iter().map(|g| {
                    let [x, y] = chart.at([chart.from_mm, g]);
                    html! {
                        <g key={format!("g{g}")}>
                            <path class="fig-grid" d={format!("M{} {}H{}", px(x), px(y), px(WIDTH - RIGHT))} />
                            <text class="fig-text" x={px(x - 6.0)} y={px(y)} text-anchor="end" dominant-baseline="central">{ number(g) }</text>
                        </g>
                    }
                }) }
                { for marks.map(|mm| {
                    let [x, y] = chart.at([mm, 0.0]);
                    html! { <text key={format!("m{mm}")} class="fig-text" x={px(x)} y={px(y + 16.0)} text-anchor="middle">{ number((mm * 100.0).round() / 100.0) }</text> }
                }) }
                <path class="fig-target" d={format!("M{} {}H{}", px(LEFT), px(ty), px(WIDTH - RIGHT))} />
                <polyline class="fig-weak" points={points(&line)} />
                <circle class="fig-dot" cx={px(nx)} cy={px(ny)} r="5" />
                <text class="fig-text" x={px((WIDTH + LEFT) / 2.0)} y={px(HEIGHT - 8.0)} text-anchor="middle">{ format!("moved {towards}, mm") }</text>
            </svg>
            <figcaption>{ said }{ " Dashed: the target." }</figcaption>
        </figure>
    }
}

/// `to the left and right`, by what the axis means on the host.
fn towards(d: &Analysis, joint: JointIx, axis: usize) -> String {
    let joint = d.joints().get(joint);
    let socket = joint.map(|j| &d.plan().sockets[j.joint.socket]);
    let along = if axis == 0 { [1.0, 0.0] } else { [0.0, 1.0] };
    socket.map_or_else(
        || "along the face".to_owned(),
        |s| format!("towards the {}", side_word(d.plan(), s, along)),
    )
}

/// The margin between the two nearest places of the curve.
fn near(curve: &PlaceCurve, at_mm: f64) -> f64 {
    let after = curve.points.iter().position(|p| p.at_mm >= at_mm);
    match after {
        Some(0) => curve.points.first().map_or(0.0, |p| p.margin_x_weight),
        Some(i) => {
            let (a, b) = (curve.points[i - 1], curve.points[i]);
            let part = (at_mm - a.at_mm) / (b.at_mm - a.at_mm).max(1e-9);
            a.margin_x_weight + part * (b.margin_x_weight - a.margin_x_weight)
        }
        None => curve.points.last().map_or(0.0, |p| p.margin_x_weight),
    }
}

/// Props of [`SizeTable`].
#[derive(PartialEq, Properties)]
struct SizeTableProps {
    analysis: Analysis,
    joint: JointIx,
    studied: Shared<Studied>,
    pair: usize,
    sizes: Shared<Vec<SizePoint>>,
}

#[component]
fn SizeTable(props: &SizeTableProps) -> Html {
    let store = use_store();
    let plan = props.analysis.plan();
    let joint = props.analysis.joints().get(props.joint).map(|j| j.joint);
    let pair = props.studied.model.pairs.get(props.pair).copied();
    let most = props
        .sizes
        .iter()
        .map(|s| s.margin_x_weight)
        .fold(0.1, f64::max);
    let row = |s: &SizePoint| {
        let edit = joint
            .zip(pair)
            .filter(|_| s.fits && !s.is_now)
            .and_then(|(joint, pair)| with_size(plan, &joint, &pair, s.magnet));
        let onclick = {
            let (store, edit) = (store.clone(), edit.clone());
            Callback::from(move |_: MouseEvent| {
                if let Some(edit) = &edit {
                    store.edit(edit.clone());
                }
            })
        };
        let words = piece_words(plan, Filling::Magnet(s.magnet));
        html! {
            <tr key={s.magnet.get()} class={classes!(s.is_now.then_some("is-now"))}>
                <th scope="row">{ words.clone() }</th>
                <td class="share-cell">
                    <svg class="share-bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true"><rect width={px(100.0 * s.margin_x_weight.max(0.0) / most)} height="10" /></svg>
                </td>
                <td class="is-number">{ times(s.margin_x_weight) }</td>
                <td class="is-number">{ newtons(s.weak_n) }</td>
                <td>{ verdict(s) }
                    if edit.is_some() {
                        { " " }<button type="button" class="button is-small" data-test={format!("size-{}", s.magnet.get())} {onclick} aria-label={format!("Fit it: {words}, in this pair")}>{ "Fit it" }</button>
                    }
                </td>
            </tr>
        }
    };
    html! {
        <div class="scroll-x" tabindex="0" role="region" aria-label="Other sizes in this pair">
            <table class="figures" data-test="sizes">
                <caption>{ "The same pair with every magnet in stock, everything else as it is. Pull: all pairs of the joint at the weak end." }</caption>
                <thead><tr><th scope="col">{ "Size" }</th><th scope="col"><span class="visually-hidden">{ "As a bar" }</span></th><th scope="col" class="is-number">{ "Bears \u{d7}" }</th><th scope="col" class="is-number">{ "Pull" }</th><th scope="col">{ "That is" }</th></tr></thead>
                <tbody>{ for props.sizes.iter().map(row) }</tbody>
            </table>
        </div>
    }
}

fn verdict(s: &SizePoint) -> &'static str {
    match s.verdict.reasons.first() {
        _ if s.is_now => "fitted now",
        None => "all is met",
        Some(reason) => reason_words(reason),
    }
}
