//! The bench sheet for paper: a preview on the screen, plain black on white in print.

mod control_line;
pub mod holds;
mod plan_parts;
mod stock_parts;
mod swap_parts;
mod work_parts;

use gloo::utils::window;
use lodewright_planner::cautions;
use yew::prelude::*;

use super::PlanPageProps;
use super::bench::questions::open_questions;
use super::bench::{caution_list, said_error};
use crate::components::{Icon, Shape};
use crate::routes::{Page, Route};
use crate::store::{Derived, PlanKey, use_answers};
use control_line::ControlLine;

/// See the module.
#[component]
pub fn PrintPage(props: &PlanPageProps) -> Html {
    let answered = use_answers();
    let onclick = Callback::from(|_: MouseEvent| {
        // A browser without printing shows nothing; there is nothing else to do about it here.
        let _ = window().print();
    });
    html! {
        <div class="print-page" data-test="page-print">
            <div class="print-bar">
                <div class="page-head"><h1>{ Page::Print.title() }</h1></div>
                { said_error(&answered) }
                <p>{ "The sheet for the bench, on A4 or Letter. Print it at 100\u{a0}%, without fitting it to the page: then the control line at its end measures exactly 100\u{a0}mm." }</p>
                <p><button type="button" class="button is-main" data-test="print" {onclick}><Icon shape={Shape::Page(Page::Print)} />{ "Print" }</button></p>
                if props.open.plan.variants.is_empty() {
                    { empty(&props.open.key) }
                }
            </div>
            if let Some(derived) = answered.good {
                <Sheet {derived} done={props.open.plan.progress.done.clone()} />
            }
        </div>
    }
}

fn empty(key: &PlanKey) -> Html {
    html! {
        <div class="empty">
            <p>{ "The sheet is nearly blank: it fills itself as soon as the grid says which part sits where in which variant." }</p>
            <p><a class="button" href={Route::of(Page::Grid, key).href()}>{ "Fill the grid" }</a></p>
        </div>
    }
}

/// Props of [`Sheet`].
#[derive(PartialEq, Properties)]
pub struct SheetProps {
    /// The answers.
    pub derived: Derived,
    /// Keys of the steps that are done.
    pub done: Vec<String>,
}

/// The sheet itself.
#[component]
pub fn Sheet(props: &SheetProps) -> Html {
    let Derived { plan, answers } = &props.derived;
    let open = open_questions(answers);
    html! {
        <article class="sheet" data-test="sheet" aria-label="Bench sheet" tabindex="0">
            { plan_parts::head(plan) }
            if !open.is_empty() {
                <p class="sheet-open"><strong>{ "Settle before gluing: " }</strong>{ open.join(" ") }</p>
            }
            { plan_parts::grid(plan) }
            { plan_parts::glue(plan, answers) }
            { holds::table(plan, answers) }
            { stock_parts::poles(plan, answers) }
            { stock_parts::buying(plan, answers) }
            { work_parts::drilling(plan, answers) }
            { work_parts::order(plan, answers, &props.done) }
            { swap_parts::table(plan) }
            <section>
                <h2>{ "Cautions" }</h2>
                { caution_list(&cautions(plan, answers)) }
            </section>
            <ControlLine />
        </article>
    }
}
