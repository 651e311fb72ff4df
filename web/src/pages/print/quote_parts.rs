//! The quote for paper, and its terms on the screen.

use lodewright_planner::kit::{Edit, Extra, Plan, QuoteTerms};
use lodewright_planner::{Analysis, Quote, minutes};
use yew::prelude::*;

use super::plan_parts;
use crate::components::{NumberField, TextField, Toggle};
use crate::format;
use crate::store::{Edited, Store};

fn edited<V: 'static>(store: &Store, change: impl Fn(&mut QuoteTerms, V) + 'static) -> Edited<V> {
    store.edited(move |plan: &Plan, value| {
        let mut terms = plan.quote.clone();
        change(&mut terms, value);
        Some(Edit::PutQuote(Box::new(terms)))
    })
}

/// The terms, for the screen.
pub fn terms(store: &Store, plan: &Plan) -> Html {
    let q = &plan.quote;
    let cents = |v: f64| (v * 100.0).round().clamp(0.0, 1e9) as u32;
    let add = press(store, |q| {
        q.extras.push(Extra {
            name: "Glue and paint".to_owned(),
            cents: 0,
        });
    });
    let extra = |(n, e): (usize, &Extra)| {
        let gone = press(store, move |q| {
            if n < q.extras.len() {
                q.extras.remove(n);
            }
        });
        html! {
            <div key={n} class="quote-extra">
                <TextField id={format!("quote-extra-{n}-name")} label="Other cost" value={e.name.clone()} on_commit={edited(store, move |q, v: String| if let Some(e) = q.extras.get_mut(n) { e.name = v; })} />
                <NumberField id={format!("quote-extra-{n}-price")} label="Price" unit={plan.settings.currency.clone()} value={f64::from(e.cents) / 100.0} on_commit={edited(store, move |q, v| if let Some(e) = q.extras.get_mut(n) { e.cents = cents(v); })} />
                <button type="button" class="button is-small" aria-label={format!("Remove {}", e.name)} onclick={gone}>{ "Remove" }</button>
            </div>
        }
    };
    html! {
        <section class="quote-terms" aria-label="Terms of the quote">
            <Toggle id="quote-kit" label="The kit\u{2019}s price is in it" value={q.with_kit} on_commit={edited(store, |q, v| q.with_kit = v)} />
            <div class="pair">
                <NumberField id="quote-margin" label="Margin" unit="%" value={q.margin_percent} on_commit={edited(store, |q, v| q.margin_percent = v)} />
                <NumberField id="quote-tax" label="Tax" unit="%" value={q.tax_percent} on_commit={edited(store, |q, v| q.tax_percent = v)} />
                <NumberField id="quote-days" label="Stands for" unit="days" whole={true} value={f64::from(q.valid_days)} on_commit={edited(store, |q, v: f64| q.valid_days = v.clamp(0.0, 1e9) as u32)} />
            </div>
            { for q.extras.iter().enumerate().map(extra) }
            <p><button type="button" class="button is-small" data-test="quote-extra-add" onclick={add}>{ "Add another cost" }</button></p>
            <TextField id="quote-note" label="Words to the client" lines={true} value={q.note.clone()} on_commit={edited(store, |q, v| q.note = v)} />
        </section>
    }
}

fn press(store: &Store, change: impl Fn(&mut QuoteTerms) + 'static) -> Callback<MouseEvent> {
    store.press(move |plan| {
        let mut terms = plan.quote.clone();
        change(&mut terms);
        Some(Edit::PutQuote(Box::new(terms)))
    })
}

