//! Pull against gap: the band between the weak and the strong end of the tolerances, and where this pair works.

use lodewright_planner::JointIx;
use lodewright_planner::joints::{
    CurvePoint, End, Filling, PairReport, as_grams, force_curve, gap_at,
};
use lodewright_planner::kit::Plan;
use yew::prelude::*;

use super::draw::{axis, points, px, ticks};
use super::names::{grams, millimetres, newtons};
use crate::format::number;
use crate::store::Analysis;

const WIDTH: f64 = 400.0;
const HEIGHT: f64 = 250.0;
const LEFT: f64 = 52.0;
const RIGHT: f64 = 14.0;
const TOP: f64 = 16.0;
const BOTTOM: f64 = 44.0;
const POINTS: usize = 61;

/// Everything that the curve shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    curve: Vec<CurvePoint>,
    to_mm: (f64, f64),
    to_n: (f64, f64),
    /// Gap and pull at the weak and at the strong end.
    work: [[f64; 2]; 2],
    /// Whether that is a push.
    repels: bool,
}

impl Chart {
    /// Works the curve out; `None` where nothing pulls at any gap.
    pub fn of(plan: &Plan, pair: &PairReport, host: Filling, part: Filling) -> Option<Self> {
        let weak_mm = gap_at(plan, pair.gap.gap_mm, End::Weak);
        let to_mm = axis((weak_mm * 2.0).clamp(1.0, 40.0));
        let curve = force_curve(plan, host, part, to_mm.0, POINTS);
        let most_n = curve.iter().map(|p| p.strong_n).fold(0.0, f64::max);
        if most_n <= 0.0 {
            return None;
        }
        let strong_mm = gap_at(plan, pair.gap.gap_mm, End::Strong);
        Some(Self {
            curve,
            to_mm,
            to_n: axis(most_n),
            work: [
                [weak_mm, pair.weak_n.abs()],
                [strong_mm, pair.strong_n.abs()],
            ],
            repels: pair.strong_n < 0.0,
        })
    }

    fn at(&self, [gap_mm, force_n]: [f64; 2]) -> [f64; 2] {
        [
            LEFT + gap_mm / self.to_mm.0 * (WIDTH - LEFT - RIGHT),
            HEIGHT - BOTTOM - force_n / self.to_n.0 * (HEIGHT - TOP - BOTTOM),
        ]
    }

    fn line(&self, force: impl Fn(&CurvePoint) -> f64) -> Vec<[f64; 2]> {
        self.curve
            .iter()
            .map(|p| self.at([p.gap_mm, force(p)]))
            .collect()
    }
}

/// Props of [`CurveView`].
#[derive(PartialEq, Properties)]
pub struct CurveViewProps {
    /// The answers.
    pub analysis: Analysis,
    /// The joint.
    pub joint: JointIx,
    /// Index of the pair in it.
    pub pair: usize,
}

/// See the module.
#[component]
pub fn CurveView(props: &CurveViewProps) -> Html {
    let chart = use_memo(
        (props.analysis.clone(), props.joint, props.pair),
        |(d, joint, pair)| {
            let pair = d.joints().get(*joint)?.report.pairs.get(*pair)?;
            let [host, part] = pair.holes.map(|hole| d.fillings()[hole]);
            Chart::of(d.plan(), pair, host, part)
        },
    );
    let Some(chart) = &*chart else {
        return html! { <p class="quiet">{ "Nothing pulls in this pair at any gap, so there is no curve." }</p> };
    };
    let contact = chart
        .curve
        .first()
        .map(|p| [p.weak_n, p.strong_n])
        .unwrap_or_default();
    html! {
        <figure class="figure">
            <svg class="drawing" viewBox={format!("0 0 {WIDTH} {HEIGHT}")} role="img" aria-label={spoken(chart, contact)}>
                { axes(chart) }
                { band(chart) }
                { work(chart) }
            </svg>
            <figcaption>{ words(chart, contact) }</figcaption>
        </figure>
    }
}

fn spoken(chart: &Chart, contact: [f64; 2]) -> String {
    format!("Pull against gap. {}", words(chart, contact))
}

fn words(chart: &Chart, contact: [f64; 2]) -> String {
    let [[weak_mm, weak_n], [strong_mm, strong_n]] = chart.work;
    let verb = if chart.repels {
        "The curve is the pull with the poles right; as they are it pushes as hard, at"
    } else {
        "Works at"
    };
    format!(
        "{verb} {} with {} (full dot, weak end) to {} at {} (ring, strong end). In contact it would be {} to {}, or {} to {}.",
        millimetres(weak_mm),
        newtons(weak_n),
        newtons(strong_n),
        millimetres(strong_mm),
        newtons(contact[0]),
        newtons(contact[1]),
        grams(as_grams(contact[0])),
        grams(as_grams(contact[1])),
    )
}

