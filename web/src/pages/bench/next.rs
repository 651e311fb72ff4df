//! The next step, large: what, where, with what, how deep, which pole, how long, what must have cured; and a button for
//! the thumb.

use lodewright_planner::bench::{DrillFrom, Task, WorkStep};
use lodewright_planner::{
    Caution, HoleWords, StepWords, filling_words, from_words, inch_words, list_mm, minutes, mm,
    place_words,
};
use yew::prelude::*;

use super::curing::now;
use super::desk_prefs::{DeskPrefs, mark};
use super::hole_drawing::{HoleDrawingProps, hole_drawing};
use super::marks::{NoReturnProps, PolesOfHoleProps, no_return, poles_of_hole};
use super::progress::{Progress, cured_before};
use super::questions::open_questions;
use crate::routes::{Page, Route};
use crate::shared::Shared;
use crate::store::{Analysis, PlanKey, Store, use_store};

/// Props of [`NextStep`].
#[derive(PartialEq, Properties)]
pub struct NextStepProps {
    /// The analysis.
    pub analysis: Analysis,
    /// How far the work is.
    pub now: Progress,
    /// The cautions of the whole work.
    pub cautions: Shared<Vec<Caution>>,
    /// The plan's key.
    pub open: PlanKey,
    /// How this device stands on the desk.
    pub prefs: DeskPrefs,
    /// Changes that.
    pub set_prefs: Callback<DeskPrefs>,
}

/// See the module.
#[component]
pub fn NextStep(props: &NextStepProps) -> Html {
    let store = use_store();
    let order = props.analysis.order();
    let next = props
        .now
        .next
        .and_then(|n| Some((order.steps.get(n)?, props.analysis.step_words(n)?)));
    let place = props.now.next.map_or(order.steps.len(), |n| n + 1);
    html! {
        <section class="card next-step" data-test="next-step" aria-labelledby="next-step-title">
            <p class="next-count">
                { match &next {
                    Some(_) => format!("Next: step {place} of {}", order.steps.len()),
                    None => format!("{} of {} steps", order.steps.len(), order.steps.len()),
                } }
            </p>
            if let Some((step, words)) = next.clone() {
                { body(props, step, words) }
            } else {
                <h2 id="next-step-title" class="next-title">{ "All done." }</h2>
                <p>{ "Every step is ticked. The swap page says how to change from one variant to another." }</p>
            }
            <div class="next-buttons">
                { done_button(props, &store, next.map(|(step, _)| step)) }
                { undo_button(&store, &props.analysis, &props.now) }
                { clock_button(props) }
            </div>
        </section>
    }
}

fn done_button(props: &NextStepProps, store: &Store, next: Option<&WorkStep>) -> Html {
    let (prefs, set_prefs) = (props.prefs, props.set_prefs.clone());
    let store = store.clone();
    let key = next.map(|s| s.key.clone());
    let disabled = key.is_none();
    let onclick = Callback::from(move |_: MouseEvent| {
        if let Some(step) = key.clone() {
            store.edit(mark(step, true, prefs.clock_since_ms));
            // The next step begins where this one ends.
            if prefs.clock_since_ms.is_some() {
                set_prefs.emit(DeskPrefs {
                    clock_since_ms: Some(now()),
                    ..prefs
                });
            }
        }
    });
    html! { <button type="button" class="button is-main next-done" data-test="step-done" {disabled} {onclick}>{ "Done" }</button> }
}

fn undo_button(store: &Store, analysis: &Analysis, now: &Progress) -> Html {
    let last = now.last.and_then(|n| analysis.order().steps.get(n));
    let label = match now.last.and_then(|n| analysis.step_words(n)) {
        Some(words) => format!("Undo: {}", words.title),
        None => "Nothing to undo: no step is ticked".to_owned(),
    };
    let (store, key) = (store.clone(), last.map(|s| s.key.clone()));
    let disabled = key.is_none();
    let onclick = Callback::from(move |_: MouseEvent| {
        if let Some(step) = key.clone() {
            store.edit(mark(step, false, None));
        }
    });
    html! {
        <button type="button" class="button next-undo" data-test="step-undo" aria-label={label.clone()} title={label} {disabled} {onclick}>{ "Undo" }</button>
    }
}

/// The clock of the steps: while it runs, every step that is ticked here says how long it took.
fn clock_button(props: &NextStepProps) -> Html {
    let (prefs, set) = (props.prefs, props.set_prefs.clone());
    let runs = prefs.clock_since_ms.is_some();
    let onclick = Callback::from(move |_: MouseEvent| {
        set.emit(DeskPrefs {
            clock_since_ms: (!runs).then(now),
            ..prefs
        });
    });
    html! {
        <button type="button" class="button next-clock" data-test="step-clock" aria-pressed={runs.to_string()} {onclick}>{ if runs { "Timing" } else { "Time it" } }</button>
    }
}

