//! A joint seen from outside, looking at the host, drawn to scale: what touches, what is fitted, where the weight is.

use lodewright_planner::joints::{HoleIx, Owner, filling_size};
use lodewright_planner::kit::{PegKind, Plan, Pole, Socket};
use lodewright_planner::{JointAnswer, JointIx};
use yew::prelude::*;

use super::drag::Moving;
use super::drag_handles::{Handles, Readout, tried};
use super::draw::{disc_face, points, px, round_below};
use super::names::{millimetres, side_word, sides};
use super::plane_view::{BOTTOM, PlaneView, TOP, WIDTH};
use super::study::Studied;
use crate::format::fixed;
use crate::shared::Shared;
use crate::store::Analysis;

/// A place on the socket's side: where it is and what is in it.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Place {
    at_mm: [f64; 2],
    diameter_mm: f64,
    filled: bool,
    pole: Option<Pole>,
    /// Diameter of what meets it, where that is of another size.
    mate_mm: Option<f64>,
}

/// Every place of the joint's socket.
fn places(d: &Analysis, joint: &JointAnswer) -> Vec<Place> {
    let holes = d.holes();
    let faces = holes.faces_on(Owner::Socket(joint.joint.socket));
    let diameter =
        |hole: HoleIx| filling_size(d.plan(), d.fillings()[hole]).map(|(across_mm, _)| across_mm);
    faces
        .map(|(_, f)| {
            let hole = &holes.holes[f.hole];
            let own_mm = diameter(f.hole);
            let pair = joint
                .report
                .pairs
                .iter()
                .find(|p| p.holes[0] == f.hole && p.at_mm == f.at_mm);
            let flip = |p: Pole| if f.far { p.other() } else { p };
            let mate_mm = pair.and_then(|p| diameter(p.holes[1]));
            Place {
                at_mm: f.at_mm,
                diameter_mm: own_mm.unwrap_or(hole.max_diameter_mm),
                filled: own_mm.is_some(),
                pole: d.poles()[f.hole].map(flip),
                mate_mm: mate_mm.filter(|m| own_mm != Some(*m)),
            }
        })
        .collect()
}

/// Props of [`FaceView`].
#[derive(PartialEq, Properties)]
pub struct FaceViewProps {
    /// The analysis.
    pub analysis: Analysis,
    /// The joint.
    pub joint: JointIx,
    /// The joint by itself, where its pairs can be tried elsewhere.
    #[prop_or_default]
    pub studied: Option<Shared<Studied>>,
}

/// See the module.
#[component]
pub fn FaceView(props: &FaceViewProps) -> Html {
    let moving = use_state_eq(|| None::<Moving>);
    let on_move = use_callback(moving.setter(), |to, moving| moving.set(to));
    {
        // An edit, by the finger or from elsewhere, ends what was on its way.
        let moving = moving.setter();
        use_effect_with(props.analysis.clone(), move |_| moving.set(None));
    }
    let shown = use_memo(
        (props.studied.clone(), *moving),
        |(studied, moving)| match (studied, moving) {
            (Some(studied), Some(moving)) => Some(Shared::new(tried(studied, moving))),
            (studied, _) => studied.clone(),
        },
    );
    let d = &props.analysis;
    let Some(joint) = d.joints().get(props.joint) else {
        return Html::default();
    };
    let (socket, _, plug) = sides(d.plan(), joint);
    let outline = socket.patch.outline_mm();
    let mut places = places(d, joint);
    let Some(view) = PlaneView::around(&extent(&outline, &joint.contact_mm, &places)) else {
        return Html::default();
    };
    if let (Some(moving), Some(studied)) = (*moving, &props.studied)
        && let Some(pair) = studied.model.pairs.get(moving.pair)
        && let Some(place) = places.iter_mut().find(|p| p.at_mm == pair.socket.at_mm)
    {
        place.at_mm = moving.at_mm;
    }
    let peg = (plug.keeps_peg && socket.peg.kind != PegKind::None).then(|| peg(&view, socket));
    let title = format!("The face of {}, seen from outside, to scale", joint.words);
    let role = props.studied.as_ref().map_or("img", |_| "group");
    html! {
        <figure class="figure">
            <svg class="drawing" viewBox={format!("0 0 {WIDTH} {}", px(view.height))} {role} aria-label={title}>
                <polygon class="fig-outline" points={view.polygon(&outline)} />
                <polygon class="fig-contact" points={view.polygon(&joint.contact_mm)} />
                { for places.iter().map(|p| place(&view, p)) }
                { peg }
                { weight(&view, joint) }
                { sides_words(d.plan(), &view, socket) }
                { scale_bar(&view) }
                if let Some(studied) = props.studied.clone() {
                    <Handles analysis={d.clone()} joint={props.joint} {studied} {view} moving={*moving} {on_move} />
                }
            </svg>
            if let Some(shown) = (*shown).clone() {
                <Readout analysis={d.clone()} {shown} moving={*moving} />
            }
            <figcaption>
                { legend(joint, &outline) }
                { weight_words(&view, joint) }
            </figcaption>
        </figure>
    }
}