/// The quote itself.
pub fn sheet(analysis: &Analysis) -> Html {
    let plan = analysis.plan();
    let q = analysis.quote();
    let money = |cents: u64| amount(plan, cents);
    html! {
        <>
            { plan_parts::head_without_note(plan) }
            if !plan.quote.note.is_empty() {
                <p class="quote-note">{ &plan.quote.note }</p>
            }
            <section>
                <h2>{ "Work" }</h2>
                <table data-test="quote-work">
                    <thead><tr><th scope="col">{ "What" }</th><th scope="col" class="sheet-number">{ "Steps" }</th><th scope="col" class="sheet-number">{ "Time" }</th><th scope="col" class="sheet-number">{ "Price" }</th></tr></thead>
                    <tbody>{ for q.work.iter().map(|l| html! {
                        <tr key={l.what}><th scope="row">{ l.what }</th><td class="sheet-number">{ l.count }</td><td class="sheet-number">{ minutes(l.hands_min) }</td><td class="sheet-number">{ money(l.cents) }</td></tr>
                    }) }</tbody>
                    <tfoot><tr class="sheet-sum"><th scope="row" colspan="2">{ format!("Work, at {} an hour", money(plan.rates.hour_cents.into())) }</th><td class="sheet-number">{ minutes(q.work_min) }</td><td class="sheet-number">{ money(q.work_cents) }</td></tr></tfoot>
                </table>
            </section>
            if !q.costs.is_empty() {
                <section>
                    <h2>{ "Pieces and other costs" }</h2>
                    <table>
                        <tbody>{ for q.costs.iter().enumerate().map(|(n, l)| html! { <tr key={n}><th scope="row">{ &l.what }</th><td class="sheet-number">{ money(l.cents) }</td></tr> }) }</tbody>
                        <tfoot><tr class="sheet-sum"><th scope="row">{ "Together" }</th><td class="sheet-number">{ money(q.cost_cents) }</td></tr></tfoot>
                    </table>
                </section>
            }
            <section>
                <h2>{ "Quote" }</h2>
                <table data-test="quote-sum">
                    <tbody>
                        <tr><th scope="row">{ "Work, pieces and other costs" }</th><td class="sheet-number">{ money(q.work_cents + q.cost_cents) }</td></tr>
                        if q.margin_cents > 0 {
                            <tr><th scope="row">{ format!("Margin, {} %", format::number(plan.quote.margin_percent)) }</th><td class="sheet-number">{ money(q.margin_cents) }</td></tr>
                        }
                        if q.tax_cents > 0 {
                            <tr><th scope="row">{ format!("Tax, {} %", format::number(plan.quote.tax_percent)) }</th><td class="sheet-number">{ money(q.tax_cents) }</td></tr>
                        }
                    </tbody>
                    <tfoot><tr class="sheet-sum"><th scope="row">{ "To pay" }</th><td class="sheet-number" data-test="quote-total">{ money(q.total_cents) }</td></tr></tfoot>
                </table>
                <p>{ valid(plan.quote.valid_days) }</p>
                { saving(plan, &q) }
            </section>
            <section>
                <h2>{ "What it rests on" }</h2>
                <ul class="sheet-list">{ for q.assumptions.iter().map(|a| html! { <li key={a.clone()}>{ a }</li> }) }</ul>
                if let Some(note) = format::price_note(&plan.stock) {
                    <p class="sheet-small">{ note }</p>
                }
                <p class="sheet-small">{ "An estimate from the plan, and no offer before it is signed. Local rules of trade and tax come first." }</p>
            </section>
            <div class="sheet-blanks"><span>{ "Place and date" }<span class="blank"></span></span><span>{ "Builder" }<span class="blank"></span></span><span>{ "Client" }<span class="blank"></span></span></div>
        </>
    }
}

fn valid(days: u32) -> String {
    match days {
        0 => "It stands until it is withdrawn.".to_owned(),
        n => format!(
            "It stands for {} from the date above.",
            format::count(n as usize, "day", "days")
        ),
    }
}

/// One kit for each variant, for comparison; nothing where the kit's price is not known.
fn saving(plan: &Plan, q: &Quote) -> Html {
    if plan.kit.price_cents == 0 || plan.variants.len() < 2 {
        return Html::default();
    }
    let (kits, this) = (
        amount(plan, q.saving.kits_cents),
        amount(plan, q.saving.this_cents),
    );
    let saved = q.saving.saved_cents();
    let words = if saved >= 0 {
        format!("{} less", amount(plan, saved.unsigned_abs()))
    } else {
        format!("{} more", amount(plan, saved.unsigned_abs()))
    };
    html! { <p data-test="quote-saving">{ format!("One kit for each of the {} variants would be {kits}; one kit with its magnets is {this}: {words}, work not counted.", plan.variants.len()) }</p> }
}

fn amount(plan: &Plan, cents: u64) -> String {
    format::money(
        u32::try_from(cents).unwrap_or(u32::MAX),
        &plan.settings.currency,
    )
}
