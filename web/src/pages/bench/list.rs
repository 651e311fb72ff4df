//! All steps with ticks, cut where the bit or the kind of step changes; runs that were done before are folded.

use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::desk_prefs::mark;
use super::marks::{NoReturnProps, no_return};
use super::view::{RowWords, Run};
use crate::store::use_store;

/// Props of [`StepList`].
#[derive(PartialEq, Properties)]
pub struct StepListProps {
    /// By step.
    pub rows: Vec<RowWords>,
    /// Where they are cut.
    pub runs: Vec<Run>,
    /// By step: whether it is done.
    pub done: Vec<bool>,
    /// The next one.
    pub next: Option<usize>,
}

/// See the module.
#[component]
pub fn StepList(props: &StepListProps) -> Html {
    let is_done = |i: usize| props.done.get(i).copied().unwrap_or(false);
    let run = |run: &Run| {
        let steps = run.first..run.first + run.count;
        let done = steps.clone().filter(|i| is_done(*i)).count();
        let rows = steps.filter_map(|i| {
            let words = props.rows.get(i)?.clone();
            let key = words.key.to_string();
            Some(html! { <StepRow {key} {words} number={i + 1} done={is_done(i)} next={props.next == Some(i)} /> })
        });
        // The first step names the run: its place may move when the plan changes.
        let key = props
            .rows
            .get(run.first)
            .map(|r| r.key.to_string())
            .unwrap_or_default();
        html! {
            <StepRun {key} title={&run.title} size={&run.size} no_return={run.no_return} {done} count={run.count}>{ for rows }</StepRun>
        }
    };
    html! {
        <section aria-labelledby="step-list-title">
            <h2 id="step-list-title">{ "All steps" }</h2>
            <div class="step-runs">{ for props.runs.iter().map(run) }</div>
        </section>
    }
}

#[derive(PartialEq, Properties)]
struct StepRunProps {
    title: AttrValue,
    size: AttrValue,
    no_return: bool,
    done: usize,
    count: usize,
    children: Html,
}

/// One run. It folds away only when the page opens with it done: a list that moves under the finger gets wrong ticks.
#[component]
fn StepRun(props: &StepRunProps) -> Html {
    let open = use_memo((), |()| props.done < props.count);
    let state = match props.done {
        0 => String::new(),
        n if n == props.count => "all done".to_owned(),
        n => format!("{n} done"),
    };
    html! {
        <details class={classes!("step-run", (props.done == props.count).then_some("is-done"))} open={*open}>
            <summary>
                <span class="step-run-title">{ &props.title }</span>
                <span class="step-run-size">{ &props.size }</span>
                if props.no_return {
                    { no_return(&yew::props!(NoReturnProps {})) }
                }
                <span class="step-run-state">{ state }</span>
            </summary>
            <ol class="step-rows">{ props.children.clone() }</ol>
        </details>
    }
}

#[derive(PartialEq, Properties)]
struct StepRowProps {
    words: RowWords,
    number: usize,
    done: bool,
    next: bool,
}

#[component]
fn StepRow(props: &StepRowProps) -> Html {
    let store = use_store();
    let words = &props.words;
    let onchange = {
        let key = words.key.to_string();
        Callback::from(move |e: Event| {
            if let Some(input) = e.target_dyn_into::<HtmlInputElement>() {
                store.edit(mark(key.clone(), input.checked(), None));
            }
        })
    };
    let class = classes!(
        "step-row",
        props.done.then_some("is-done"),
        props.next.then_some("is-next")
    );
    html! {
        <li {class} data-test="step-row" data-step={&words.key} aria-current={props.next.then_some("step")}>
            <label class="step-label">
                <input type="checkbox" class="step-tick" checked={props.done} {onchange} />
                <span class="step-number" aria-hidden="true">{ props.number }</span>
                <span class="step-words">
                    <span class="step-title">{ &words.short }</span>
                    <span class="step-times">
                        <span>{ &words.hands }</span>
                        if !words.wait.is_empty() {
                            <span>{ "then leave it " }{ &words.wait }</span>
                        }
                    </span>
                </span>
            </label>
        </li>
    }
}
