//! A round through all variants with the fewest handlings.

use lodewright_planner::kit::{Ix, VariantIx};
use lodewright_planner::{Leg, Trip};
use yew::prelude::*;

use crate::components::Disclosure;
use crate::format;
use crate::store::Analysis;

/// Props of [`Round`].
#[derive(PartialEq, Properties)]
pub struct RoundProps {
    /// The analysis.
    pub analysis: Analysis,
}

/// See the module.
#[component]
pub fn Round(props: &RoundProps) -> Html {
    let trip = use_memo(props.analysis.clone(), Analysis::round_trip);
    let Some(trip) = trip.as_ref().as_ref() else {
        return Html::default();
    };
    let name = |v: VariantIx| props.analysis.plan().variants[v].name.as_str();
    let leg = |(n, leg): (usize, &Leg)| {
        html! {
            <li key={n}>
                <strong>{ name(leg.to) }</strong>{ ": " }
                { if leg.moves.is_empty() { "nothing moves.".to_owned() } else { leg.moves.iter().map(|m| m.said.as_str()).collect::<Vec<_>>().join(" ") } }
            </li>
        }
    };
    let start = trip.legs.first().map(|l| name(l.from)).unwrap_or_default();
    html! {
        <section class="round" aria-labelledby="round-title" data-test="round">
            <h2 id="round-title">{ "A tour of all variants" }</h2>
            <p>{ said(trip) }</p>
            <p class="round-ring">{ for trip.legs.iter().map(|l| html! { <span class="round-stop" key={l.from.get()}>{ name(l.from) }<span class="round-count">{ format!(" {} \u{2192} ", l.moves.len()) }</span></span> }) }<span class="round-stop">{ start }</span></p>
            <Disclosure id="round-moves" title="Every handling of the round" summary={format!("beginning as {start}")}>
                <ol class="round-list">{ for trip.legs.iter().enumerate().map(leg) }</ol>
            </Disclosure>
            if !trip.left_out.is_empty() {
                <p class="fine">{ format!("Left out, since they have no legal model yet: {}.", trip.left_out.iter().map(|v| name(*v)).collect::<Vec<_>>().join(", ")) }</p>
            }
        </section>
    }
}

fn said(trip: &Trip) -> String {
    let count = format::count(trip.handlings, "handling", "handlings");
    if trip.is_shortest() {
        format!(
            "{count} and back to the start: no other order takes fewer, with free choices kept as the moves below say."
        )
    } else {
        format!(
            "{count} and back to the start; no order takes fewer than {}, with free choices kept as the moves below say.",
            trip.lower_bound
        )
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    #[test]
    fn a_proven_round_says_so() {
        let grid = "\tWinter\tSummer\tBare\nNose\tPlough\tHook\t-".to_owned();
        let plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        let trip = Analysis::of(plan.clone()).unwrap().round_trip().unwrap();
        // Off, on: one handling to and from the bare one, two between the others.
        assert_eq!(trip.handlings, 4);
        assert!(said(&trip).starts_with("4\u{a0}handlings and back"));
    }
}
