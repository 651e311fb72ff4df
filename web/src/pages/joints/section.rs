//! A cut through two pieces that meet and everything between them, to scale across and along; where the films would be
//! too thin to see, all that lies between is drawn thicker by one whole factor, and the caption says by which.

use lodewright_planner::joints::{
    Filling, GapLayer, HoleIx, PairReport, PairSide, filling_size, point_mm,
};
use lodewright_planner::kit::{Plan, Pole};
use lodewright_planner::{JointIx, gap_words};
use tiny_sort::stable::sort_by_key;
use yew::prelude::*;

use super::draw::px;
use super::names::{millimetres, piece_words};
use crate::store::Analysis;

const WIDTH: f64 = 400.0;
const PIECES: f64 = 150.0;
const LEFT: f64 = 12.0;
const TOP: f64 = 12.0;
/// Labels of layers stand this far apart.
const LINE: f64 = 18.0;
/// A film is seen from this thickness on, pixels.
const SEEN: f64 = 4.0;
/// What lies between is never drawn thicker than this by the factor, pixels.
const MOST_BETWEEN: f64 = 220.0;

/// One layer of the drawing, from the part down to the host.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    what: GapLayer,
    thickness_mm: f64,
    top: f64,
    height: f64,
}

/// Where everything is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    scale: f64,
    /// How many times thicker the layers between are drawn.
    pub factor: f64,
    /// From the part to the host.
    pub layers: Vec<Layer>,
    between: [f64; 2],
}

/// The order in which layers lie: glue films are next to their magnets.
fn depth(what: GapLayer) -> u8 {
    match what {
        GapLayer::GlueFilm(PairSide::Plug) => 0,
        GapLayer::Wall(PairSide::Plug) => 1,
        GapLayer::Paint(PairSide::Plug) => 2,
        GapLayer::Fit => 3,
        GapLayer::Paint(PairSide::Socket) => 4,
        GapLayer::Wall(PairSide::Socket) => 5,
        GapLayer::GlueFilm(PairSide::Socket) => 6,
    }
}

fn kind(what: GapLayer) -> &'static str {
    match what {
        GapLayer::Wall(_) => "fig-wall",
        GapLayer::Paint(_) => "fig-paint",
        GapLayer::Fit => "fig-fit",
        GapLayer::GlueFilm(_) => "fig-film",
    }
}

/// Lays the cut out for two pieces of these sizes (diameter, height), mm.
pub fn cut(pair: &PairReport, host: Option<(f64, f64)>, part: Option<(f64, f64)>) -> Cut {
    let wide_mm = [host, part]
        .iter()
        .flatten()
        .map(|s| s.0)
        .fold(1.0, f64::max);
    let high_mm: f64 = [host, part].iter().flatten().map(|s| s.1).sum();
    let scale = (PIECES / wide_mm).min(150.0 / high_mm.max(0.5));
    let thinnest = pair
        .gap
        .layers
        .iter()
        .map(|p| p.thickness_mm)
        .fold(f64::INFINITY, f64::min);
    let wanted = (SEEN / (thinnest * scale).max(1e-3)).ceil().max(1.0);
    let room = (MOST_BETWEEN / (pair.gap.gap_mm * scale).max(1e-3))
        .floor()
        .max(1.0);
    let factor = if pair.gap.layers.is_empty() {
        1.0
    } else {
        wanted.min(room).min(100.0)
    };
    let start = TOP + part.map_or(0.0, |s| s.1) * scale;
    let mut parts = pair.gap.layers.clone();
    sort_by_key(&mut parts, |p| depth(p.layer));
    let mut top = start;
    let layers = parts
        .into_iter()
        .map(|p| {
            let height = p.thickness_mm * scale * factor;
            top += height;
            Layer {
                what: p.layer,
                thickness_mm: p.thickness_mm,
                top: top - height,
                height,
            }
        })
        .collect();
    Cut {
        scale,
        factor,
        layers,
        between: [start, top],
    }
}

/// Props of [`SectionView`].
#[derive(PartialEq, Properties)]
pub struct SectionViewProps {
    /// The analysis.
    pub analysis: Analysis,
    /// The joint.
    pub joint: JointIx,
    /// Index of the pair in it.
    pub pair: usize,
}

