//! Whether each piece of a pair fits its hole, what wall is left, and the largest that would fit.

use lodewright_planner::fit_words;
use lodewright_planner::joints::{Filling, FitFacts, PairSide, fit_facts};
use yew::prelude::*;

use super::names::{millimetres, piece_words};
use super::study::Studied;
use crate::shared::Shared;
use crate::store::Analysis;

/// Props of [`fit_view`].
#[derive(PartialEq, Properties)]
pub struct FitViewProps {
    /// The answers.
    pub analysis: Analysis,
    /// The joint by itself.
    pub studied: Shared<Studied>,
    /// Index of the pair.
    pub pair: usize,
}

/// See the module.
pub fn fit_view(props: &FitViewProps) -> Html {
    let side = |(side, name): (PairSide, &'static str)| {
        let d = &props.analysis;
        let facts = fit_facts(&props.studied.model, props.pair, side)?;
        Some(html! {
            <li key={name}>
                <strong>{ name }</strong>{ ": " }{ words(&facts) }
                if let Some(largest) = facts.largest {
                    <span class="quiet">{ format!(" Strongest in stock that fits: {}.", piece_words(d.plan(), Filling::Magnet(largest))) }</span>
                }
                { for facts.warnings().into_iter().map(|w| html! { <span class="is-bad-words">{ " " }{ fit_words(w) }</span> }) }
            </li>
        })
    };
    html! {
        <ul class="fits">{ for [(PairSide::Socket, "Host"), (PairSide::Plug, "Part")].into_iter().filter_map(side) }</ul>
    }
}

fn words(f: &FitFacts) -> String {
    let mm = |v: f64| millimetres((v * 100.0).round() / 100.0);
    let behind = f.material_mm.map_or_else(String::new, |mm_there| {
        format!(" of {} there", mm(mm_there))
    });
    let point = if f.point_mm > 0.0 {
        format!(
            ", with the drill\u{2019}s point {}",
            mm(f.depth_mm + f.point_mm)
        )
    } else {
        String::new()
    };
    let neighbour = f
        .neighbour_mm
        .map_or_else(String::new, |n| format!(", {} to the next hole", mm(n)));
    format!(
        "hole {} across and {} deep{behind}{point}; {} in front, {} to the edge{neighbour}.",
        mm(f.hole_mm),
        mm(f.depth_mm),
        mm(f.front_mm),
        mm(f.edge_mm)
    )
}
