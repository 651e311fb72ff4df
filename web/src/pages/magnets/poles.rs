//! Which magnet goes where and with which pole out, part by part.

use lodewright_planner::joints::Filling;
use lodewright_planner::kit::Pole;
use yew::prelude::*;

use crate::components::{PoleMarkProps, pole_mark};
use crate::format;
use crate::pages::joints::names::{piece_words, pole_out};
use crate::store::Derived;

/// Props of [`pole_map`].
#[derive(PartialEq, Properties)]
pub struct PoleMapProps {
    /// The answers.
    pub derived: Derived,
}

/// The filled holes of each part, in the plan's order.
fn by_part(d: &Derived) -> Vec<(usize, Vec<usize>)> {
    let holes = &d.answers.holes.holes;
    let filled = |h: &usize| {
        d.answers
            .fillings
            .get(*h)
            .is_some_and(|f| *f != Filling::Empty)
    };
    (0..d.plan.parts.len())
        .map(|part| {
            let own = holes
                .iter()
                .enumerate()
                .filter(|(_, h)| h.part == part)
                .map(|(i, _)| i);
            (part, own.filter(filled).collect::<Vec<_>>())
        })
        .filter(|(_, list)| !list.is_empty())
        .collect()
}

/// See the module.
pub fn pole_map(props: &PoleMapProps) -> Html {
    let d = &props.derived;
    let parts = by_part(d);
    if parts.is_empty() {
        return Html::default();
    }
    html! {
        <section class="magnet-block" aria-labelledby="poles-title">
            <h2 id="poles-title">{ "Pole map" }</h2>
            <p class="fine">{ "The mark shows the pole that looks out of the hole, towards the other part. Mark the outer face of every magnet with a pen before the first one is glued." }</p>
            <div class="pole-parts">{ for parts.into_iter().map(|(part, list)| table(d, part, &list)) }</div>
        </section>
    }
}

fn table(d: &Derived, part: usize, list: &[usize]) -> Html {
    let name = d
        .plan
        .parts
        .get(part)
        .map_or("?", |p| p.name.as_str())
        .to_owned();
    html! {
        <table key={part} class="figures pole-table">
            <caption>{ name }<span class="quiet">{ format!(" \u{b7} {}", format::count(list.len(), "piece", "pieces")) }</span></caption>
            <thead><tr><th scope="col">{ "Hole" }</th><th scope="col">{ "Pole" }</th><th scope="col">{ "Piece" }</th></tr></thead>
            <tbody>{ for list.iter().map(|h| row(d, *h)) }</tbody>
        </table>
    }
}

fn row(d: &Derived, hole: usize) -> Html {
    let filling = d
        .answers
        .fillings
        .get(hole)
        .copied()
        .unwrap_or(Filling::Empty);
    let pole = d.answers.poles.get(hole).copied().flatten();
    let Some(h) = d.answers.holes.holes.get(hole) else {
        return Html::default();
    };
    let wished = h.pinned.is_some();
    html! {
        <tr key={hole} data-test="pole-row">
            <th scope="row">{ &h.label }</th>
            <td class="pole-cell">{ pole.map_or_else(no_pole, mark) }</td>
            <td>
                { piece_words(&d.plan, filling) }
                if let Some(p) = pole.filter(|_| h.through) {
                    <span class="pole-through">{ through_words(d, hole, p) }</span>
                }
                if wished {
                    <span class="quiet">{ " pole wished for" }</span>
                }
            </td>
        </tr>
    }
}

fn mark(pole: Pole) -> Html {
    html! { <>{ pole_mark(&yew::props!(PoleMarkProps { pole })) }<span aria-hidden="true">{ pole_out(pole) }</span></> }
}

fn no_pole() -> Html {
    html! { <span class="quiet">{ "no pole" }</span> }
}

/// `N out towards Left wall; the other side shows S towards Right wall.`
fn through_words(d: &Derived, hole: usize, pole: Pole) -> String {
    let socket_of = |far: bool| {
        let face = d
            .answers
            .holes
            .faces
            .iter()
            .find(|f| f.hole == hole && f.far == far)?;
        let name = if face.on_socket {
            d.plan.sockets.get(face.owner)?.name.clone()
        } else {
            format!(
                "plug {}",
                d.plan.parts.get(face.owner)?.plugs.get(face.plug)?.id
            )
        };
        Some(name)
    };
    let near = socket_of(false)
        .map(|n| format!(" towards {n}"))
        .unwrap_or_default();
    let far = socket_of(true)
        .map(|n| format!(" towards {n}"))
        .unwrap_or_default();
    format!(
        "goes right through: {}{near}, other pole on the far side, {}{far}",
        pole_out(pole),
        pole_out(pole.other())
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::joints::samples;
    use crate::shared::Shared;

    #[test]
    fn every_piece_has_one_row() {
        for plan in samples::plans() {
            let answers = lodewright_planner::derive(&plan).unwrap();
            let filled = answers
                .fillings
                .iter()
                .filter(|f| **f != Filling::Empty)
                .count();
            let d = Derived {
                plan: Shared::new(plan),
                answers: Shared::new(answers),
            };
            let rows: usize = by_part(&d).iter().map(|(_, list)| list.len()).sum();
            assert_eq!(rows, filled);
        }
    }

    #[test]
    fn a_magnet_right_through_shows_both_poles() {
        let plan = samples::demo();
        let answers = lodewright_planner::derive(&plan).unwrap();
        let hole = answers.holes.holes.iter().position(|h| h.through).unwrap();
        let d = Derived {
            plan: Shared::new(plan),
            answers: Shared::new(answers),
        };
        let said = through_words(&d, hole, Pole::N);
        assert!(
            said.contains("N out") && said.contains("far side, S out towards"),
            "{said}"
        );
    }
}
