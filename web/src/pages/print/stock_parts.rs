//! Which pole is out at every hole, and what to buy.

use lodewright_planner::bench::{Bought, BuyLine};
use lodewright_planner::joints::{Filling, HoleIx};
use lodewright_planner::kit::{Ix, PartIx, Plan};
use lodewright_planner::{Analysis, HoleWords, filling_words, place_words};
use yew::prelude::*;

use crate::format;
use crate::pages::bench::marks::{PolesOfHoleProps, poles_of_hole};

/// Magnets and steel of one part.
type OfPart = (String, Vec<(HoleWords, String)>);

/// Every filled hole, together by part.
fn by_part(analysis: &Analysis) -> Vec<OfPart> {
    let plan = analysis.plan();
    let mut list: Vec<OfPart> = Vec::new();
    let holes = HoleIx::each(&analysis.holes().holes).zip(analysis.fillings().values());
    for (p, part) in PartIx::each(&plan.parts) {
        let filled = holes.clone().filter(|((_, hole), _)| hole.part == p);
        let filled = filled.filter(|(_, filling)| **filling != Filling::Empty);
        let words = |((h, _), filling): ((HoleIx, _), &Filling)| {
            (analysis.hole_words(h), filling_words(plan, *filling))
        };
        let rows: Vec<_> = filled.map(words).collect();
        if !rows.is_empty() {
            list.push((part.name.clone(), rows));
        }
    }
    list
}

/// The poles by part.
pub fn poles(analysis: &Analysis) -> Html {
    let parts = by_part(analysis);
    if parts.is_empty() {
        return Html::default();
    }
    html! {
        <section>
            <h2>{ "Poles by part" }</h2>
            <table class="sheet-poles">
                <thead>
                    <tr><th scope="col">{ "Hole" }</th><th scope="col">{ "Piece" }</th><th scope="col">{ "Place" }</th><th scope="col">{ "Pole that faces out" }</th></tr>
                </thead>
                { for parts.iter().map(part) }
            </table>
            <p class="sheet-small">{ "Out means towards the mating face. N is a dark disc, S a striped one." }</p>
        </section>
    }
}

fn part((name, rows): &OfPart) -> Html {
    html! {
        <tbody key={name.clone()}>
            <tr class="sheet-group"><th scope="rowgroup" colspan="4">{ name }</th></tr>
            { for rows.iter().map(|(hole, piece)| html! {
                <tr key={hole.place().to_owned()}>
                    <th scope="row">{ hole.place() }</th>
                    <td>{ piece }</td>
                    <td>{ hole.faces.first().map(|f| place_words(f.on_part)) }</td>
                    <td>
                        if hole.faces.iter().all(|f| f.pole.is_none()) {
                            { "either way" }
                        } else {
                            { poles_of_hole(&yew::props!(PolesOfHoleProps { hole: hole.clone() })) }
                        }
                    </td>
                </tr>
            }) }
        </tbody>
    }
}

/// What to buy.
pub fn buying(analysis: &Analysis) -> Html {
    let plan = analysis.plan();
    let buy = &analysis.buy();
    if buy.lines.is_empty() {
        return Html::default();
    }
    let currency = &plan.settings.currency;
    html! {
        <section>
            <h2>{ "To buy" }</h2>
            <table>
                <thead>
                    <tr>
                        <th scope="col" class="sheet-tick">{ "Got" }</th><th scope="col">{ "Size" }</th>
                        <th scope="col" class="sheet-number">{ "Used" }</th><th scope="col" class="sheet-number">{ "Spare" }</th>
                        <th scope="col" class="sheet-number">{ "In hand" }</th><th scope="col">{ "Packs" }</th>
                        <th scope="col" class="sheet-number">{ "Cost" }</th><th scope="col" class="sheet-number">{ "Left over" }</th>
                    </tr>
                </thead>
                <tbody>
                    { for buy.lines.iter().map(|l| line(plan, l)) }
                    <tr class="sheet-sum"><th scope="row" colspan="6">{ "Together" }</th><td class="sheet-number">{ cents(buy.cost_cents, currency) }</td><td></td></tr>
                </tbody>
            </table>
            if let Some(note) = format::price_note(&plan.stock) {
                <p class="sheet-small">{ note }</p>
            }
        </section>
    }
}

fn line(plan: &Plan, line: &BuyLine) -> Html {
    let currency = &plan.settings.currency;
    let packs = match line.bought.as_slice() {
        _ if line.no_pack_known => "no pack known".to_owned(),
        [] => "none: enough in hand".to_owned(),
        bought => bought
            .iter()
            .map(|b| pack(b, currency))
            .collect::<Vec<_>>()
            .join(", "),
    };
    let size = filling_words(plan, line.filling);
    html! {
        <tr key={size.clone()}>
            <td class="sheet-tick"><span class="box"></span></td>
            <th scope="row">{ size }</th>
            <td class="sheet-number">{ line.used }</td><td class="sheet-number">{ line.spares }</td>
            <td class="sheet-number">{ line.in_hand }</td><td>{ packs }</td>
            <td class="sheet-number">{ cents(line.cost_cents, currency) }</td><td class="sheet-number">{ line.left_over }</td>
        </tr>
    }
}

fn pack(b: &Bought, currency: &str) -> String {
    format!(
        "{} of {} at {}",
        b.packs,
        b.count,
        format::money(b.price_cents, currency)
    )
}

fn cents(cents: u64, currency: &str) -> String {
    format::money(u32::try_from(cents).unwrap_or(u32::MAX), currency)
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::Edit;

    use super::*;

    #[test]
    fn every_filled_hole_stands_under_its_part() {
        let grid = "\tWinter\tSummer\nNose\tPlough\tHook".to_owned();
        let plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        let analysis = Analysis::of(plan.clone()).unwrap();
        let list = by_part(&analysis);
        let names: Vec<&str> = list.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(names, ["Base", "Plough", "Hook"]);
        let filled = analysis
            .fillings()
            .values()
            .iter()
            .filter(|f| **f != Filling::Empty)
            .count();
        assert_eq!(
            list.iter().map(|(_, rows)| rows.len()).sum::<usize>(),
            filled
        );
    }

    #[test]
    fn packs_read_as_bought() {
        let bought = Bought {
            packs: 2,
            count: 10,
            price_cents: 240,
        };
        assert_eq!(pack(&bought, "€"), "2 of 10 at €\u{a0}2.40");
    }
}
