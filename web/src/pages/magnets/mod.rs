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

use lodewright_planner::joints::Filling;
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
use super::joints::names::{hole_words, millimetres};
use super::joints::stranger_list::StrangerList;
use crate::format;
use crate::routes::{Page, Route};
use crate::store::{Derived, PlanKey, use_answers};

/// See the module.
#[component]
pub fn MagnetsPage(props: &PlanPageProps) -> Html {
    let answered = use_answers();
    html! {
        <div class="magnets-page" data-test="page-magnets">
            <div class="page-head"><h1>{ Page::Magnets.title() }</h1></div>
            { fault(answered.error.as_ref()) }
            if let Some(derived) = answered.good {
                { body(&props.open.key, derived) }
            }
        </div>
    }
}

fn body(key: &PlanKey, derived: Derived) -> Html {
    if derived.answers.joints.is_empty() {
        return nothing_yet(key);
    }
    html! {
        <>
            { summary(&derived) }
            { contradictions(&yew::props!(ContradictionsProps { plan_key: key.clone(), derived: derived.clone() })) }
            { nothing_fits(key, &derived) }
            <FewestView derived={derived.clone()} />
            { glue_answer(&yew::props!(GlueAnswerProps { plan_key: key.clone(), derived: derived.clone() })) }
            { pole_map(&yew::props!(PoleMapProps { derived: derived.clone() })) }
            <Mistakes derived={derived.clone()} />
            <section class="magnet-block" aria-labelledby="strangers-title">
                <h2 id="strangers-title">{ "Magnets that should not meet" }</h2>
                <StrangerList derived={derived.clone()} />
            </section>
            <Costs plan_key={key.clone()} derived={derived.clone()} />
            <Buying plan_key={key.clone()} derived={derived.clone()} />
            <Cautions {derived} />
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
fn counts(fillings: &[Filling]) -> (usize, usize, usize) {
    let magnets = fillings
        .iter()
        .filter(|f| matches!(f, Filling::Magnet(_)))
        .count();
    let steel = fillings
        .iter()
        .filter(|f| matches!(f, Filling::Steel(_)))
        .count();
    (magnets, steel, magnets + steel)
}

fn summary(d: &Derived) -> Html {
    let (magnets, steel, holes) = counts(&d.answers.fillings);
    let tile = |test: &'static str, figure: String, words: &'static str| {
        html! { <div class="tile" data-test={test}><span class="tile-figure">{ figure }</span><span class="tile-words">{ words }</span></div> }
    };
    html! {
        <>
            <div class="tiles">
                { tile("magnet-count", magnets.to_string(), if magnets == 1 { "magnet" } else { "magnets" }) }
                { tile("steel-count", steel.to_string(), if steel == 1 { "piece of steel" } else { "pieces of steel" }) }
                { tile("hole-count", holes.to_string(), if holes == 1 { "hole to drill" } else { "holes to drill" }) }
                { tile("buy-cost", cost(d, d.answers.buy.cost_cents), "to buy") }
            </div>
            <p data-test="model-count">{ models_words(d.answers.models, d.plan.variants.len()) }</p>
        </>
    }
}

/// How many models the grid stands for.
fn models_words(models: Option<u128>, variants: usize) -> String {
    let of = format::count(variants, "variant", "variants");
    match models {
        None => format!(
            "With all free options the {of} stand for more different models than can be counted."
        ),
        Some(1) => format!("The {of} and their free options stand for 1 model."),
        Some(n) if n == variants as u128 => format!(
            "The {of} stand for {n} different models, and this one build can become every one of them."
        ),
        Some(n) => format!(
            "With all free options the {of} stand for {n} different models, and this one build can become every one of them."
        ),
    }
}

fn nothing_fits(key: &PlanKey, d: &Derived) -> Html {
    if d.answers.nothing_fits.is_empty() {
        return Html::default();
    }
    let line = |h: &usize| {
        let hole = d.answers.holes.holes.get(*h)?;
        let said = format!(
            "{}: at most {} wide and {} deep.",
            hole_words(&d.plan, &d.answers.holes, *h),
            millimetres(hole.max_diameter_mm),
            millimetres(hole.max_depth_mm)
        );
        Some(html! { <li key={*h}>{ said }</li> })
    };
    html! {
        <section class="magnet-block" aria-labelledby="nothing-fits-title" data-test="nothing-fits">
            <h2 id="nothing-fits-title">{ "Holes that no magnet fits" }</h2>
            <p>{ "These want a magnet, and none in stock is small enough with its glue and its allowance. Make the hole larger in Parts, or add a smaller size in Setup." }</p>
            <ul>{ for d.answers.nothing_fits.iter().filter_map(line) }</ul>
            <p class="actions">
                <a class="button" href={Route::of(Page::Parts, key).href()}>{ Page::Parts.title() }</a>
                <a class="button" href={Route::of(Page::Setup, key).href()}>{ Page::Setup.title() }</a>
            </p>
        </section>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_are_counted_by_kind() {
        let fillings = [
            Filling::Magnet(0),
            Filling::Empty,
            Filling::Steel(1),
            Filling::Magnet(2),
        ];
        assert_eq!(counts(&fillings), (2, 1, 3));
    }

    #[test]
    fn the_number_of_models_is_told_in_words_where_it_is_too_large() {
        assert!(models_words(None, 5).contains("more different models than can be counted"));
        assert!(models_words(Some(48), 5).contains("48 different models"));
        assert!(models_words(Some(1), 1).contains("1 model."));
    }
}
