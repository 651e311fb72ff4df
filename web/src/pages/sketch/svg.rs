//! The pieces of the drawing as SVG, in millimetres.

use lodewright_planner::kit::{Ix, Plan, SocketId, VariantId};
use lodewright_planner::{Analysis, Joint};
use tiny_sort::stable::sort_by_key;
use yew::prelude::*;

use super::edits;
use super::gestures::Live;
use super::sketch_state::{Picked, SketchState};
use crate::pages::joints::draw::{px, round_below};
use crate::projection::look::Camera;
use crate::projection::scene::{Body, Mark, Scene, Seen};

/// What is painted.
pub struct Drawing<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// The variant as it stands.
    pub scene: &'a Scene,
    /// The variant that it is compared with.
    pub coming: Option<&'a Scene>,
    /// What is picked.
    pub state: &'a SketchState,
    /// What is on its way.
    pub live: &'a Live,
    /// Millimetres for a pixel.
    pub mm_per_px: f64,
    /// What is in sight.
    pub camera: &'a Camera,
    /// Width and height on the screen, pixels.
    pub size: [f64; 2],
}

/// About how wide a letter of a name is, pixels.
const LETTER_PX: f64 = 7.5;
/// How high a line of names is, pixels.
const LINE_PX: f64 = 15.0;

/// Where the names of sockets stand, above their marks or below, none where both would hide another; picked ones first.
fn named(p: &Drawing<'_>) -> Vec<Option<[f64; 2]>> {
    let k = p.mm_per_px;
    let mut taken: Vec<([f64; 2], [f64; 2])> = Vec::new();
    let mut named = vec![None; p.scene.marks.len()];
    let picked = |m: &Mark| p.state.picked.contains(&Picked::Socket(m.id.clone()));
    let mut order: Vec<_> = p.scene.marks.iter().enumerate().collect();
    sort_by_key(&mut order, |(_, m)| !picked(m));
    for (n, m) in order {
        let letters = p
            .plan
            .sockets
            .get(m.socket.get())
            .map_or(0, |s| s.name.chars().count());
        let half = letters as f64 * LETTER_PX * k / 2.0;
        let spot = |base: f64| {
            let low = [m.at[0] - half, base - 2.0 * k];
            (low, [m.at[0] + half, low[1] + LINE_PX * k], [m.at[0], base])
        };
        let above = spot(m.at[1] + 12.0 * k);
        let below = spot(m.at[1] - 22.0 * k);
        let is_free = |(low, high, _): &([f64; 2], [f64; 2], [f64; 2])| {
            taken
                .iter()
                .all(|(l, h)| (0..2).any(|k| high[k] <= l[k] || h[k] <= low[k]))
        };
        let found = [above, below].into_iter().find(is_free);
        if let Some((low, high, at)) = found.or(picked(m).then_some(above)) {
            taken.push((low, high));
            if let Some(named) = named.get_mut(n) {
                *named = Some(at);
            }
        }
    }
    named
}

/// Everything, the farthest first.
pub fn drawing(p: &Drawing<'_>) -> Html {
    let named = named(p);
    html! {
        <>
            { picture(p) }
            <path class="sk-grid" d={grid(p)} />
            { for p.scene.bodies.iter().map(|b| body(p, b)) }
            { for coming(p) }
            { for p.scene.marks.iter().map(|m| mark(p, m)) }
            { for p.scene.marks.iter().zip(named).filter_map(|(m, at)| Some(name(p, m, at?))) }
            { corner(p) }
            { on_its_way(p) }
        </>
    }
}

/// The picture behind everything, on the side that it shows.
fn picture(p: &Drawing<'_>) -> Html {
    let Some(b) = p
        .plan
        .backdrop
        .as_ref()
        .filter(|b| b.seen_from == p.state.side)
    else {
        return Html::default();
    };
    let [u, v] = match p.live {
        Live::Slide(by) => [0, 1].map(|k| b.middle_mm[k] + by[k]),
        _ => b.middle_mm,
    };
    html! {
        <image class="sk-picture" data-test="picture" href={b.picture.address().to_owned()} x={px(u - b.width_mm / 2.0)} y={px(-v - b.height_mm / 2.0)} width={px(b.width_mm)} height={px(b.height_mm)} preserveAspectRatio="none" />
    }
}

