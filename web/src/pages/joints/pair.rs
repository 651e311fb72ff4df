//! One pair of pieces that meet: what it is, the cut, what each layer costs, the curve.

use lodewright_planner::joints::{Filling, PairAccount, as_grams, gap_costs, keeper_share};
use lodewright_planner::kit::{Plan, Pole};
use yew::prelude::*;

use super::alternatives::Alternatives;
use super::curve::CurveView;
use super::fit_view::{FitViewProps, fit_view};
use super::names::{grams, hole_words, millimetres, newtons, piece_words, pole_out};
use super::pair_buttons::PairButtons;
use super::section::SectionView;
use super::study::Studied;
use crate::components::{Disclosure, PoleMarkProps, pole_mark};
use crate::format::{fixed, number};
use crate::shared::Shared;
use crate::store::Derived;

/// Props of [`PairView`].
#[derive(PartialEq, Properties)]
pub struct PairViewProps {
    /// The answers.
    pub derived: Derived,
    /// Index of the joint.
    pub joint: usize,
    /// Index of the pair in it.
    pub pair: usize,
    /// The joint by itself.
    #[prop_or_default]
    pub studied: Option<Shared<Studied>>,
}

/// See the module.
#[component]
pub fn PairView(props: &PairViewProps) -> Html {
    let d = &props.derived;
    let account = d.answers.joints.get(props.joint).map(|j| &j.account);
    let Some(pair) = account.and_then(|a| a.pairs.get(props.pair)) else {
        return Html::default();
    };
    let many = account.is_some_and(|a| a.pairs.len() > 1);
    let title = if many {
        format!("Pair {}", props.pair + 1)
    } else {
        "The pair".to_owned()
    };
    html! {
        <Disclosure id={format!("pair-{}", props.pair + 1)} {title} summary={short(pair)} open={props.pair == 0}>
            <ul class="pair-pieces">
                { piece(d, "Host", pair.socket_hole, pair.socket_pole) }
                { piece(d, "Part", pair.plug_hole, pair.plug_pole) }
            </ul>
            <p>{ pull_words(pair) }</p>
            if let Some(said) = keeper_words(&d.plan, fillings(d, pair), pair.gap.gap_mm) {
                <p class="is-bad-words">{ said }</p>
            }
            <div class="pair-drawings">
                <SectionView derived={d.clone()} joint={props.joint} pair={props.pair} />
                <CurveView derived={d.clone()} joint={props.joint} pair={props.pair} />
            </div>
            if let Some((studied, mine)) = studied_pair(props, pair) {
                { fit_view(&yew::props!(FitViewProps { derived: d.clone(), studied: studied.clone(), pair: mine })) }
                <PairButtons derived={d.clone()} joint={props.joint} studied={studied.clone()} pair={mine} />
                <Disclosure id={format!("elsewhere-{}", props.pair + 1)} title="Other places and sizes" summary="what it would bear">
                    <Alternatives derived={d.clone()} joint={props.joint} {studied} pair={mine} />
                </Disclosure>
            }
            { layers(d, pair) }
            <p class={classes!((!pair.bond_ok).then_some("is-bad-words"))}>{ bond_words(&d.plan, pair) }</p>
        </Disclosure>
    }
}

/// The joint by itself and the index of this pair in it, where both pieces are there.
fn studied_pair(props: &PairViewProps, pair: &PairAccount) -> Option<(Shared<Studied>, usize)> {
    let studied = props.studied.clone()?;
    let mut pairs = studied.model.pairs.iter();
    let mine = pairs.position(|p| {
        p.socket.hole == pair.socket_hole
            && p.plug.hole == pair.plug_hole
            && p.socket.at_mm == pair.at_mm
    })?;
    Some((studied, mine))
}

/// The pair in a few words.
fn short(pair: &PairAccount) -> String {
    let verb = if pair.strong_n < 0.0 {
        "pushes"
    } else {
        "pulls"
    };
    let pull = format!(
        "{verb} {} to {}",
        newtons(pair.weak_n.abs()),
        newtons(pair.strong_n.abs())
    );
    if pair.bond_ok {
        pull
    } else {
        format!("{pull}, glue may tear")
    }
}

fn filling(d: &Derived, hole: usize) -> Filling {
    d.answers.fillings.get(hole).copied().unwrap_or_default()
}

fn fillings(d: &Derived, pair: &PairAccount) -> [Filling; 2] {
    [filling(d, pair.socket_hole), filling(d, pair.plug_hole)]
}

