//! How the fewest magnets grow with what every joint must bear: worked out beside the page, one target after another.

use lodewright_planner::CountAt;
use yew::prelude::*;

use crate::format::{self, number};
use crate::store::Derived;
use crate::worker::{Question, UseLongWork, Work, use_long_work};

/// Props of [`TargetSweep`].
#[derive(PartialEq, Properties)]
pub struct TargetSweepProps {
    /// The answers.
    pub derived: Derived,
}

/// Targets around the plan's own, in halves, least one.
fn targets(own_g: f64) -> Vec<f64> {
    let mut all: Vec<f64> = [0.5, 0.75, 1.0, 1.5, 2.0]
        .map(|k| ((own_g * k * 2.0).round() / 2.0).max(1.0))
        .to_vec();
    all.dedup();
    all
}

/// See the module.
#[component]
pub fn TargetSweep(props: &TargetSweepProps) -> Html {
    let UseLongWork { work, ask, .. } = use_long_work::<Vec<CountAt>>(&props.derived);
    let own_g = props.derived.plan.settings.hold_target_g;
    let start = {
        let plan = props.derived.plan.clone();
        ask.reform(move |_: MouseEvent| Question::Counts(Box::new((*plan).clone()), targets(own_g)))
    };
    let row = |c: &CountAt| {
        html! {
            <tr key={number(c.target_g)} class={classes!((c.target_g == own_g).then_some("is-now"))}>
                <th scope="row">{ format!("{} \u{d7} weight", number(c.target_g)) }</th>
                <td class="is-number">{ c.magnets }</td>
                <td>{ notes(c) }</td>
            </tr>
        }
    };
    html! {
        <div class="counts" aria-live="polite" data-test="counts">
            { match &work {
                Work::Asleep => html! { <button type="button" class="button is-small" data-test="counts-start" onclick={start}>{ "More or less hold: how many magnets?" }</button> },
                Work::Working(done, of) => html! { <progress class="work-bar" aria-label="How far the count is" max={of.to_string()} value={done.to_string()}></progress> },
                Work::Failed(said) => html! { <p class="is-bad-words">{ said.clone() }</p> },
                Work::Found(list) => html! {
                    <table class="figures">
                        <caption>{ "The fewest magnets if every joint had to bear so much; the plan\u{2019}s own target is marked." }</caption>
                        <thead><tr><th scope="col">{ "Bears" }</th><th scope="col" class="is-number">{ "Magnets" }</th><th scope="col">{ "Notes" }</th></tr></thead>
                        <tbody>{ for list.iter().map(row) }</tbody>
                    </table>
                },
            } }
        </div>
    }
}

fn notes(c: &CountAt) -> String {
    let unmet = match c.unmet {
        0 => String::new(),
        n => format!("{} cannot be met", format::count(n, "joint", "joints")),
    };
    let proven = if c.proven { "" } else { "not proven" };
    [unmet.as_str(), proven]
        .into_iter()
        .filter(|s| !s.is_empty())
        .collect::<Vec<_>>()
        .join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn targets_lie_around_the_plan_s_own() {
        assert_eq!(targets(3.0), [1.5, 2.5, 3.0, 4.5, 6.0]);
        assert_eq!(targets(1.0), [1.0, 1.5, 2.0]);
    }
}