/// Points as `x,y x,y`, up being down on the screen.
fn points(list: &[[f64; 2]]) -> String {
    use std::fmt::Write;
    list.iter().fold(String::new(), |mut all, [u, v]| {
        // Writing to a string cannot fail.
        let _ = write!(all, "{:.3},{:.3} ", u, -v);
        all
    })
}

/// Lines at a round step, so that sizes can be read off.
fn grid(p: &Drawing<'_>) -> String {
    let step = round_below(p.camera.span / 6.0);
    let k = p.mm_per_px / 2.0;
    let half = [p.size[0] * k, p.size[1] * k];
    let [u, v] = p.camera.middle;
    let lines = |middle: f64, half: f64| {
        let (from, to) = (
            ((middle - half) / step).ceil() as i64,
            ((middle + half) / step).floor() as i64,
        );
        (from..=to.min(from + 200)).map(move |n| n as f64 * step)
    };
    let across =
        lines(u, half[0]).map(|x| format!("M{} {}V{}", px(x), px(-v - half[1]), px(-v + half[1])));
    let up =
        lines(v, half[1]).map(|y| format!("M{} {}H{}", px(u - half[0]), px(-y), px(u + half[0])));
    across.chain(up).collect()
}

/// The same part in the same place, for the comparison of variants.
fn same(a: &Body, b: &Body) -> bool {
    a.id == b.id && a.seat == b.seat && a.frame == b.frame
}

/// Whether a body of the variant goes when it is changed into the other.
fn goes(p: &Drawing<'_>, b: &Body) -> bool {
    p.coming
        .is_some_and(|c| !c.bodies.iter().any(|other| same(b, other)))
}

fn body(p: &Drawing<'_>, b: &Body) -> Html {
    let picked = p.state.picked.contains(&Picked::Part(b.id.clone()));
    let shift = match p.live {
        Live::Shift(id, by) if *id == b.id => Some(*by),
        _ => None,
    };
    let class = classes!(
        "sk-body",
        b.seat.is_none().then_some("is-base"),
        picked.then_some("is-picked"),
        goes(p, b).then_some("is-going")
    );
    html! {
        <g key={format!("p:{}", b.id)} {class} data-hit={format!("p:{}", b.id)} data-test={format!("body-{}", b.id)} transform={moved(shift)}>
            { for b.outlines.iter().map(|o| html! { <polygon points={points(o)} /> }) }
        </g>
    }
}

fn moved(by: Option<[f64; 2]>) -> Option<String> {
    by.map(|[u, v]| format!("translate({} {})", px(u), px(-v)))
}

fn coming<'a>(p: &'a Drawing<'_>) -> impl Iterator<Item = Html> + 'a {
    let bodies = p.coming.into_iter().flat_map(|c| &c.bodies);
    bodies
        .filter(|b| !p.scene.bodies.iter().any(|other| same(b, other)))
        .map(|b| {
            html! {
                <g key={format!("c:{}", b.id)} class="sk-body is-coming">
                    { for b.outlines.iter().map(|o| html! { <polygon points={points(o)} /> }) }
                </g>
            }
        })
}

