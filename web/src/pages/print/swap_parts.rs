//! How to change every variant into every other.

use lodewright_planner::kit::{Ix, VariantIx};
use lodewright_planner::{Analysis, Swap};
use yew::prelude::*;

use crate::format;

/// From so many variants on, only changes to the next one round the list are written out: paper is finite.
const MOST: usize = 7;

/// Which changes are written out, by index.
fn pairs(variants: usize) -> Vec<(usize, usize)> {
    if variants < 2 {
        return Vec::new();
    }
    let all = (0..variants).flat_map(|a| (0..variants).map(move |b| (a, b)));
    let next = |a: usize, b: usize| b == (a + 1) % variants;
    all.filter(|(a, b)| a != b && (variants < MOST || next(*a, *b)))
        .collect()
}

/// See the module.
pub fn table(analysis: &Analysis) -> Html {
    let plan = analysis.plan();
    let pairs = pairs(plan.variants.len());
    if pairs.is_empty() {
        return Html::default();
    }
    html! {
        <section>
            <h2>{ "To swap" }</h2>
            <table>
                <thead><tr><th scope="col">{ "From" }</th><th scope="col">{ "To" }</th><th scope="col">{ "Handlings, in this order" }</th></tr></thead>
                <tbody>{ for pairs.iter().map(|(from, to)| row(analysis, VariantIx::new(*from), VariantIx::new(*to))) }</tbody>
            </table>
            if plan.variants.len() >= MOST {
                <p class="sheet-small">{ "With so many variants only the way round the list is printed; the swap page has every pair." }</p>
            }
        </section>
    }
}

fn row(analysis: &Analysis, from: VariantIx, to: VariantIx) -> Html {
    let name = |v: VariantIx| analysis.plan().variants[v].name.clone();
    html! {
        <tr key={format!("{}-{}", from.get(), to.get())}>
            <th scope="row">{ name(from) }</th>
            <th scope="row">{ name(to) }</th>
            <td>{ moves(analysis.swap(from, to).as_ref()) }</td>
        </tr>
    }
}

fn moves(found: Option<&Swap>) -> String {
    match found {
        None => "No way: one of them has no legal model.".to_owned(),
        Some(swap) if swap.moves.is_empty() => "Nothing moves.".to_owned(),
        Some(swap) => {
            let said: Vec<&str> = swap.moves.iter().map(|m| m.said.as_str()).collect();
            format!(
                "{}: {}",
                format::count(said.len(), "handling", "handlings"),
                said.join(" ")
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    #[test]
    fn few_variants_get_every_pair_and_many_a_round() {
        assert!(pairs(1).is_empty());
        assert_eq!(pairs(2), [(0, 1), (1, 0)]);
        assert_eq!(pairs(5).len(), 20);
        assert_eq!(pairs(9).len(), 9);
        assert_eq!(pairs(9)[8], (8, 0));
    }

    #[test]
    fn moves_are_sentences_in_a_row() {
        let grid = "\tWinter\tSummer\nNose\tPlough\tHook".to_owned();
        let plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        let analysis = Analysis::of(plan).unwrap();
        let swap = analysis.swap(VariantIx::new(0), VariantIx::new(1));
        assert_eq!(
            moves(swap.as_ref()),
            "2\u{a0}handlings: Take Plough off Nose and put it away. Put Hook on Nose."
        );
    }
}
