//! How the margin is worked out, in plain words with this joint's numbers.

use lodewright_planner::joints::{Held, as_grams};
use lodewright_planner::kit::PegKind;
use yew::prelude::*;

use super::names::{grams, millimetres, newtons, sides};
use super::status::worst;
use crate::components::Disclosure;
use crate::format::{fixed, number};
use crate::store::Derived;

/// Props of [`How`].
#[derive(PartialEq, Properties)]
pub struct HowProps {
    /// The answers.
    pub derived: Derived,
    /// Index of the joint.
    pub joint: usize,
}

/// See the module.
#[component]
pub fn How(props: &HowProps) -> Html {
    let d = &props.derived;
    let Some(joint) = d.answers.joints.get(props.joint) else {
        return Html::default();
    };
    if matches!(joint.account.held, Held::Glued | Held::Loose) {
        return Html::default();
    }
    html! {
        <Disclosure id="how-hold" title="How this is worked out" summary="formula and inputs">
            <p>{ "The margin is the load, in multiples of the weight that the joint carries, at which the joint first opens or slips, with the model turned and shaken so that the load points in the worst direction." }</p>
            <dl class="how">
                <dt>{ "Tipping over an edge" }</dt>
                <dd>{ "For each edge of the contact: each pull times its distance from that edge, added up, divided by the weight times the distance of the centre of mass from that edge (in the plane and outwards together)." }</dd>
                <dt>{ "Sliding" }</dt>
                <dd>{ "Friction \u{3bc} times the sum of the pulls, divided by the weight times \u{221a}(1 + \u{3bc}\u{b2}): the worst load pulls off a little while it pushes sideways." }</dd>
                <dt>{ "Turning" }</dt>
                <dd>{ "Friction of the pressed faces against the weight at its distance from the middle of the pulls." }</dd>
                <dt>{ "Pegs" }</dt>
                <dd>{ "One round peg stops sliding but not turning; two, or a keyed one, stop both. A snug peg carries tipping as well: the part then droops a little and only a straight pull frees it." }</dd>
            </dl>
            <p>{ "The smallest of these counts. Each pull is that of two uniformly magnetised discs across the whole gap; for steel, that of the magnet and its mirror image, less what thin steel cannot carry." }</p>
            <ul class="how-inputs">{ for inputs(d, props.joint).into_iter().map(|line| html! { <li>{ line }</li> }) }</ul>
        </Disclosure>
    }
}

/// The numbers that went in.
fn inputs(d: &Derived, joint: usize) -> Vec<String> {
    let Some(answer) = d.answers.joints.get(joint) else {
        return Vec::new();
    };
    let settings = &d.plan.settings;
    let sum_n: f64 = answer.account.pairs.iter().map(|p| p.weak_n).sum();
    let mut all = vec![
        format!("Friction \u{3bc}: {}.", number(settings.friction)),
        format!(
            "Weak end: low end of each grade, {}\u{a0}\u{b0}C, each gap {} larger. Strong end: high end of the grade, 20\u{a0}\u{b0}C, each gap as much smaller.",
            number(settings.warmest_c),
            millimetres(settings.gap_tolerance_mm)
        ),
    ];
    if answer.account.held == Held::Magnets {
        all.push(format!(
            "Sum of the pulls at the weak end: {} ({}).",
            newtons(sum_n),
            grams(as_grams(sum_n))
        ));
    }
    if let Some(hold) = worst(answer) {
        let [x, y, z] = hold.centre_mm;
        all.push(format!(
            "Weight in the worst case: {} with its centre {} out of the mating plane, at {} / {} in it.",
            grams(hold.mass_g),
            millimetres((z * 10.0).round() / 10.0),
            millimetres((x * 10.0).round() / 10.0),
            millimetres((y * 10.0).round() / 10.0)
        ));
        let [dx, dy, dz] = hold.direction;
        all.push(format!(
            "Worst direction: {} along the first axis of the plane, {} along the second, {} away from the host (shares of 1).",
            fixed(dx, 2),
            fixed(dy, 2),
            fixed(dz, 2)
        ));
    }
    if let Some((socket, _, plug)) = sides(&d.plan, answer) {
        let peg = match socket.peg.kind {
            PegKind::None => "none",
            _ if !plug.keeps_peg => "cut off",
            PegKind::Round => "one, round",
            PegKind::Two => "two",
            PegKind::Keyed => "keyed",
        };
        all.push(format!("Peg: {peg}."));
    }
    all
}
