//! Below the grid, where it moves no cell from under a finger: what follows from it, in a line of links, so that every edit
//! shows what it does.

use lodewright_planner::kit::PartIx;
use yew::prelude::*;

use crate::components::{Live, Shape, icon};
use crate::format::{self, number};
use crate::pages::joints::names::times;
use crate::pages::magnets::cost;
use crate::routes::{Page, Route};
use crate::store::{Analysis, PlanKey, use_answers};

/// Props of [`AnswerStrip`].
#[derive(PartialEq, Properties)]
pub struct AnswerStripProps {
    /// The open plan's key.
    pub plan_key: PlanKey,
}

/// See the module. Nothing before the first joint.
#[component]
pub fn AnswerStrip(props: &AnswerStripProps) -> Html {
    let Some(analysis) = use_answers().good else {
        return Html::default();
    };
    if analysis.joints().values().is_empty() {
        return Html::default();
    }
    let items = items(&analysis);
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

fn items(d: &Analysis) -> Vec<Item> {
    let analysis = d;
    let item = |test, page, words, trouble| Item {
        test,
        page,
        words,
        trouble,
    };
    let magnets = analysis.magnets();
    let (poles, clash) = poles(analysis);
    let (weakest, weak) = weakest(analysis);
    let hands = format::duration(analysis.order().hands_min);
    vec![
        item("strip-glue", Page::Magnets, glue(analysis), false),
        item(
            "strip-magnets",
            Page::Magnets,
            format!(
                "{}, {}",
                format::count(magnets, "magnet", "magnets"),
                cost(d, analysis.buy().cost_cents)
            ),
            !analysis.nothing_fits().is_empty(),
        ),
        item("strip-poles", Page::Magnets, poles, clash),
        item("strip-weakest", Page::Joints, weakest, weak),
        item(
            "strip-work",
            Page::Bench,
            format!(
                "{}, {hands} of work",
                format::count(analysis.order().steps.len(), "step", "steps")
            ),
            false,
        ),
    ]
}

/// The glued pieces by the names of their parts, the longer ones cut short.
fn glue(analysis: &Analysis) -> String {
    let plan = analysis.plan();
    const NAMES: usize = 3;
    if analysis.glue().groups.is_empty() {
        return "Nothing may be glued for good".to_owned();
    }
    let names = |group: &Vec<PartIx>| {
        let parts = group.iter().map(|p| &plan.parts[*p]);
        let all: Vec<_> = parts.map(|p| p.name.as_str()).collect();
        match all.len() {
            n if n > NAMES => format!("{} and {} more", all[..NAMES].join(" + "), n - NAMES),
            _ => all.join(" + "),
        }
    };
    format!(
        "Glue: {}",
        analysis
            .glue()
            .groups
            .iter()
            .map(names)
            .collect::<Vec<_>>()
            .join("; ")
    )
}

fn poles(analysis: &Analysis) -> (String, bool) {
    match analysis.contradictions().len() {
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

/// The weakest joint; trouble where anything speaks against any joint.
fn weakest(analysis: &Analysis) -> (String, bool) {
    let target = number(analysis.plan().settings.hold_target_g);
    let trouble = analysis.in_trouble().count();
    let more = match trouble {
        0 => String::new(),
        n => format!("; {} in trouble", format::count(n, "joint", "joints")),
    };
    let words = match analysis.weakest_of_all() {
        None => "Nothing to hold".to_owned(),
        Some(w) => format!(
            "Weakest: {}, {} \u{d7} weight (target {target})",
            analysis.joints()[w.joint].words,
            times(w.margin_x_weight)
        ),
    };
    (format!("{words}{more}"), trouble > 0)
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    #[test]
    fn the_strip_tells_glue_magnets_poles_and_the_weakest_joint() {
        let grid = "\tWinter\tWorks\nNose\tPlough\tHook\nRoof\tRack\tRack\n";
        let plan = Plan::empty("t")
            .edited(&Edit::PasteGrid(grid.to_owned()))
            .unwrap();
        let d = Analysis::of(plan).unwrap();
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
