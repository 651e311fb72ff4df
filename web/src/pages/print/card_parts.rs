//! The set for the owner: a card for each variant, an inventory, care.

use lodewright_planner::kit::{Ix, Plan};
use lodewright_planner::{Analysis, Card, InventoryLine, SeatLine};
use yew::prelude::*;

use super::card_drawing::drawing;

/// See the module.
pub fn sheet(analysis: &Analysis) -> Html {
    let plan = analysis.plan();
    let set = analysis.hand_over();
    if set.cards.is_empty() {
        return html! { <p>{ "There are no variants to make cards of yet." }</p> };
    }
    html! {
        <>
            <header class="sheet-head">
                <h2 class="sheet-title">{ &plan.title }</h2>
                <p>{ format!("One model, {} variants. Keep these cards with it.", set.cards.len()) }</p>
            </header>
            { for set.cards.iter().map(|c| card(plan, c)) }
            <section class="owner-card">
                <h2>{ "Inventory of the parts that come off" }</h2>
                <table>
                    <thead><tr><th scope="col" class="sheet-tick">{ "Here" }</th><th scope="col">{ "Part" }</th><th scope="col">{ "Used in" }</th><th scope="col" class="sheet-number">{ "Magnets and steel in it" }</th></tr></thead>
                    <tbody>{ for set.inventory.iter().map(line) }</tbody>
                </table>
            </section>
            <section class="owner-card">
                <h2>{ "Care" }</h2>
                <ul class="sheet-list">{ for set.care.iter().map(|c| html! { <li key={c.clone()}>{ c }</li> }) }</ul>
            </section>
        </>
    }
}

fn card(plan: &Plan, card: &Card) -> Html {
    html! {
        <section key={card.variant.get()} class="owner-card" data-test="owner-card">
            <h2>{ &plan.variants[card.variant].name }</h2>
            { drawing(plan, card) }
            if card.seats.is_empty() {
                <p>{ "Nothing is put on for it." }</p>
            } else {
                <table>
                    <thead><tr><th scope="col" class="sheet-number">{ "No." }</th><th scope="col">{ "Part" }</th><th scope="col">{ "Goes to" }</th><th scope="col">{ "How" }</th></tr></thead>
                    <tbody>{ for card.seats.iter().enumerate().map(seat) }</tbody>
                </table>
            }
            if let Some((from, swap)) = &card.from_before {
                <p><strong>{ format!("From {}: ", plan.variants[*from].name) }</strong>{ if swap.moves.is_empty() { "nothing moves.".to_owned() } else { swap.moves.iter().map(|m| m.said.as_str()).collect::<Vec<_>>().join(" ") } }</p>
            }
            if !card.weak.is_empty() {
                <ul class="sheet-list">{ for card.weak.iter().map(|w| html! { <li key={w.clone()}>{ w }</li> }) }</ul>
            }
        </section>
    }
}

fn seat((n, seat): (usize, &SeatLine)) -> Html {
    html! {
        <tr key={n}>
            <td class="sheet-number">{ n + 1 }</td>
            <th scope="row">{ &seat.part }if !seat.instead.is_empty() { <span class="sheet-small">{ format!("or {}", seat.instead.join(", ")) }</span> }</th>
            <td>{ &seat.place }</td>
            <td>{ &seat.hint }</td>
        </tr>
    }
}

fn line(line: &InventoryLine) -> Html {
    html! {
        <tr key={line.part.clone()}>
            <td class="sheet-tick"><span class="box"></span></td>
            <th scope="row">{ &line.part }</th>
            <td>{ if line.used_in.is_empty() { "none now".to_owned() } else { line.used_in.join(", ") } }</td>
            <td class="sheet-number">{ line.pieces }</td>
        </tr>
    }
}
