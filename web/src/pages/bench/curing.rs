//! What cures and dries at this moment, and from when on the next step may begin.

use gloo::timers::callback::Interval;
use lodewright_planner::bench::{WorkOrder, WorkStep};
use lodewright_planner::kit::Mark;
use lodewright_planner::minutes;
use tiny_sort::stable::sort_by;
use yew::prelude::*;

use crate::clock::time_of_day;
use crate::format;
use crate::store::Analysis;

/// Rows shown; the rest is counted.
const MOST: usize = 5;
/// How often the times are shown anew, ms.
const EVERY_MS: u32 = 15_000;

/// A wait that is not over.
#[derive(Clone, Debug, PartialEq)]
pub struct Wait {
    /// Index of the step.
    pub step: usize,
    /// When it is over, ms since 1970.
    pub over_ms: f64,
}

/// Waits that are not over, the soonest first.
pub fn waits(order: &WorkOrder, marks: &[Mark], now_ms: f64) -> Vec<Wait> {
    let of = |(n, step): (usize, &WorkStep)| Some((n, over_ms(step, marks)?));
    let mut list: Vec<Wait> = order
        .steps
        .iter()
        .enumerate()
        .filter_map(of)
        .filter(|(_, over_ms)| *over_ms > now_ms)
        .map(|(step, over_ms)| Wait { step, over_ms })
        .collect();
    sort_by(&mut list, |a, b| {
        a.over_ms.total_cmp(&b.over_ms).then(a.step.cmp(&b.step))
    });
    list
}

fn over_ms(step: &WorkStep, marks: &[Mark]) -> Option<f64> {
    if step.wait_min <= 0.0 {
        return None;
    }
    let mark = marks.iter().find(|m| m.step == step.key)?;
    Some(mark.at_s? as f64 * 1000.0 + step.wait_min * 60_000.0)
}

/// When everything is over that must be cured before a step, ms since 1970; none where nothing is under way.
pub fn free_ms(order: &WorkOrder, step: &WorkStep, marks: &[Mark], now_ms: f64) -> Option<f64> {
    step.after
        .iter()
        .filter(|(_, cured)| *cured)
        .filter_map(|(before, _)| over_ms(order.steps.get(*before)?, marks))
        .filter(|over_ms| *over_ms > now_ms)
        .reduce(f64::max)
}

/// `in 3 h 20 min, at 14:05`.
fn when(over_ms: f64, now_ms: f64) -> String {
    let left_min = ((over_ms - now_ms) / 60_000.0).ceil();
    format!("in {}, at {}", minutes(left_min), time_of_day(over_ms))
}

/// Props of [`Curing`].
#[derive(PartialEq, Properties)]
pub struct CuringProps {
    /// The analysis.
    pub analysis: Analysis,
    /// What the clock said of the steps that are done.
    pub marks: Vec<Mark>,
    /// The next step.
    pub next: Option<usize>,
}

/// See the module.
#[component]
pub fn Curing(props: &CuringProps) -> Html {
    let now_ms = use_state(now);
    {
        let now_ms = now_ms.setter();
        use_effect_with(props.marks.clone(), move |_| {
            now_ms.set(now());
            let tick = Interval::new(EVERY_MS, move || now_ms.set(now()));
            || drop(tick)
        });
    }
    let analysis = &props.analysis;
    let list = waits(analysis.order(), &props.marks, *now_ms);
    if list.is_empty() {
        return Html::default();
    }
    let next = props.next.and_then(|n| analysis.order().steps.get(n));
    let free = next.and_then(|step| free_ms(analysis.order(), step, &props.marks, *now_ms));
    let row = |w: &Wait| {
        let words = analysis.step_words(w.step)?;
        Some(html! {
            <li key={w.step}><span>{ words.short }</span>{ " " }<strong>{ when(w.over_ms, *now_ms) }</strong></li>
        })
    };
    html! {
        <section class="curing" aria-labelledby="curing-title" data-test="curing">
            <h2 id="curing-title">{ "Curing and drying" }</h2>
            if let Some(free) = free {
                <p class="curing-wait" role="note"><strong>{ "The next step waits: " }</strong>{ format!("it may begin {}. Other steps below may be done meanwhile.", when(free, *now_ms)) }</p>
            }
            <ul class="curing-list">{ for list.iter().take(MOST).filter_map(row) }</ul>
            if list.len() > MOST {
                <p class="quiet">{ format!("And {} more, the last {}.", format::count(list.len() - MOST, "piece", "pieces"),
                    list.last().map(|w| when(w.over_ms, *now_ms)).unwrap_or_default()) }</p>
            }
        </section>
    }
}

/// The time, ms since 1970; nought in a native test.
pub fn now() -> f64 {
    if cfg!(target_arch = "wasm32") {
        js_sys::Date::now()
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    #[test]
    fn what_was_glued_an_hour_ago_cures_and_holds_its_mate_back() {
        let grid = "\tWinter\tSummer\nNose\tPlough\tHook".to_owned();
        let plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        let analysis = Analysis::of(plan).unwrap();
        let order = analysis.order();
        let glued = order
            .steps
            .iter()
            .find(|s| s.wait_min == 24.0 * 60.0)
            .unwrap();
        let marks = [Mark {
            step: glued.key.clone(),
            at_s: Some(1_000),
            took_min: None,
        }];
        let hour_later = 1_000_000.0 + 3.6e6;
        let list = waits(order, &marks, hour_later);
        assert_eq!(list.len(), 1);
        assert_eq!(list[0].over_ms - hour_later, 23.0 * 3.6e6);
        let last = order.steps.last().unwrap();
        assert_eq!(
            free_ms(order, last, &marks, hour_later),
            Some(list[0].over_ms)
        );
        assert!(waits(order, &marks, 1e6 + 25.0 * 3.6e6).is_empty());
    }
}
