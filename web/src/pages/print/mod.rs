//! The bench sheet for paper: a preview on the screen, plain black on white in print.

mod card_drawing;
mod card_parts;
mod control_line;
pub mod deck_parts;
pub mod holds;
mod plan_parts;
mod quote_parts;
mod stock_parts;
mod swap_parts;
pub mod template_parts;
mod work_parts;

use gloo::utils::window;

use yew::prelude::*;

use super::PlanPageProps;
use super::bench::questions::open_questions;
use super::bench::{caution_list, said_error};
use crate::components::{Shape, icon};
use crate::routes::{Page, Route};
use crate::store::{Analysis, PlanKey, use_answers, use_store};
use control_line::control_line;

/// What can be printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// For the desk: everything that the work needs.
    Bench,
    /// To be cut out and laid on the faces.
    Templates,
    /// Every face with its sockets and holes.
    Decks,
    /// For the client.
    Quote,
    /// For the owner.
    Cards,
}

impl Paper {
    const ALL: [Self; 5] = [
        Self::Bench,
        Self::Decks,
        Self::Templates,
        Self::Quote,
        Self::Cards,
    ];

    /// Its word in the address and its name.
    fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Bench => ("", "Bench sheet"),
            Self::Templates => ("templates", "Drilling templates"),
            Self::Decks => ("decks", "Deck plans"),
            Self::Quote => ("quote", "Quote"),
            Self::Cards => ("cards", "Owner\u{2019}s cards"),
        }
    }

    fn says(self) -> &'static str {
        match self {
            Self::Bench => {
                "What the desk needs, on A4 or Letter. Print it at 100\u{a0}%, without fitting it to the page: then the control line at its end measures exactly 100\u{a0}mm."
            }
            Self::Templates => {
                "Every face with holes in its true size. Print at 100\u{a0}%, without fitting to the page, and check the control line before you cut."
            }
            Self::Decks => {
                "Each face that carries sockets, to scale, with all its holes measured from two edges."
            }
            Self::Quote => {
                "What the work and the pieces come to, with your rates from Setup and the terms below."
            }
            Self::Cards => {
                "For whoever gets the model: what sits where, how to change it, what to be careful with."
            }
        }
    }
}

/// See the module.
#[component]
pub fn PrintPage(props: &PlanPageProps) -> Html {
    let answered = use_answers();
    let store = use_store();
    let paper = Paper::ALL
        .into_iter()
        .find(|p| p.words().0 == props.rest.as_str())
        .unwrap_or(Paper::Bench);
    let onclick = Callback::from(|_: MouseEvent| {
        // A browser without printing shows nothing; there is nothing else to do about it here.
        let _ = window().print();
    });
    let link = |p: Paper| {
        let (word, name) = p.words();
        let href = Route::at(Page::Print, &props.open.key, word).href();
        let mark = if word.is_empty() { "bench" } else { word };
        html! { <a key={name} class={classes!("button", (p == paper).then_some("is-picked"))} aria-current={(p == paper).then_some("page")} data-test={format!("paper-{mark}")} {href}>{ name }</a> }
    };
    html! {
        <div class="print-page" data-test="page-print">
            <div class="print-bar">
                <div class="page-head"><h1>{ Page::Print.title() }</h1></div>
                { said_error(&answered) }
                <nav class="print-papers" aria-label="Papers">{ for Paper::ALL.into_iter().map(link) }</nav>
                <p>{ paper.says() }</p>
                if paper == Paper::Quote {
                    { quote_parts::terms(&store, &props.open.plan) }
                }
                <p><button type="button" class="button is-main" data-test="print" {onclick}>{ icon(Shape::Page(Page::Print)) }{ "Print" }</button></p>
                if props.open.plan.variants.is_empty() {
                    { empty(&props.open.key) }
                }
            </div>
            if let Some(analysis) = answered.good {
                { sheet(&yew::props!(SheetProps { analysis, paper, done: props.open.plan.progress.done.clone() })) }
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

/// Props of [`sheet`].
#[derive(PartialEq, Properties)]
pub struct SheetProps {
    /// The analysis.
    pub analysis: Analysis,
    /// Which one.
    pub paper: Paper,
    /// Keys of the steps that are done.
    pub done: Vec<String>,
}

/// The sheet itself.
pub fn sheet(props: &SheetProps) -> Html {
    let analysis = &props.analysis;
    let content = match props.paper {
        Paper::Bench => bench_sheet(analysis, &props.done),
        Paper::Templates => {
            html! { <>{ control_line() }{ template_parts::sheet(analysis) }</> }
        }
        Paper::Decks => deck_parts::sheet(analysis),
        Paper::Quote => quote_parts::sheet(analysis),
        Paper::Cards => card_parts::sheet(analysis),
    };
    let label = props.paper.words().1;
    html! {
        <article class="sheet" data-test="sheet" aria-label={label} tabindex="0">{ content }</article>
    }
}

fn bench_sheet(analysis: &Analysis, done: &[String]) -> Html {
    let plan = analysis.plan();
    let open = open_questions(analysis);
    html! {
        <>
            { plan_parts::head(plan) }
            if !open.is_empty() {
                <p class="sheet-open"><strong>{ "Settle before gluing: " }</strong>{ open.join(" ") }</p>
            }
            { plan_parts::grid(plan) }
            { plan_parts::glue(analysis) }
            { holds::table(analysis) }
            { stock_parts::poles(analysis) }
            { stock_parts::buying(analysis) }
            { work_parts::drilling(analysis) }
            { work_parts::order(analysis, done) }
            { swap_parts::table(analysis) }
            <section>
                <h2>{ "Cautions" }</h2>
                { caution_list(&analysis.cautions()) }
            </section>
            { control_line() }
        </>
    }
}
