//! Below the answers: how many sockets have no place yet, and parts that do not go together where they are.

use lodewright_planner::Analysis;
use yew::prelude::*;

use crate::format;
use crate::routes::{Page, Route};
use crate::store::{PlanKey, use_answers};

/// Sentences shown at once.
const SHOWN: usize = 4;

/// Props of [`BodyNotes`].
#[derive(PartialEq, Properties)]
pub struct BodyNotesProps {
    /// The open plan's key.
    pub plan_key: PlanKey,
    /// Whether sockets without a place are told; where they are just being placed they need not be.
    #[prop_or(true)]
    pub unplaced: bool,
}

/// See the module.
#[component]
pub fn BodyNotes(props: &BodyNotesProps) -> Html {
    let Some(analysis) = use_answers().good else {
        return Html::default();
    };
    let href = Route::of(Page::Sketch, &props.plan_key).href();
    html! {
        <>
            if let Some(words) = unplaced(&analysis).filter(|_| props.unplaced) {
                <p class="body-note" data-test="unplaced"><a class="button is-small" data-test="unplaced-go" {href}>{ "Place sockets" }</a><span>{ words }</span></p>
            }
            { clashes(&analysis) }
        </>
    }
}

fn unplaced(analysis: &Analysis) -> Option<String> {
    let (left, all) = (analysis.unplaced().len(), analysis.plan().sockets.len());
    (left > 0).then(|| {
        let have = if left == 1 { "has" } else { "have" };
        format!(
            "{left} of {} {have} no place yet. What needs one is not worked out before: how holes and magnets lie to each other, what parts carry, templates.",
            format::count(all, "socket", "sockets")
        )
    })
}

fn clashes(analysis: &Analysis) -> Html {
    let all = analysis.all_clash_words();
    let more = all.len().saturating_sub(SHOWN);
    html! {
        if !all.is_empty() {
            <section class="problems" data-test="clashes" aria-label="Parts that do not go together">
                <h2>{ "Parts that do not go together" }</h2>
                <ul>
                    { for all.iter().take(SHOWN).map(|said| html! { <li key={said.clone()}>{ said }</li> }) }
                    if more > 0 {
                        <li>{ format!("and {more} more") }</li>
                    }
                </ul>
                <p class="fine">{ "Shapes are rough: Setup says how much two may share before it is told. Move a socket or a part in the sketch." }</p>
            </section>
        }
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    #[test]
    fn sockets_without_a_place_are_counted() {
        let grid = "\tA\nRoof\tRack\nNose\tHook\n".to_owned();
        let mut plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        let words = |plan: &Plan| unplaced(&Analysis::of(plan.clone()).unwrap());
        assert!(
            words(&plan)
                .unwrap()
                .starts_with("2 of 2\u{a0}sockets have no place yet.")
        );
        plan.sockets[0].at_mm = Some([0.0; 3]);
        assert!(
            words(&plan)
                .unwrap()
                .starts_with("1 of 2\u{a0}sockets has no place yet.")
        );
        plan.sockets[1].at_mm = Some([0.0; 3]);
        assert_eq!(words(&plan), None);
    }
}
