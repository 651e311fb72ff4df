//! The work at the bench: the next step large, all steps below, holes by bit, times and cautions.

mod curing;
pub mod desk_prefs;
mod drill_table;
pub mod drills;
mod hole_drawing;
mod list;
pub mod marks;
mod next;
mod own_order;
pub mod progress;
pub mod questions;
mod totals;
pub mod view;
mod wake_lock;

use lodewright_planner::{Caution, FIRST_OF_ALL};
use yew::prelude::*;

use super::PlanPageProps;
use crate::components::{Disclosure, Live, Toggle};
use crate::routes::{Page, Route};
use crate::store::{Analysis, Answered, Outcome, PlanKey, Store, use_answers, use_store};
use crate::table_file::save_table;
use curing::Curing;
use desk_prefs::{DeskPrefs, use_desk_prefs};
use drill_table::{DrillTableProps, drill_table};
use list::StepList;
use next::NextStep;
use own_order::OwnOrder;
use progress::{Progress, progress};
use totals::{TotalsProps, totals};
use view::BenchView;
use wake_lock::{can_stay_awake, use_wake_lock};

/// See the module.
#[component]
pub fn BenchPage(props: &PlanPageProps) -> Html {
    let answered = use_answers();
    // Ticks leave the answers as they are: words are made, and tables drawn, once for each answer.
    let answers = answered.good.clone();
    let ready = use_memo(answers, |_| {
        answered
            .good
            .as_ref()
            .map(|d| (d.clone(), BenchView::of(d)))
    });
    let ready = ready.as_ref().as_ref();
    let store = use_store();
    let (prefs, set_prefs) = use_desk_prefs();
    use_wake_lock(prefs.stay_awake);
    html! {
        <div class={classes!("bench", prefs.left_handed.then_some("is-left"))} data-test="page-bench">
            <div class="page-head"><h1>{ Page::Bench.title() }</h1></div>
            { said_error(&answered) }
            if let Some((analysis, view)) = ready.filter(|(d, _)| !d.order().steps.is_empty()) {
                { work(props, &store, analysis, view, prefs, &set_prefs) }
            } else {
                { nothing_to_do(&props.open.key) }
            }
        </div>
    }
}

/// Why there are no answers to the plan as it is now, where that is so.
pub fn said_error(answered: &Answered) -> Html {
    let Some(error) = &answered.error else {
        return Html::default();
    };
    let old = answered
        .good
        .as_ref()
        .map(|_| " What stands below belongs to the plan before that change.");
    html! { <p class="bench-error" role="alert">{ error }{ old }</p> }
}

fn nothing_to_do(key: &PlanKey) -> Html {
    html! {
        <div class="empty" data-test="bench-empty">
            <p>{ "No work yet. As soon as the grid says which part sits where in which variant, the steps stand here in the order that gets done soonest: drilling by bit, a dry fit of every variant before anything is glued, then poles, glue and paint." }</p>
            <p><a class="button is-main" href={Route::of(Page::Grid, key).href()}>{ "Fill the grid" }</a></p>
        </div>
    }
}

fn work(
    props: &PlanPageProps,
    store: &Store,
    analysis: &Analysis,
    view: &BenchView,
    prefs: DeskPrefs,
    set_prefs: &Callback<DeskPrefs>,
) -> Html {
    let plan = &props.open.plan;
    let order = &analysis.order();
    let now: Progress = progress(
        order,
        &view.bits_mm,
        &plan.progress.done,
        plan.rates.bit_change_min,
    );
    let spoken = match now.next.and_then(|n| view.rows.get(n)) {
        Some(row) => format!("Next: {}", row.title),
        None => "All steps are done.".to_owned(),
    };
    html! {
        <>
            <Live text={spoken} />
            <div class="bench-desk">
                <div class="bench-now">
                    <NextStep analysis={analysis.clone()} now={now.clone()} cautions={view.cautions.clone()} open={props.open.key.clone()} {prefs} set_prefs={set_prefs.clone()} />
                    <Curing analysis={analysis.clone()} marks={plan.progress.marks.clone()} next={now.next} />
                    { totals(&yew::props!(TotalsProps { analysis: analysis.clone(), now: now.clone() })) }
                    { desk(prefs, set_prefs) }
                </div>
                <div class="bench-rest">
                    <StepList rows={view.rows.clone()} runs={view.runs.clone()} done={now.done.clone()} next={now.next} />
                    <OwnOrder plan={plan.clone()} rows={view.rows.clone()} broken_pins={order.broken_pins.clone()} />
                    { table_button(store, analysis) }
                </div>
            </div>
            <section aria-labelledby="drill-list-title">
                <h2 id="drill-list-title">{ "Holes by bit" }</h2>
                { drill_table(&yew::props!(DrillTableProps { analysis: analysis.clone() })) }
            </section>
            <Disclosure id="bench-cautions" title="Cautions" summary="drills, dust, magnets, glue, UV resin, paint" open={true}>
                { caution_list(&view.cautions) }
            </Disclosure>
        </>
    }
}

/// Which hand, and whether the screen stays on.
fn desk(prefs: DeskPrefs, set: &Callback<DeskPrefs>) -> Html {
    let change = |make: fn(DeskPrefs, bool) -> DeskPrefs| {
        let set = set.clone();
        Callback::from(move |on: bool| -> Outcome {
            set.emit(make(prefs, on));
            Ok(())
        })
    };
    html! {
        <section class="bench-desk-prefs" aria-label="This device">
            <Toggle id="desk-left" label="I work with the left hand" value={prefs.left_handed} on_commit={change(|p, left_handed| DeskPrefs { left_handed, ..p })} />
            if can_stay_awake() {
                <Toggle id="desk-awake" label="Keep the screen on" value={prefs.stay_awake} on_commit={change(|p, stay_awake| DeskPrefs { stay_awake, ..p })} />
            }
        </section>
    }
}

fn table_button(store: &Store, analysis: &Analysis) -> Html {
    let (store, analysis) = (store.clone(), analysis.clone());
    let onclick = Callback::from(move |_: MouseEvent| {
        save_table(&store, &analysis.plan().title, "work", &analysis.work_csv());
    });
    html! { <p><button type="button" class="button" data-test="work-csv" {onclick}>{ "Save the steps as a table (CSV)" }</button></p> }
}

/// Cautions with the sentence that stands above them.
pub fn caution_list(list: &[Caution]) -> Html {
    html! {
        <>
            <p class="caution-first">{ FIRST_OF_ALL }</p>
            <dl class="cautions">
                { for list.iter().map(|c| html! { <div key={c.about}><dt>{ c.about }</dt><dd>{ &c.said }</dd></div> }) }
            </dl>
        </>
    }
}