fn legend(joint: &JointAnswer, outline: &[[f64; 2]]) -> String {
    let covers = outline.len() == joint.contact_mm.len() && !joint.contact_mm.is_empty();
    let dashed = if covers {
        ""
    } else {
        "; dashed: the socket\u{2019}s outline"
    };
    format!(
        "Looking at the host, to scale. Grey: where the faces touch{dashed}. Discs show the pole that looks out of the host; a dotted ring is an empty place."
    )
}

fn extent(outline: &[[f64; 2]], contact: &[[f64; 2]], places: &[Place]) -> Vec<[f64; 2]> {
    let rim = |p: &Place| {
        let r = p.diameter_mm.max(p.mate_mm.unwrap_or(0.0)) / 2.0;
        let [x, y] = p.at_mm;
        [[x - r, y - r], [x + r, y + r]]
    };
    let mut all = outline.to_vec();
    all.extend(contact);
    all.extend(places.iter().flat_map(rim));
    all
}

fn place(view: &PlaneView, place: &Place) -> Html {
    let [x, y] = view.at(place.at_mm);
    let r = place.diameter_mm / 2.0 * view.scale;
    html! {
        <>
            if place.filled {
                { disc_face(x, y, r.max(2.0), place.pole) }
            } else {
                <circle class="fig-empty" cx={px(x)} cy={px(y)} r={px(r)} />
            }
            if let Some(mate_mm) = place.mate_mm {
                <circle class="fig-mate" cx={px(x)} cy={px(y)} r={px(mate_mm / 2.0 * view.scale)} />
            }
        </>
    }
}

/// The plan gives a peg's place and no width, so it is a mark and not to scale.
fn peg(view: &PlaneView, socket: &Socket) -> Html {
    let [x, y] = view.at(socket.peg.at_mm);
    let word = match socket.peg.kind {
        PegKind::None => "",
        PegKind::Round => "peg",
        PegKind::Two => "first of two pegs",
        PegKind::Keyed => "keyed peg",
    };
    let square = socket.peg.kind == PegKind::Keyed;
    html! {
        <g class="fig-peg">
            if square {
                <rect x={px(x - 5.0)} y={px(y - 5.0)} width="10" height="10" />
            } else {
                <circle cx={px(x)} cy={px(y)} r="5" />
            }
            <text class="fig-text" x={px(x)} y={px(y + 17.0)} text-anchor="middle">{ word }</text>
        </g>
    }
}