/// See the module.
#[component]
pub fn SectionView(props: &SectionViewProps) -> Html {
    let d = &props.analysis;
    let joint = d.joints().get(props.joint);
    let pair = joint.and_then(|j| j.report.pairs.get(props.pair));
    let Some(pair) = pair else {
        return Html::default();
    };
    let [host, part] = pair.holes.map(|hole| d.fillings()[hole]);
    let sizes = [host, part].map(|f| filling_size(d.plan(), f));
    let cut = cut(pair, sizes[0], sizes[1]);
    let bores = [(pair.holes[0], sizes[0]), (pair.holes[1], sizes[1])]
        .map(|(hole, size)| Bore::of(d, hole, size?));
    let labels = label_lines(&cut);
    let deep = |n: usize| {
        let piece = sizes[n].map_or(0.0, |s| s.1) * cut.scale;
        bores[n].map_or(piece, |b| piece.max(b.reach_mm() * cut.scale))
    };
    let bottom = cut.between[1] + deep(0);
    let above = (cut.between[0] - deep(1) - TOP).min(0.0);
    let height = bottom.max(labels.last().map_or(0.0, |y| y + 10.0)) + 12.0 - above;
    html! {
        <figure class="figure">
            <svg class="drawing" viewBox={format!("0 {} {WIDTH} {}", px(above), px(height))} role="img" aria-label={spoken(d.plan(), pair, host, part)}>
                { for bores[1].map(|b| b.drawn(&cut, true)) }
                { for bores[0].map(|b| b.drawn(&cut, false)) }
                { piece(d.plan(), &cut, part, pair.poles[1], true) }
                { for cut.layers.iter().zip(&labels).map(|(l, y)| layer(l, *y)) }
                { piece(d.plan(), &cut, host, pair.poles[0], false) }
            </svg>
            <figcaption>{ caption(&cut) }</figcaption>
        </figure>
    }
}

/// A hole as it is drilled.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Bore {
    wide_mm: f64,
    deep_mm: f64,
    /// How much deeper the point of a twist drill goes; none where it is drilled from the other side or right through.
    point_mm: f64,
    /// Where the plastic ends, as far as that is known; else the deepest that is wanted there.
    most_mm: f64,
}

impl Bore {
    fn of(d: &Analysis, hole: HoleIx, (across_mm, height_mm): (f64, f64)) -> Option<Self> {
        let hole = &d.holes().holes[hole];
        let settings = &d.plan().settings;
        let wide_mm = across_mm + settings.hole_allowance_mm;
        let ends_blind = !hole.through && hole.wall_mm <= 0.0;
        Some(Self {
            wide_mm,
            deep_mm: if hole.through {
                hole.max_depth_mm
            } else {
                height_mm + settings.glue_allowance_mm
            },
            point_mm: if ends_blind {
                point_mm(d.plan(), hole, wide_mm)
            } else {
                0.0
            },
            most_mm: hole.room.behind_mm(wide_mm).unwrap_or(hole.max_depth_mm),
        })
    }

    /// How far the drawing of it goes from the mating side. A hole much deeper than its piece is broken off.
    fn reach_mm(&self) -> f64 {
        let drilled = self.deep_mm + self.point_mm;
        drilled.max(self.most_mm.min(self.deep_mm + self.wide_mm))
    }

    fn drawn(&self, cut: &Cut, above: bool) -> Html {
        let (from, way) = if above {
            (cut.between[0], -1.0)
        } else {
            (cut.between[1], 1.0)
        };
        let at = |mm: f64| from + way * mm * cut.scale;
        let middle = LEFT + PIECES / 2.0;
        let half = self.wide_mm * cut.scale / 2.0;
        let deep = self.deep_mm.min(self.reach_mm());
        let bore = format!(
            "M{} {}V{}L{} {}L{} {}V{}",
            px(middle - half),
            px(from),
            px(at(deep)),
            px(middle),
            px(at(deep + self.point_mm)),
            px(middle + half),
            px(at(deep)),
            px(from)
        );
        let ends = self.most_mm <= self.reach_mm();
        html! {
            <>
                <path class="fig-bore" d={bore} />
                if ends {
                    <path class="fig-deepest" d={format!("M{} {}H{}", px(LEFT), px(at(self.most_mm)), px(LEFT + PIECES))} />
                }
            </>
        }
    }
}

fn caption(cut: &Cut) -> String {
    if cut.factor > 1.0 {
        format!(
            "Cut through the middle; part above, host below. Magnets and their holes (thin line) to scale, where the plastic ends dashed; what lies between them is drawn {} times as thick.",
            cut.factor
        )
    } else {
        "Cut through the middle, to scale; part above, host below. Thin line: the hole; dashed: where the plastic ends.".to_owned()
    }
}

fn spoken(plan: &Plan, pair: &PairReport, host: Filling, part: Filling) -> String {
    let layers: Vec<_> = pair
        .gap
        .layers
        .iter()
        .map(|p| format!("{} {}", gap_words(p.layer), millimetres(p.thickness_mm)))
        .collect();
    format!(
        "From the host to the part: {}; {}; {}.",
        piece_words(plan, host),
        layers.join("; "),
        piece_words(plan, part)
    )
}

