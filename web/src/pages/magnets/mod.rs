//! Magnets: how many, which, where, with which pole out, what they cost, and how to handle them.

mod buying;
mod cautions;
mod contradictions;
mod costs;
mod fewest;
mod glue;
mod mistakes;
#[cfg(test)]
mod page_tests;
mod poles;
mod target_sweep;
mod ways_out;

use lodewright_planner::BigUint;
use lodewright_planner::joints::{Filling, Fillings, HoleIx, misfit};
use lodewright_planner::kit::{Ix, MagnetIx};
use lodewright_planner::misfit_words;
use yew::prelude::*;

pub use self::buying::cost;

use self::buying::Buying;
use self::cautions::Cautions;
use self::contradictions::{ContradictionsProps, contradictions};
use self::costs::Costs;
use self::fewest::FewestView;
use self::glue::{GlueAnswerProps, glue_answer};
use self::mistakes::Mistakes;
use self::poles::{PoleMapProps, pole_map};
use super::PlanPageProps;
use super::joints::fault;
use super::joints::names::hole_words;
use super::joints::stranger_list::StrangerList;
use crate::format;
use crate::routes::{Page, Route};
use crate::store::{Analysis, PlanKey, Store, use_answers, use_store};

/// See the module.
#[component]
pub fn MagnetsPage(props: &PlanPageProps) -> Html {
    let answered = use_answers();
    let store = use_store();
    html! {
        <div class="magnets-page" data-test="page-magnets">
            <div class="page-head"><h1>{ Page::Magnets.title() }</h1></div>
            { fault(answered.error.as_ref()) }
            if let Some(analysis) = answered.good {
                { body(&props.open.key, analysis, &store) }
            }
        </div>
    }
}

fn body(key: &PlanKey, analysis: Analysis, store: &Store) -> Html {
    if analysis.joints().values().is_empty() {
        return nothing_yet(key);
    }
    html! {
        <>
            { summary(&analysis) }
            { contradictions(&yew::props!(ContradictionsProps { plan_key: key.clone(), analysis: analysis.clone() })) }
            { nothing_fits(key, &analysis) }
            <FewestView analysis={analysis.clone()} />
            { glue_answer(&yew::props!(GlueAnswerProps { plan_key: key.clone(), analysis: analysis.clone(), store: store.clone() })) }
            { pole_map(&yew::props!(PoleMapProps { analysis: analysis.clone() })) }
            <Mistakes analysis={analysis.clone()} />
            <section class="magnet-block" aria-labelledby="strangers-title">
                <h2 id="strangers-title">{ "Magnets that should not meet" }</h2>
                <StrangerList analysis={analysis.clone()} />
            </section>
            <Costs plan_key={key.clone()} analysis={analysis.clone()} />
            <Buying plan_key={key.clone()} analysis={analysis.clone()} />
            <Cautions {analysis} />
        </>
    }
}

fn nothing_yet(key: &PlanKey) -> Html {
    html! {
        <div class="empty">
            <p>{ "No magnets yet: they follow from the grid. Name the variants and the sockets, say what sits where, and the planner counts the magnets, picks their sizes and poles, and lists what to buy." }</p>
            <p><a class="button is-main" href={Route::of(Page::Grid, key).href()}>{ "Go to the grid" }</a></p>
        </div>
    }
}

/// Magnets, pieces of steel, and holes with something in them.
fn counts(fillings: &Fillings) -> (usize, usize, usize) {
    let count = |is: fn(&Filling) -> bool| fillings.values().iter().filter(|f| is(f)).count();
    let magnets = count(|f| matches!(f, Filling::Magnet(_)));
    let steel = count(|f| matches!(f, Filling::Steel(_)));
    (magnets, steel, magnets + steel)
}

