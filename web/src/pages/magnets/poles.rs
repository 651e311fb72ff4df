//! Which magnet goes where and with which pole out, part by part.

use lodewright_planner::joints::{Filling, HoleIx, Owner};
use lodewright_planner::kit::{Ix, PartIx, Pole};
use yew::prelude::*;

use crate::components::{PoleMarkProps, pole_mark};
use crate::format;
use crate::pages::joints::names::{piece_words, pole_out};
use crate::store::Analysis;

/// Props of [`pole_map`].
#[derive(PartialEq, Properties)]
pub struct PoleMapProps {
    /// The answers.
    pub analysis: Analysis,
}

/// The filled holes of each part, in the plan's order.
fn by_part(d: &Analysis) -> Vec<(PartIx, Vec<HoleIx>)> {
    let holes = || HoleIx::each(&d.holes().holes);
    let filled = |part| {
        let own = holes().filter(move |(_, h)| h.part == part).map(|(i, _)| i);
        own.filter(|h| d.fillings()[*h] != Filling::Empty).collect()
    };
    PartIx::all(&d.plan().parts)
        .map(|part| (part, filled(part)))
        .filter(|(_, list): &(_, Vec<_>)| !list.is_empty())
        .collect()
}

/// See the module.
pub fn pole_map(props: &PoleMapProps) -> Html {
    let d = &props.analysis;
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

fn table(d: &Analysis, part: PartIx, list: &[HoleIx]) -> Html {
    let name = d.plan().parts[part].name.clone();
    html! {
        <table key={part.get()} class="figures pole-table">
            <caption>{ name }<span class="quiet">{ format!(" \u{b7} {}", format::count(list.len(), "piece", "pieces")) }</span></caption>
            <thead><tr><th scope="col">{ "Hole" }</th><th scope="col">{ "Pole" }</th><th scope="col">{ "Piece" }</th></tr></thead>
            <tbody>{ for list.iter().map(|h| row(d, *h)) }</tbody>
        </table>
    }
}

fn row(d: &Analysis, hole: HoleIx) -> Html {
    let (filling, pole, h) = (d.fillings()[hole], d.poles()[hole], &d.holes().holes[hole]);
    let wished = h.pinned.is_some();
    html! {
        <tr key={hole.get()} data-test="pole-row">
            <th scope="row">{ d.hole_words(hole).place().to_owned() }</th>
            <td class="pole-cell">{ pole.map_or_else(no_pole, mark) }</td>
            <td>
                { piece_words(d.plan(), filling) }
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
fn through_words(d: &Analysis, hole: HoleIx, pole: Pole) -> String {
    let socket_of = |far: bool| match d.holes().face_of(hole, far)?.owner {
        Owner::Socket(socket) => Some(d.plan().sockets[socket].name.clone()),
        Owner::Plug(part, plug) => {
            let face = &d.plan().parts[part].plugs[plug];
            Some(format!("mounting face {}", face.id))
        }
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

    #[test]
    fn every_piece_has_one_row() {
        for plan in samples::plans() {
            let d = Analysis::of(plan).unwrap();
            let filled = d
                .fillings()
                .values()
                .iter()
                .filter(|f| **f != Filling::Empty)
                .count();
            let rows: usize = by_part(&d).iter().map(|(_, list)| list.len()).sum();
            assert_eq!(rows, filled);
        }
    }

    #[test]
    fn a_magnet_right_through_shows_both_poles() {
        let d = Analysis::of(samples::demo()).unwrap();
        let (hole, _) = HoleIx::each(&d.holes().holes)
            .find(|(_, h)| h.through)
            .unwrap();
        let said = through_words(&d, hole, Pole::N);
        assert!(
            said.contains("N out") && said.contains("far side, S out towards"),
            "{said}"
        );
    }
}