/// Where the labels stand: beside their layers, pushed apart so that none lies on another.
fn label_lines(cut: &Cut) -> Vec<f64> {
    let mut lines: Vec<f64> = cut.layers.iter().map(|l| l.top + l.height / 2.0).collect();
    let mut least = f64::NEG_INFINITY;
    for y in &mut lines {
        *y = y.max(least);
        least = *y + LINE;
    }
    // Pushed down they hang below their layers: move all up by half of that.
    let middle = (cut.between[0] + cut.between[1]) / 2.0;
    let own = lines
        .first()
        .zip(lines.last())
        .map_or(middle, |(a, b)| (a + b) / 2.0);
    let first = lines.first().copied().unwrap_or(0.0);
    let up = (own - middle).max(0.0).min((first - TOP - 4.0).max(0.0));
    lines.iter().map(|y| y - up).collect()
}

fn layer(layer: &Layer, label: f64) -> Html {
    let middle = layer.top + layer.height / 2.0;
    let right = LEFT + PIECES;
    html! {
        <g class={kind(layer.what)}>
            <rect class="fig-layer" x={px(LEFT)} y={px(layer.top)} width={px(PIECES)} height={px(layer.height)} />
            <path class="fig-leader" d={format!("M{} {}L{} {}h8", px(right + 2.0), px(middle), px(right + 22.0), px(label))} />
            <text class="fig-text" x={px(right + 34.0)} y={px(label)} dominant-baseline="central">{ format!("{} {}", gap_words(layer.what), millimetres(layer.thickness_mm)) }</text>
        </g>
    }
}

/// A magnet with its two poles, the shown one towards the gap, or a piece of steel.
fn piece(plan: &Plan, cut: &Cut, filling: Filling, pole: Option<Pole>, above: bool) -> Html {
    let Some((across_mm, height_mm)) = filling_size(plan, filling) else {
        let y = if above {
            cut.between[0] - 4.0
        } else {
            cut.between[1] + 14.0
        };
        return html! { <text class="fig-text" x={px(LEFT)} y={px(y)}>{ "empty" }</text> };
    };
    let (wide, high) = (across_mm * cut.scale, height_mm * cut.scale);
    let x = LEFT + (PIECES - wide) / 2.0;
    let y = if above {
        cut.between[0] - high
    } else {
        cut.between[1]
    };
    let Some(pole) = pole else {
        return html! {
            <g class="fig-steel">
                <rect class="fig-disc" x={px(x)} y={px(y)} width={px(wide)} height={px(high)} />
                <text class="fig-letter" x={px(x + wide / 2.0)} y={px(y + high / 2.0)} text-anchor="middle" dominant-baseline="central">{ "steel" }</text>
            </g>
        };
    };
    let (first, second) = if above {
        (pole.other(), pole)
    } else {
        (pole, pole.other())
    };
    html! { <>{ half(x, y, wide, high / 2.0, first) }{ half(x, y + high / 2.0, wide, high / 2.0, second) }</> }
}

fn half(x: f64, y: f64, wide: f64, high: f64, pole: Pole) -> Html {
    let (class, south) = match pole {
        Pole::N => ("fig-north", false),
        Pole::S => ("fig-south", true),
    };
    let n = (wide / 5.0).floor() as u32;
    let stripes: String = (1..=n)
        .map(|i| {
            format!(
                "M{} {}v{}",
                px(x + f64::from(i) * 5.0 - 2.0),
                px(y),
                px(high)
            )
        })
        .collect();
    let middle = [x + wide / 2.0, y + high / 2.0];
    html! {
        <g {class}>
            <rect class="fig-disc" x={px(x)} y={px(y)} width={px(wide)} height={px(high)} />
            if south {
                <path class="fig-stripes" d={stripes} />
                <circle class="fig-plate" cx={px(middle[0])} cy={px(middle[1])} r="8" />
            }
            <text class="fig-letter" x={px(middle[0])} y={px(middle[1])} text-anchor="middle" dominant-baseline="central">{ pole.letter() }</text>
        </g>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn layers_are_seen_in_order_and_fill_the_gap() {
        for plan in samples::plans() {
            let analysis = Analysis::of(plan.clone()).unwrap();
            for pair in analysis
                .joints()
                .values()
                .iter()
                .flat_map(|j| &j.report.pairs)
            {
                let size = |hole: HoleIx| filling_size(&plan, analysis.fillings()[hole]);
                let cut = cut(pair, size(pair.holes[0]), size(pair.holes[1]));
                assert!(cut.factor >= 1.0 && cut.factor.fract() == 0.0);
                let drawn: f64 = cut.layers.iter().map(|l| l.height).sum();
                let meant = pair.gap.gap_mm * cut.scale * cut.factor;
                assert!((drawn - meant).abs() < 1e-6, "{drawn} {meant}");
                for two in cut.layers.windows(2) {
                    assert!((two[0].top + two[0].height - two[1].top).abs() < 1e-9);
                    assert!(depth(two[0].what) < depth(two[1].what));
                }
                let lines = label_lines(&cut);
                assert!(lines.windows(2).all(|w| w[1] - w[0] > LINE - 1e-9));
            }
        }
    }
}