fn axes(chart: &Chart) -> Html {
    let up = ticks(chart.to_n.0, chart.to_n.1).into_iter().map(|n| {
        let [x, y] = chart.at([0.0, n]);
        html! {
            <g key={format!("n{n}")}>
                <path class="fig-grid" d={format!("M{} {}H{}", px(x), px(y), px(WIDTH - RIGHT))} />
                <text class="fig-text" x={px(x - 6.0)} y={px(y)} text-anchor="end" dominant-baseline="central">{ number(n) }</text>
            </g>
        }
    });
    let along = ticks(chart.to_mm.0, chart.to_mm.1).into_iter().map(|mm| {
        let [x, y] = chart.at([mm, 0.0]);
        html! {
            <g key={format!("mm{mm}")}>
                <path class="fig-axis" d={format!("M{} {}v4", px(x), px(y))} />
                <text class="fig-text" x={px(x)} y={px(y + 16.0)} text-anchor="middle">{ number(mm) }</text>
            </g>
        }
    });
    let middle = (HEIGHT + TOP - BOTTOM) / 2.0;
    html! {
        <g>
            <g>{ for up }</g>
            <g>{ for along }</g>
            <path class="fig-axis" d={format!("M{LEFT} {TOP}V{}H{}", HEIGHT - BOTTOM, WIDTH - RIGHT)} />
            <text class="fig-text" x={px((WIDTH + LEFT) / 2.0)} y={px(HEIGHT - 8.0)} text-anchor="middle">{ "gap between the pieces, mm" }</text>
            <text class="fig-text" x="12" y={px(middle)} transform={format!("rotate(-90 12 {})", px(middle))} text-anchor="middle">{ "pull, N" }</text>
        </g>
    }
}

fn band(chart: &Chart) -> Html {
    let weak = chart.line(|p| p.weak_n);
    let strong = chart.line(|p| p.strong_n);
    let mut all = weak.clone();
    all.extend(strong.iter().rev());
    html! {
        <g>
            <polygon class="fig-band" points={points(&all)} />
            <polyline class="fig-weak" points={points(&weak)} />
            <polyline class="fig-strong" points={points(&strong)} />
        </g>
    }
}

fn work(chart: &Chart) -> Html {
    let [weak, strong] = chart.work;
    let foot = chart.at([0.0, 0.0])[1];
    let [wx, wy] = chart.at([weak[0], weak[1].max(0.0)]);
    let [sx, sy] = chart.at([strong[0], strong[1].max(0.0)]);
    // Under the curve there is room to the left; close to the axis both labels go above, one over the other.
    let below = foot - wy > 30.0 && wx - LEFT > 60.0;
    let weak_label = if below {
        [wx - 8.0, wy + 18.0]
    } else {
        [wx + 10.0, wy - 10.0]
    };
    let strong_label = if below {
        sy - 8.0
    } else {
        (sy - 8.0).min(wy - 26.0)
    };
    html! {
        <g class="fig-work">
            <rect class="fig-work-gap" x={px(sx)} y={px(TOP)} width={px((wx - sx).max(1.0))} height={px(foot - TOP)} />
            <circle class="fig-dot" cx={px(wx)} cy={px(wy)} r="5" />
            <circle class="fig-hollow" cx={px(sx)} cy={px(sy)} r="5" />
            <text class="fig-text" x={px(weak_label[0])} y={px(weak_label[1])} text-anchor={if below { "end" } else { "start" }}>{ newtons(weak[1]) }</text>
            <text class="fig-text" x={px(sx + 10.0)} y={px(strong_label)}>{ newtons(strong[1]) }</text>
        </g>
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::joints::HoleIx;

    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn the_working_point_lies_on_the_chart_and_centred_pairs_on_the_curve() {
        let plan = samples::demo();
        let answers = Analysis::of(plan.clone()).unwrap();
        let mut seen = 0;
        for pair in answers
            .joints()
            .values()
            .iter()
            .flat_map(|j| &j.report.pairs)
            .take(12)
        {
            let filling = |hole: HoleIx| answers.fillings()[hole];
            let Some(chart) =
                Chart::of(&plan, pair, filling(pair.holes[0]), filling(pair.holes[1]))
            else {
                continue;
            };
            let [x, y] = chart.at([chart.work[0][0], chart.work[0][1].max(0.0)]);
            assert!(
                (LEFT..=WIDTH).contains(&x) && (0.0..=HEIGHT).contains(&y),
                "{x} {y}"
            );
            assert!(
                chart
                    .curve
                    .windows(2)
                    .all(|w| w[0].weak_n >= w[1].weak_n - 1e-9)
            );
            // Interpolated on the curve, the pull at the working gap is the account's (a pair off its axis pulls less).
            let gap_mm = chart.work[0][0];
            let after = chart
                .curve
                .iter()
                .position(|p| p.gap_mm >= gap_mm)
                .unwrap()
                .max(1);
            let (a, b) = (chart.curve[after - 1], chart.curve[after]);
            let part = (gap_mm - a.gap_mm) / (b.gap_mm - a.gap_mm);
            let read_n = a.weak_n + part * (b.weak_n - a.weak_n);
            assert!(
                pair.weak_n.abs() <= read_n * 1.02,
                "{} {read_n}",
                pair.weak_n
            );
            seen += 1;
        }
        assert!(seen > 0);
    }
}