fn piece(d: &Derived, side: &str, hole: usize, pole: Option<Pole>) -> Html {
    let filling = filling(d, hole);
    html! {
        <li>
            if let Some(pole) = pole {
                { pole_mark(&yew::props!(PoleMarkProps { pole })) }
            }
            <span>
                <strong>{ side }</strong>{ ": " }{ piece_words(&d.plan, filling) }
                if let Some(pole) = pole {
                    <span aria-hidden="true">{ ", " }{ pole_out(pole) }</span>
                }
                <span class="quiet">{ " \u{b7} " }{ hole_words(&d.plan, &d.answers.holes, hole) }</span>
            </span>
        </li>
    }
}

fn pull_words(pair: &PairAccount) -> String {
    if pair.strong_n < 0.0 {
        return format!(
            "The two push each other off with {} to {}.",
            newtons(-pair.weak_n),
            newtons(-pair.strong_n)
        );
    }
    format!(
        "Pulls with {} (weak end of all tolerances) to {} (strong end): as much as {} to {} hanging straight down.",
        newtons(pair.weak_n),
        newtons(pair.strong_n),
        grams(as_grams(pair.weak_n)),
        grams(as_grams(pair.strong_n))
    )
}

/// What is lost by a piece of steel that is small or thin, in words; nothing where it is not worth a word.
pub fn keeper_words(plan: &Plan, fillings: [Filling; 2], gap_mm: f64) -> Option<String> {
    const WORTH_A_WORD: f64 = 0.7;
    let share = keeper_share(plan, fillings[0], fillings[1], gap_mm)?;
    (share < WORTH_A_WORD).then(|| {
        format!(
            "This piece of steel gives {} % of the pull of a thick wide plate: a wider or thicker one, where there is room, pulls more. Steel no wider than its magnet is always poor.",
            fixed(100.0 * share, 0)
        )
    })
}

/// Whether the glue bears it, in words.
pub fn bond_words(plan: &Plan, pair: &PairAccount) -> String {
    let settings = &plan.settings;
    let may_mpa = settings.glue_strength_mpa / settings.bond_safety.max(1e-9);
    let end = if pair.bond_ok {
        "that is within bounds"
    } else {
        "that is too much: glue the magnet behind a wall, or fit a smaller one"
    };
    format!(
        "The glue of the more heavily loaded piece bears {}\u{a0}MPa at the strong end; with a safety of {} on {}\u{a0}MPa it may bear {}\u{a0}MPa: {end}.",
        fixed(pair.bond_mpa, 3),
        number(settings.bond_safety),
        number(settings.glue_strength_mpa),
        fixed(may_mpa, 2)
    )
}

fn layers(d: &Derived, pair: &PairAccount) -> Html {
    let [a, b] = fillings(d, pair);
    let costs = gap_costs(&d.plan, a, b, &pair.gap);
    let row = |n: usize, what: &str, thickness_mm: f64, cost: Option<f64>| {
        html! {
            <tr key={n}>
                <th scope="row">{ what.to_owned() }</th>
                <td class="is-number">{ millimetres(thickness_mm) }</td>
                <td class="is-number">{ cost.map(newtons).unwrap_or_default() }</td>
                <td class="is-number">{ cost.map(|n| grams(as_grams(n))).unwrap_or_default() }</td>
            </tr>
        }
    };
    html! {
        <div>
        <div class="scroll" tabindex="0" role="group" aria-label="The gap by layer">
        <table class="figures">
            <caption>{ "The gap by layer, from the host to the part" }</caption>
            <thead><tr><th scope="col">{ "Layer" }</th><th scope="col" class="is-number">{ "Thickness" }</th><th scope="col" class="is-number">{ "Costs, N" }</th><th scope="col" class="is-number">{ "Costs, g" }</th></tr></thead>
            <tbody>
                { for costs.iter().enumerate().map(|(n, c)| row(n, c.what, c.thickness_mm, Some(c.costs_n))) }
                { row(99, "All together", pair.gap.gap_mm, None) }
            </tbody>
        </table>
        </div>
        <p class="fine">{ format!("Cost: the pull won if this layer alone were not there, at the weak end. Costs do not add up, since the first tenths of a millimetre cost most. The gap may come out {} larger or smaller.", millimetres(d.plan.settings.gap_tolerance_mm)) }</p>
        </div>
    }
}
