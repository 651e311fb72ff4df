//! What went into a joint's margin, in words.

use lodewright_planner::JointIx;
use lodewright_planner::joints::{Held, as_grams};
use lodewright_planner::kit::PegKind;
use yew::prelude::*;

use super::names::{grams, millimetres, newtons, sides};
use crate::format::{fixed, number};
use crate::store::Analysis;

/// See the module.
pub fn inputs(d: &Analysis, joint: JointIx) -> Html {
    html! { <ul class="how-inputs">{ for lines(d, joint).into_iter().map(|line| html! { <li>{ line }</li> }) }</ul> }
}

fn lines(d: &Analysis, joint: JointIx) -> Vec<String> {
    let Some(answer) = d.joints().get(joint) else {
        return Vec::new();
    };
    let settings = &d.plan().settings;
    let sum_n: f64 = answer.report.pairs.iter().map(|p| p.weak_n).sum();
    let mut all = vec![
        format!("Friction \u{3bc}: {}.", number(settings.friction)),
        format!(
            "Weak end: low end of each grade, {}\u{a0}\u{b0}C, each gap {} larger. Strong end: high end of the grade, 20\u{a0}\u{b0}C, each gap as much smaller.",
            number(settings.warmest_c),
            millimetres(settings.gap_tolerance_mm)
        ),
    ];
    if answer.report.held == Held::Magnets {
        all.push(format!(
            "Sum of the pulls at the weak end: {} ({}).",
            newtons(sum_n),
            grams(as_grams(sum_n))
        ));
    }
    if let Some(hold) = answer.report.worst() {
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
    let (socket, _, plug) = sides(d.plan(), answer);
    let peg = match socket.peg.kind {
        PegKind::None => "none",
        _ if !plug.keeps_peg => "cut off",
        PegKind::Round => "one, round",
        PegKind::Two => "two",
        PegKind::Keyed => "keyed",
    };
    all.push(format!("Peg: {peg}."));
    all
}