/// Where the weight acts in the worst case; beyond the edge of the drawing, an arrow towards it.
fn weight(view: &PlaneView, joint: &JointAnswer) -> Html {
    let Some(hold) = joint.report.worst() else {
        return Html::default();
    };
    let [cx, cy, _] = hold.centre_mm;
    let [x, y] = view.at([cx, cy]);
    let seen = is_seen(view, [x, y]);
    let (px_x, px_y) = (
        x.clamp(12.0, WIDTH - 12.0),
        y.clamp(20.0, view.height - BOTTOM),
    );
    // Open in the middle, so that the letter of a pole under it can be read.
    let cross = format!(
        "M{0} {2}h-9M{1} {2}h9M{3} {4}v-9M{3} {5}v9",
        px(px_x - 9.0),
        px(px_x + 9.0),
        px(px_y),
        px(px_x),
        px(px_y - 9.0),
        px(px_y + 9.0)
    );
    let [mx, my] = view.at(view.middle_mm);
    let long = ((x - mx) * (x - mx) + (y - my) * (y - my)).sqrt().max(1.0);
    let (ux, uy) = ((x - mx) / long, (y - my) / long);
    let arrow = [
        [px_x + 8.0 * ux, px_y + 8.0 * uy],
        [px_x - 8.0 * ux - 6.0 * uy, px_y - 8.0 * uy + 6.0 * ux],
        [px_x - 8.0 * ux + 6.0 * uy, px_y - 8.0 * uy - 6.0 * ux],
    ];
    html! {
        <g class="fig-weight">
            if seen {
                <path class="fig-halo" d={cross.clone()} />
                <path d={cross} />
            } else {
                <polygon points={points(&arrow)} />
            }
        </g>
    }
}

/// What the mark of the weight means.
fn weight_words(view: &PlaneView, joint: &JointAnswer) -> String {
    let Some(hold) = joint.report.worst() else {
        return String::new();
    };
    let [cx, cy, out_mm] = hold.centre_mm;
    let mark = if is_seen(view, view.at([cx, cy])) {
        "Red cross"
    } else {
        "Red arrow, towards a point beyond the drawing"
    };
    let away = if out_mm >= 0.0 {
        "in front of the face"
    } else {
        "behind the face"
    };
    format!(
        " {mark}: the centre of the weight in the worst case, {} mm {away}.",
        fixed(out_mm.abs(), 1)
    )
}

fn is_seen(view: &PlaneView, [x, y]: [f64; 2]) -> bool {
    (10.0..=WIDTH - 10.0).contains(&x) && (16.0..=view.height - BOTTOM + 10.0).contains(&y)
}

fn sides_words(plan: &Plan, view: &PlaneView, socket: &Socket) -> Html {
    let up = side_word(plan, socket, [0.0, 1.0]);
    let right = side_word(plan, socket, [1.0, 0.0]);
    let middle = (view.height + TOP - BOTTOM) / 2.0;
    html! {
        <>
            <text class="fig-text" x={px(WIDTH / 2.0)} y="14" text-anchor="middle">{ format!("\u{2191} {up}") }</text>
            <text class="fig-text" x={px(WIDTH - 14.0)} y={px(middle)} transform={format!("rotate(90 {} {})", px(WIDTH - 14.0), px(middle))} text-anchor="middle" dominant-baseline="central">{ format!("\u{2191} {right}") }</text>
        </>
    }
}

fn scale_bar(view: &PlaneView) -> Html {
    let bar_mm = round_below(110.0 / view.scale);
    let long = bar_mm * view.scale;
    let y = view.height - 18.0;
    html! {
        <g class="fig-scale">
            <path d={format!("M16 {0}v8M16 {1}h{2}m0 -4v8", px(y - 4.0), px(y), px(long))} />
            <text class="fig-text" x={px(22.0 + long)} y={px(y)} dominant-baseline="central">{ millimetres(bar_mm) }</text>
        </g>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn discs_are_drawn_at_the_size_of_the_stock() {
        let d = Analysis::of(samples::demo()).unwrap();
        let mut seen = 0;
        for joint in d.joints().values() {
            for pair in &joint.report.pairs {
                let all = places(&d, joint);
                let place = all.iter().find(|p| p.at_mm == pair.at_mm).unwrap();
                let size = filling_size(d.plan(), d.fillings()[pair.holes[0]]);
                if let Some((across_mm, _)) = size {
                    assert_eq!(place.diameter_mm, across_mm, "{}", joint.words);
                    assert_eq!(place.pole, pair.poles[0], "{}", joint.words);
                    seen += 1;
                }
            }
        }
        assert!(seen > 0);
    }
}
