//! Below the grid, where it moves no cell from under a finger: what follows from it, in a line of links, so that every edit
//! shows what it does.

use lodewright_planner::Answers;
use lodewright_planner::joints::Filling;
use lodewright_planner::kit::Plan;
use yew::prelude::*;

use crate::components::{Live, Shape, icon};
use crate::format::{self, number};
use crate::pages::joints::names::times;
use crate::pages::magnets::cost;
use crate::routes::{Page, Route};
use crate::store::{Derived, PlanKey, use_answers};

/// Props of [`AnswerStrip`].
#[derive(PartialEq, Properties)]
pub struct AnswerStripProps {
    /// The open plan's key.
    pub plan_key: PlanKey,
}

/// See the module. Nothing before the first joint.
#[component]
pub fn AnswerStrip(props: &AnswerStripProps) -> Html {
    let Some(derived) = use_answers().good else {
        return Html::default();
    };
    if derived.answers.joints.is_empty() {
        return Html::default();
    }
    let items = items(&derived);
    let spoken = items
        .iter()
        .map(|i| i.words.as_str())
        .collect::<Vec<_>>()
        .join("; ");
    html! {
        <nav class="answer-strip" aria-label="What follows from the grid" data-test="answer-strip">
            <Live text={spoken} />
            { for items.into_iter().map(|item| html! {
                <a key={item.test} class={classes!("answer", item.trouble.then_some("is-trouble"))} data-test={item.test}
                    href={Route::of(item.page, &props.plan_key).href()}>
                    { icon(Shape::Page(item.page)) }<span>{ item.words }</span>
                </a>
            }) }
        </nav>
    }
}

#[derive(Debug, PartialEq)]
struct Item {
    test: &'static str,
    page: Page,
    words: String,
    trouble: bool,
}

fn items(d: &Derived) -> Vec<Item> {
    let Derived { plan, answers } = d;
    let item = |test, page, words, trouble| Item {
        test,
        page,
        words,
        trouble,
    };
    let magnets = answers
        .fillings
        .iter()
        .filter(|f| matches!(f, Filling::Magnet(_)))
        .count();
    let (poles, clash) = poles(answers);
    let (weakest, weak) = weakest(plan, answers);
    let hands = format::duration(answers.order.hands_min);
    vec![
        item("strip-glue", Page::Magnets, glue(plan, answers), false),
        item(
            "strip-magnets",
            Page::Magnets,
            format!(
                "{}, {}",
                format::count(magnets, "magnet", "magnets"),
                cost(d, answers.buy.cost_cents)
            ),
            !answers.nothing_fits.is_empty(),
        ),
        item("strip-poles", Page::Magnets, poles, clash),
        item("strip-weakest", Page::Joints, weakest, weak),
        item(
            "strip-work",
            Page::Bench,
            format!(
                "{}, {hands} of work",
                format::count(answers.order.steps.len(), "step", "steps")
            ),
            false,
        ),
    ]
}

/// The glued pieces by the names of their parts, the longer ones cut short.
fn glue(plan: &Plan, answers: &Answers) -> String {
    const NAMES: usize = 3;
    if answers.groups.is_empty() {
        return "Nothing may be glued for good".to_owned();
    }
    let names = |group: &Vec<usize>| {
        let all: Vec<_> = group
            .iter()
            .filter_map(|p| plan.parts.get(*p))
            .map(|p| p.name.as_str())
            .collect();
        match all.len() {
            n if n > NAMES => format!("{} and {} more", all[..NAMES].join(" + "), n - NAMES),
            _ => all.join(" + "),
        }
    };
    format!(
        "Glue: {}",
        answers
            .groups
            .iter()
            .map(names)
            .collect::<Vec<_>>()
            .join("; ")
    )
}

fn poles(answers: &Answers) -> (String, bool) {
    match answers.contradictions.len() {
        0 => ("Poles agree".to_owned(), false),
        n => (
            format!(
                "{} in the poles",
                format::count(n, "contradiction", "contradictions")
            ),
            true,
        ),
    }
}

fn weakest(plan: &Plan, answers: &Answers) -> (String, bool) {
    let least = answers
        .weakest
        .iter()
        .flatten()
        .min_by(|a, b| a.margin_g.total_cmp(&b.margin_g));
    match least {
        None => ("Nothing to hold".to_owned(), false),
        Some(w) => {
            let words = answers.joints.get(w.joint).map_or("", |j| j.words.as_str());
            (
                format!(
                    "Weakest: {words}, {} \u{d7} weight (target {})",
                    times(w.margin_g),
                    number(plan.settings.hold_target_g)
                ),
                w.margin_g < plan.settings.hold_target_g,
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::derive;
    use lodewright_planner::kit::Edit;

    use super::*;
    use crate::shared::Shared;

    #[test]
    fn the_strip_tells_glue_magnets_poles_and_the_weakest_joint() {
        let grid = "\tWinter\tWorks\nNose\tPlough\tHook\nRoof\tRack\tRack\n";
        let plan = Plan::empty("t")
            .edited(&Edit::PasteGrid(grid.to_owned()))
            .unwrap();
        let answers = derive(&plan).unwrap();
        let d = Derived {
            plan: Shared::new(plan),
            answers: Shared::new(answers),
        };
        let words: Vec<_> = items(&d).into_iter().map(|i| i.words).collect();
        assert_eq!(words[0], "Glue: Base + Rack");
        assert!(words[1].starts_with("3\u{a0}magnets, "), "{words:?}");
        assert_eq!(words[2], "Poles agree");
        assert!(
            words[3].starts_with("Weakest: ") && words[3].contains("in Nose"),
            "{words:?}"
        );
    }
}
