//! What small strong magnets do to people and things, with figures for the sizes of this plan.

use lodewright_planner::joints::{Filling, MagnetFacts, magnet_facts};
use lodewright_planner::kit::{Ix, MagnetIx};
use yew::prelude::*;

use crate::format::fixed;
use crate::pages::joints::names::piece_words;
use crate::store::Analysis;

/// Props of [`Cautions`].
#[derive(PartialEq, Properties)]
pub struct CautionsProps {
    /// The answers.
    pub analysis: Analysis,
}

/// The sizes that the plan uses, with their figures.
fn used(d: &Analysis) -> Vec<(MagnetIx, MagnetFacts)> {
    let in_use = |i: &MagnetIx| d.fillings().values().contains(&Filling::Magnet(*i));
    let all = MagnetIx::all(&d.plan().stock.magnets).zip(magnet_facts(d.plan()));
    all.filter(|(i, _)| in_use(i)).collect()
}

/// See the module.
#[component]
pub fn Cautions(props: &CautionsProps) -> Html {
    let facts = use_memo(props.analysis.clone(), used);
    html! {
        <section class="magnet-block cautions" aria-labelledby="cautions-title">
            <h2 id="cautions-title">{ "Handle with care" }</h2>
            <ul>
                <li><strong>{ "Swallowed magnets are an emergency. " }</strong>{ "Two of them, or one and a piece of metal, pull together through the bowel wall. Go to an emergency department at once; do not wait for symptoms. Count the pieces, keep them from children, and glue them so that none can come out." }</li>
                <li><strong>{ "Pacemakers and implanted defibrillators: " }</strong>{ "keep magnets and the finished model at least 15\u{a0}cm away, a stack of spares too. Do not carry them in a breast pocket." }</li>
                <li><strong>{ "They pinch and shatter. " }</strong>{ "Sintered magnets are brittle: two that jump together can throw splinters. Slide them apart, keep the spares well away from the one in hand, and wear eye protection with the larger sizes." }</li>
                <li><strong>{ "Cards and instruments: " }</strong>{ "keep magnet stripes, watches and hard disks away from the bench." }</li>
            </ul>
            { figures(&props.analysis, &facts) }
            <p class="fine">{ "Local rules, the makers\u{2019} instructions and medical advice come first: they decide, and these figures only inform. The toy limit is quoted as a known yardstick; a display model is not a toy and must not be given to children as one." }</p>
        </section>
    }
}

fn figures(d: &Analysis, facts: &[(MagnetIx, MagnetFacts)]) -> Html {
    if facts.is_empty() {
        return Html::default();
    }
    let row = |(i, f): &(MagnetIx, MagnetFacts)| {
        let limit = if f.over_toy_limit {
            "above the toy limit"
        } else {
            "below the toy limit"
        };
        html! {
            <tr key={i.get()}>
                <th scope="row">{ piece_words(d.plan(), Filling::Magnet(*i)) }</th>
                <td class="is-number">{ format!("{}\u{a0}kG\u{b2}mm\u{b2}", fixed(f.flux_index_kg2mm2, 0)) }</td>
                <td>{ limit }</td>
                <td class="is-number">{ format!("{}\u{a0}mm", fixed(f.pacemaker_mm.ceil(), 0)) }</td>
                <td class="is-number">{ format!("{}\u{a0}mm", fixed(f.card_mm.ceil(), 0)) }</td>
            </tr>
        }
    };
    html! {
        <div>
        <p class="fine">{ "Single magnets at the strong end of their grade; stacks reach further:" }</p>
        <div class="scroll" tabindex="0" role="group" aria-label="Figures by size">
        <table class="figures is-wide">
            <caption class="visually-hidden">{ "Figures by size" }</caption>
            <thead><tr>
                <th scope="col">{ "Size" }</th>
                <th scope="col" class="is-number">{ "Flux index" }</th>
                <th scope="col">{ "Toy rules: 50\u{a0}kG\u{b2}mm\u{b2}" }</th>
                <th scope="col" class="is-number">{ "Below 1\u{a0}mT (implants) from" }</th>
                <th scope="col" class="is-number">{ "Below 30\u{a0}mT (weak card stripes) from" }</th>
            </tr></thead>
            <tbody>{ for facts.iter().map(row) }</tbody>
        </table>
        </div>
        </div>
    }
}