fn mark(p: &Drawing<'_>, m: &Mark) -> Html {
    let Some(socket) = p.plan.sockets.get(m.socket.get()) else {
        return Html::default();
    };
    let picked = p.state.picked.contains(&Picked::Socket(m.id.clone()));
    let by = on_move(p, m);
    let seen = match m.seen {
        Seen::Towards => "is-towards",
        Seen::Edge => "is-edge",
        Seen::Away => "is-away",
    };
    let holds = holds(p, &m.id);
    let host = p.plan.part(&socket.host).map_or("", |h| &h.name);
    let label = format!(
        "{}, on the {} of {host}, {}",
        socket.name,
        socket.facing.word(),
        holds.as_deref().unwrap_or("empty")
    );
    let (x, y) = (px(m.at[0]), px(-m.at[1]));
    let k = p.mm_per_px;
    html! {
        <g key={format!("s:{}", m.id)} class={classes!("sk-mark", seen, picked.then_some("is-picked"), holds.is_some().then_some("is-full"))}
            data-hit={format!("s:{}", m.id)} data-test={format!("mark-{}", m.id)} tabindex="0" role="button" aria-pressed={picked.to_string()} aria-label={label} transform={moved(by)}>
            <circle class="sk-touch" cx={x.clone()} cy={y.clone()} r={px(22.0 * k)} />
            <polygon class="sk-patch" points={points(&m.patch)} />
            <circle class="sk-dot" cx={x} cy={y} r={px(7.0 * k)} />
        </g>
    }
}

/// By how much a socket is just being moved.
fn on_move(p: &Drawing<'_>, m: &Mark) -> Option<[f64; 2]> {
    match p.live {
        Live::Move(ids, by, _) if ids.contains(&m.id) => {
            Some(p.scene.look.flat(m.slide(&p.scene.look, *by)))
        }
        _ => None,
    }
}

/// A socket's name, over everything, so that no mark covers it.
fn name(p: &Drawing<'_>, m: &Mark, at: [f64; 2]) -> Html {
    let words = p.plan.sockets.get(m.socket.get()).map_or("", |s| &s.name);
    html! {
        <text key={format!("n:{}", m.id)} class="sk-name" x={px(at[0])} y={px(-at[1])} text-anchor="middle" font-size={px(13.0 * p.mm_per_px)} transform={moved(on_move(p, m))}>{ words.to_owned() }</text>
    }
}

/// What sits in a socket of the shown variant, in words.
fn holds(p: &Drawing<'_>, socket: &SocketId) -> Option<String> {
    let text = p.plan.cell_text(p.state.variant.as_ref()?, socket);
    (!text.is_empty()).then(|| format!("holds {text}"))
}

/// The corner by which the only picked part is made larger.
fn corner(p: &Drawing<'_>) -> Html {
    let [Picked::Part(id)] = p.state.picked.as_slice() else {
        return Html::default();
    };
    let Some(b) = p.scene.body(id) else {
        return Html::default();
    };
    let at = match p.live {
        Live::Size(_, to) => to.at,
        // A part that hangs down grows downwards.
        _ => far_corner(p, b),
    };
    let (x, y, k) = (px(at[0]), px(-at[1]), p.mm_per_px);
    html! {
        <g class="sk-corner" data-hit="corner" data-test="corner">
            <circle class="sk-touch" cx={x.clone()} cy={y.clone()} r={px(22.0 * k)} />
            <rect x={px(at[0] - 6.0 * k)} y={px(-at[1] - 6.0 * k)} width={px(12.0 * k)} height={px(12.0 * k)} />
        </g>
    }
}

fn far_corner(p: &Drawing<'_>, b: &Body) -> [f64; 2] {
    let n = b
        .seat
        .and_then(|(socket, _)| p.scene.marks.iter().find(|m| m.socket == socket))
        .map_or([0.0; 2], |m| p.scene.look.flat(m.frame.axes[2]));
    std::array::from_fn(|k| if n[k] < -0.7 { b.low[k] } else { b.high[k] })
}