fn body(props: &NextStepProps, step: &WorkStep, words: StepWords) -> Html {
    let analysis = &props.analysis;
    let StepWords { title, detail, .. } = words;
    let hole = step.task.hole().map(|h| analysis.hole_words(h));
    let gluing = matches!(step.task, Task::PoleCheck(_) | Task::GluePiece(_));
    html! {
        <>
            <h2 id="next-step-title" class="next-title">{ title }</h2>
            if step.no_return {
                <p class="next-no-return">{ no_return(&yew::props!(NoReturnProps { words: "Point of no return: this cannot be undone" })) }</p>
            }
            <div class="next-show">
                if let Some(hole) = hole.clone().filter(|_| gluing) {
                    { poles_of_hole(&yew::props!(PolesOfHoleProps { hole, large: true })) }
                }
                if let Task::Drill(hole) = step.task {
                    { hole_drawing(&yew::props!(HoleDrawingProps { analysis: props.analysis.clone(), hole })) }
                }
                <dl class="facts">{ for facts(props, step, hole.as_ref()).into_iter().map(fact) }</dl>
            </div>
            if !detail.is_empty() {
                <p class="next-detail">{ detail }</p>
            }
            { warnings(props, step) }
        </>
    }
}

fn fact((what, value): (&'static str, String)) -> Html {
    html! { <div key={what} class="fact"><dt>{ what }</dt><dd>{ value }</dd></div> }
}

/// What to have at hand and to keep to.
fn facts(
    props: &NextStepProps,
    step: &WorkStep,
    hole: Option<&HoleWords>,
) -> Vec<(&'static str, String)> {
    let analysis = &props.analysis;
    let mut list: Vec<(&'static str, String)> = Vec::new();
    let drilled = match step.task {
        Task::Drill(hole) => analysis.drill_of(hole),
        _ => None,
    };
    if let Some(line) = drilled {
        let missing = if line.bit_in_hand {
            ""
        } else {
            " (not at the desk)"
        };
        list.push((
            "Bit",
            format!(
                "{} mm{}{missing}",
                mm(line.bit_mm),
                inch_words(analysis.plan(), line.bit_mm)
            ),
        ));
        if !line.pilots_mm.is_empty() {
            list.push(("Pilots", format!("{} mm", list_mm(&line.pilots_mm))));
        }
        if line.from != DrillFrom::Through {
            list.push(("Depth", format!("{} mm", mm(line.depth_mm))));
        }
        list.push(("From", from_words(line.from).to_owned()));
        if line.wall_left_mm > 0.0 {
            list.push(("Wall left", format!("{} mm", mm(line.wall_left_mm))));
        }
        if let Some(face) = hole.and_then(|h| h.faces.first()) {
            list.push((
                "Place",
                format!(
                    "{}; within {} mm, leaning at most {:.1}\u{b0}",
                    place_words(face.on_part),
                    mm(line.place_within_mm),
                    line.lean_within_deg
                ),
            ));
        }
    } else if let Some(hole) = step.task.hole() {
        let filling = analysis.fillings()[hole];
        list.push(("Piece", filling_words(analysis.plan(), filling)));
    }
    list.push(("Takes", minutes(step.hands_min)));
    if step.wait_min > 0.0 {
        list.push(("Then leave it", minutes(step.wait_min)));
    }
    let cured = cured_before(analysis.order(), step);
    if !cured.is_empty() {
        list.push(("Must be cured", cured.join(", ")));
    }
    list
}

/// What is open in the plan, before a point of no return; and the cautions of this kind of step.
fn warnings(props: &NextStepProps, step: &WorkStep) -> Html {
    let open = if step.no_return {
        open_questions(&props.analysis)
    } else {
        Vec::new()
    };
    let here = props
        .cautions
        .iter()
        .filter(|c| c.before.contains(&step.kind()));
    html! {
        <>
            if !open.is_empty() {
                <div class="next-open" role="note">
                    <p><strong>{ "Before you go on: " }</strong>{ open.join(" ") }</p>
                    <p>
                        <a href={Route::of(Page::Joints, &props.open).href()}>{ "See the joints" }</a>
                        { " " }
                        <a href={Route::of(Page::Magnets, &props.open).href()}>{ "See the magnets" }</a>
                    </p>
                </div>
            }
            <ul class="next-cautions" aria-label="Cautions for this step">
                { for here.map(|c| html! { <li key={c.about}><strong>{ c.about }{ ": " }</strong>{ &c.said }</li> }) }
            </ul>
        </>
    }
}