fn summary(d: &Analysis) -> Html {
    let (magnets, steel, holes) = counts(d.fillings());
    let tile = |test: &'static str, figure: String, words: &'static str| {
        html! { <div class="tile" data-test={test}><span class="tile-figure">{ figure }</span><span class="tile-words">{ words }</span></div> }
    };
    html! {
        <>
            <div class="tiles">
                { tile("magnet-count", magnets.to_string(), if magnets == 1 { "magnet" } else { "magnets" }) }
                { tile("steel-count", steel.to_string(), if steel == 1 { "piece of steel" } else { "pieces of steel" }) }
                { tile("hole-count", holes.to_string(), if holes == 1 { "hole to drill" } else { "holes to drill" }) }
                { tile("buy-cost", cost(d, d.buy().cost_cents), "to buy") }
            </div>
            <p data-test="model-count">{ models_words(d.models(), d.plan().variants.len()) }</p>
        </>
    }
}

/// How many models the grid stands for.
fn models_words(models: Option<&BigUint>, variants: usize) -> String {
    let of = format::count(variants, "variant", "variants");
    match models {
        None => format!(
            "With all free choices the {of} stand for more different models than can be counted."
        ),
        Some(n) if *n == BigUint::from(1_u8) => {
            format!("The {of} and their free choices stand for 1 model.")
        }
        Some(n) if *n == BigUint::from(variants) => format!(
            "The {of} stand for {n} different models, and this one build can become every one of them."
        ),
        Some(n) => format!(
            "With all free choices the {of} stand for {n} different models, and this one build can become every one of them."
        ),
    }
}

fn nothing_fits(key: &PlanKey, d: &Analysis) -> Html {
    if d.nothing_fits().is_empty() {
        return Html::default();
    }
    let line = |h: &HoleIx| {
        let hole = &d.holes().holes[*h];
        // Why the smallest of the stock does not go in.
        let stock = &d.plan().stock.magnets;
        let volume = |m: &MagnetIx| {
            let m = &stock[*m];
            m.diameter_mm * m.diameter_mm * m.height_mm
        };
        let smallest = MagnetIx::all(stock).min_by(|a, b| volume(a).total_cmp(&volume(b)));
        let why = smallest
            .and_then(|m| misfit(d.plan(), hole, Filling::Magnet(m)))
            .map_or_else(String::new, |m| misfit_words(m).join(" "));
        let said = format!("{}: {why}", hole_words(d, *h));
        html! { <li key={h.get()}>{ said }</li> }
    };
    html! {
        <section class="magnet-block" aria-labelledby="nothing-fits-title" data-test="nothing-fits">
            <h2 id="nothing-fits-title">{ "Holes that no magnet fits" }</h2>
            <p>{ "These want a magnet, and none in stock goes in with its glue and its allowance. What stops the smallest one stands beside each." }</p>
            <ul>{ for d.nothing_fits().iter().map(line) }</ul>
            <p class="actions">
                <a class="button" href={Route::of(Page::Parts, key).href()}>{ Page::Parts.title() }</a>
                <a class="button" href={Route::of(Page::Setup, key).href()}>{ Page::Setup.title() }</a>
            </p>
        </section>
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{MagnetIx, SteelIx};

    use super::*;

    #[test]
    fn pieces_are_counted_by_kind() {
        let fillings = [
            Filling::Magnet(MagnetIx::new(0)),
            Filling::Empty,
            Filling::Steel(SteelIx::new(1)),
            Filling::Magnet(MagnetIx::new(2)),
        ];
        let fillings = fillings.into_iter().collect();
        assert_eq!(counts(&fillings), (2, 1, 3));
    }

    #[test]
    fn the_number_of_models_is_told_in_words_where_it_is_too_large() {
        assert!(models_words(None, 5).contains("more different models than can be counted"));
        assert!(models_words(Some(&BigUint::from(48_u8)), 5).contains("48 different models"));
        assert!(models_words(Some(&BigUint::from(1_u8)), 1).contains("1 model."));
    }
}
