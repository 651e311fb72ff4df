//! How sure a joint is with a hand-held drill: draws on demand, with what scatters most.

use lodewright_planner::joints::{ScatterAnswer, ScatterError, Source, scatter};
use tiny_sort::stable::sort_by;
use yew::prelude::*;

use super::force_window::CloseProps;
use super::names::times;
use super::study::Studied;
use crate::format::{fixed, number};
use crate::shared::Shared;
use crate::store::Derived;

const DRAWS: usize = 10_000;
/// Any number does; the same one makes the same draws again.
const SEED: u64 = 20;

type Drawn = (
    Derived,
    Shared<Studied>,
    Result<ScatterAnswer, ScatterError>,
);

/// See the module.
#[component]
pub fn ConfidenceView(props: &CloseProps) -> Html {
    let drawn = use_state_eq(|| None::<Drawn>);
    let now = (*drawn)
        .clone()
        .filter(|(d, s, _)| *d == props.derived && *s == props.studied);
    let onclick = {
        let (drawn, d, s) = (drawn.clone(), props.derived.clone(), props.studied.clone());
        Callback::from(move |_: MouseEvent| {
            let answer = scatter(&d.plan, &s.model, s.account.load, DRAWS, SEED);
            drawn.set(Some((d.clone(), s.clone(), answer)));
        })
    };
    let sc = &props.derived.plan.settings.scatter;
    html! {
        <div class="sure">
            <p>{ format!(
                "Holes wander by {} mm, magnets sit {} mm and lean {}\u{b0} off, coats differ by {} in 100 (one standard deviation each); lots differ within their grade, parts within the spread of their mass. The page Setup has these numbers.",
                number(sc.position_sd_mm), number(sc.depth_sd_mm), number(sc.tilt_sd_deg), number(sc.coats_sd_share * 100.0)) }</p>
            <div aria-live="polite" data-test="sure">
                { match &now {
                    None => Html::default(),
                    Some((_, _, Err(e))) => html! { <p>{ format!("There is nothing to draw: {e}.") }</p> },
                    Some((d, _, Ok(a))) => answer(d.plan.settings.hold_target_g, a),
                } }
            </div>
            if now.is_none() {
                <button type="button" class="button" data-test="draw" {onclick}>{ format!("Draw {} models", number(DRAWS as f64)) }</button>
            }
        </div>
    }
}

fn answer(target_g: f64, a: &ScatterAnswer) -> Html {
    let most = a.shares.iter().map(|(_, s)| *s).fold(0.05, f64::max);
    let row = |(source, share): &(Source, f64)| {
        html! {
            <tr key={word(*source)}>
                <th scope="row">{ word(*source) }</th>
                <td class="share-cell">
                    <svg class="share-bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true"><rect width={fixed(100.0 * share / most, 1)} height="10" /></svg>
                </td>
                <td class="is-number">{ format!("{}\u{a0}%", fixed(share * 100.0, 0)) }</td>
            </tr>
        }
    };
    let mut shares = a.shares.clone();
    sort_by(&mut shares, |x, y| y.1.total_cmp(&x.1));
    html! {
        <>
            <p class="sure-said">
                <strong>{ chance(a) }</strong>
                { format!(" reach {} times the weight. 95 in 100 bear at least {}, half of them {}. Drilled true, but with gaps, grade and weight at their worst: {}.",
                    number(target_g), times(a.fifth_percentile_g), times(a.median_g), times(a.worst_case_g)) }
            </p>
            <table class="figures">
                <caption>{ format!("What makes it scatter: each source\u{2019}s share of the variance by itself, \u{b1} {} %.", fixed(a.share_se * 100.0, 0)) }</caption>
                <thead><tr><th scope="col">{ "Source" }</th><th scope="col"><span class="visually-hidden">{ "As a bar" }</span></th><th scope="col" class="is-number">{ "Share" }</th></tr></thead>
                <tbody>{ for shares.iter().map(row) }</tbody>
            </table>
            <p class="quiet">{ format!("{} draws from seed {}; the same seed gives the same draws.", number(a.draws as f64), a.seed) }</p>
        </>
    }
}

/// The chance with its error; where no draw fails (or none reaches), the rule of three: 3 in n at 95 in 100 certainty.
fn chance(a: &ScatterAnswer) -> String {
    let hundredth = 300.0 / a.draws.max(1) as f64;
    if a.meets >= 1.0 {
        return format!("At least {} in 100", fixed(100.0 - hundredth, 2));
    }
    if a.meets <= 0.0 {
        return format!("At most {} in 100", fixed(hundredth, 2));
    }
    // Never rounded up to a promise.
    let share = (a.meets * 1000.0).floor() / 10.0;
    format!(
        "{} in 100 (\u{b1} {})",
        fixed(share, 1),
        fixed(a.meets_se * 100.0, 1)
    )
}

fn word(source: Source) -> &'static str {
    match source {
        Source::Position => "where the holes are",
        Source::Depth => "how deep magnets sit",
        Source::Tilt => "how far magnets lean",
        Source::Coats => "how thick coats are",
        Source::Strength => "how strong the lot is",
        Source::Mass => "how heavy the part is",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_never_rounded_up_and_all_is_not_called_certain() {
        let of = |meets: f64| ScatterAnswer {
            draws: 10_000,
            seed: 1,
            meets,
            meets_se: 0.001,
            fifth_percentile_g: 1.0,
            median_g: 2.0,
            worst_case_g: 1.0,
            sd_g: 0.1,
            shares: Vec::new(),
            share_se: 0.02,
        };
        assert_eq!(chance(&of(1.0)), "At least 99.97 in 100");
        assert_eq!(chance(&of(0.0)), "At most 0.03 in 100");
        assert!(chance(&of(0.99999)).starts_with("99.9 in 100"));
    }
}