fn on_its_way(p: &Drawing<'_>) -> Html {
    let k = p.mm_per_px;
    let corners = |a: [f64; 2], b: [f64; 2]| points(&[a, [b[0], a[1]], b, [a[0], b[1]]]);
    let size = |text: String, at: [f64; 2]| {
        html! { <text class="sk-size" x={px(at[0])} y={px(-at[1] - 10.0 * k)} text-anchor="middle" font-size={px(15.0 * k)}>{ text }</text> }
    };
    let lines = |caught: [Option<f64>; 2]| {
        let half = [p.size[0] * k / 2.0, p.size[1] * k / 2.0];
        let [u, v] = p.camera.middle;
        let across = caught[0]
            .map(|x| format!("M{} {}V{}", px(x), px(-v - half[1]), px(-v + half[1])))
            .unwrap_or_default();
        let up = caught[1]
            .map(|y| format!("M{} {}H{}", px(u - half[0]), px(-y), px(u + half[0])))
            .unwrap_or_default();
        html! { <path class="sk-line" d={across + &up} /> }
    };
    let millimetres = |a: f64, b: f64| {
        format!(
            "{} \u{d7} {} mm",
            crate::format::fixed(a.abs(), 1),
            crate::format::fixed(b.abs(), 1)
        )
    };
    match p.live {
        Live::Still | Live::Shift(..) | Live::Slide(_) => outline(p),
        Live::Move(_, _, caught) => lines(caught.lines),
        Live::Band(a, b) => html! { <polygon class="sk-band" points={corners(*a, *b)} /> },
        Live::Draw(from, to) => html! {
            <>
                { lines(to.lines) }
                <polygon class="sk-new" points={corners(*from, to.at)} />
                { size(millimetres(to.at[0] - from[0], to.at[1] - from[1]), [(from[0] + to.at[0]) / 2.0, from[1].max(to.at[1])]) }
            </>
        },
        Live::Size(id, to) => {
            let part = p
                .scene
                .body(id)
                .and_then(|b| edits::resized(p.plan, p.scene, b, to.at));
            html! {
                <>
                    { lines(to.lines) }
                    if let Some(part) = part {
                        { size(part.size_mm.map(crate::format::number).join(" \u{d7} ") + " mm", to.at) }
                    }
                </>
            }
        }
    }
}

/// The corners of an outline on its way.
fn outline(p: &Drawing<'_>) -> Html {
    let list = &p.state.outline;
    let k = p.mm_per_px;
    html! {
        if !list.is_empty() {
            <polyline class="sk-new" points={points(list)} />
            { for list.iter().enumerate().map(|(n, [u, v])| html! {
                <circle class={classes!("sk-point", (n == 0).then_some("is-first"))} cx={px(*u)} cy={px(-v)} r={px(if n == 0 { 9.0 } else { 5.0 } * k)} />
            }) }
        }
    }
}

/// What goes and what comes when the shown variant is changed into the other, in words; `None` where none is compared.
pub fn difference(plan: &Plan, state: &SketchState) -> Option<String> {
    let analysis = Analysis::of(plan.clone()).ok()?;
    let seated = |id: &VariantId| Some(analysis.seated(plan.variant_ix(id)?));
    let (here, there) = (
        state.variant.as_ref().map_or(Some(Vec::new()), seated)?,
        seated(state.other.as_ref()?)?,
    );
    let of = |a: &[Joint], b: &[Joint]| -> String {
        let only = a.iter().filter(|joint| !b.contains(joint));
        let words: Vec<_> = only
            .map(|j| {
                format!(
                    "{} in {}",
                    plan.parts[j.part].name, plan.sockets[j.socket].name
                )
            })
            .collect();
        match words.is_empty() {
            true => "nothing".to_owned(),
            false => words.join(", "),
        }
    };
    Some(format!(
        "Goes (dashed): {}. Comes (thick line): {}.",
        of(&here, &there),
        of(&there, &here)
    ))
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::Edit;

    use super::*;

    #[test]
    fn the_difference_of_two_variants_is_told() {
        let plan = Plan::empty("t")
            .edited(&Edit::PasteGrid(
                "\tA\tB\nNose\tPlough\tHook\nRoof\tRack\tRack\n".to_owned(),
            ))
            .unwrap();
        let mut state = SketchState::of(&plan);
        assert_eq!(difference(&plan, &state), None);
        state.other = Some("b".into());
        assert_eq!(
            difference(&plan, &state).unwrap(),
            "Goes (dashed): Plough in Nose. Comes (thick line): Hook in Nose."
        );
    }
}
