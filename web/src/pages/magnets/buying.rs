//! What to buy: packs, prices, what is in hand, and what no pack is known for.

use lodewright_planner::all_of;
use lodewright_planner::bench::BuyLine;
use yew::prelude::*;

use crate::format;
use crate::pages::joints::names::piece_words;
use crate::routes::{Page, Route};
use crate::store::{Analysis, PlanKey, use_store};
use crate::table_file::save_table;

/// Props of [`Buying`].
#[derive(PartialEq, Properties)]
pub struct BuyingProps {
    /// The open plan.
    pub plan_key: PlanKey,
    /// The answers.
    pub analysis: Analysis,
}

/// See the module.
#[component]
pub fn Buying(props: &BuyingProps) -> Html {
    let store = use_store();
    let d = &props.analysis;
    let buy = &d.buy();
    if buy.lines.is_empty() {
        return Html::default();
    }
    let save = {
        let d = d.clone();
        Callback::from(move |_: MouseEvent| {
            save_table(&store, &d.plan().title, "shop list", &d.shopping_csv());
        })
    };
    let setup = Route::of(Page::Setup, &props.plan_key).href();
    html! {
        <section class="magnet-block" aria-labelledby="buying-title">
            <h2 id="buying-title">{ "Buying list" }</h2>
            <div class="scroll" tabindex="0" role="group" aria-label="Buying list">
            <table class="figures is-wide" data-test="buying-list">
                <thead><tr>
                    <th scope="col">{ "Size" }</th><th scope="col" class="is-number">{ "Used" }</th><th scope="col" class="is-number">{ "Spare" }</th>
                    <th scope="col" class="is-number">{ "In hand" }</th><th scope="col">{ "Buy" }</th><th scope="col" class="is-number">{ "Price" }</th><th scope="col" class="is-number">{ "Left over" }</th>
                </tr></thead>
                <tbody>{ for buy.lines.iter().enumerate().map(|(n, line)| row(d, n, line)) }</tbody>
                <tfoot><tr><th scope="row" colspan="5">{ "All together" }</th><td class="is-number">{ cost(d, buy.cost_cents) }</td><td></td></tr></tfoot>
            </table>
            </div>
            <p><button type="button" class="button is-small" data-test="shop-csv" onclick={save}>{ "Save the shop list as a table (CSV)" }</button></p>
            <p class="fine">{ "The cheapest packs that cover the need with spares, after what is in hand. " }<a href={setup}>{ "Change packs, prices and spares in Setup" }</a>{ format::price_note(&d.plan().stock).map(|note| format!(". {note}")) }</p>
        </section>
    }
}

fn row(d: &Analysis, n: usize, line: &BuyLine) -> Html {
    html! {
        <tr key={n}>
            <th scope="row">{ piece_words(d.plan(), line.filling) }</th>
            <td class="is-number">{ line.used }</td>
            <td class="is-number">{ line.spares }</td>
            <td class="is-number">{ line.in_hand }</td>
            <td>{ packs(line) }</td>
            <td class="is-number">{ cost(d, line.cost_cents) }</td>
            <td class="is-number">{ line.left_over }</td>
        </tr>
    }
}

/// The packs in words.
fn packs(line: &BuyLine) -> String {
    if line.no_pack_known {
        let missing = (line.used + line.spares).saturating_sub(line.in_hand);
        return format!("{missing} more; no pack is known");
    }
    if line.bought.is_empty() {
        return "nothing, enough in hand".to_owned();
    }
    let each: Vec<_> = line
        .bought
        .iter()
        .map(|b| {
            format!(
                "{} of {}",
                format::count(b.packs as usize, "pack", "packs"),
                b.count
            )
        })
        .collect();
    all_of(&each)
}

/// A price in the plan's currency.
pub fn cost(d: &Analysis, cents: u64) -> String {
    format::money(
        u32::try_from(cents).unwrap_or(u32::MAX),
        &d.plan().settings.currency,
    )
}

#[cfg(test)]
mod tests {
    use lodewright_planner::bench::Bought;
    use lodewright_planner::joints::Filling;
    use lodewright_planner::kit::{Ix, MagnetIx};

    use super::*;

    fn line(bought: Vec<Bought>, no_pack_known: bool) -> BuyLine {
        BuyLine {
            filling: Filling::Magnet(MagnetIx::new(0)),
            used: 8,
            spares: 1,
            in_hand: 2,
            bought,
            cost_cents: 0,
            left_over: 0,
            no_pack_known,
        }
    }

    #[test]
    fn packs_are_told_with_their_counts() {
        let one = Bought {
            packs: 1,
            count: 10,
            price_cents: 180,
        };
        let two = Bought {
            packs: 2,
            count: 5,
            price_cents: 100,
        };
        assert_eq!(
            packs(&line(vec![one, two], false)),
            "1\u{a0}pack of 10 and 2\u{a0}packs of 5"
        );
        assert_eq!(packs(&line(vec![], false)), "nothing, enough in hand");
        assert_eq!(packs(&line(vec![], true)), "7 more; no pack is known");
    }
}
