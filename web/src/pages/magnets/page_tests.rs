//! The page of magnets, rendered.

use lodewright_planner::Analysis;
use lodewright_planner::joints::Filling;
use lodewright_planner::kit::{Edit, KeptApart, Plan, Section, ThinSection};

use crate::pages::joints::samples::{marks, plans, render};
use crate::routes::Page;

#[tokio::test]
async fn every_piece_and_every_contradiction_is_shown() {
    for plan in plans() {
        let answers = Analysis::of(plan.clone()).unwrap();
        let filled = answers
            .fillings()
            .values()
            .iter()
            .filter(|f| **f != Filling::Empty)
            .count();
        let page = render(plan, Page::Magnets, "").await;
        assert_eq!(marks(&page, "pole-row"), filled);
        assert_eq!(
            marks(&page, "contradiction"),
            answers.contradictions().len()
        );
        assert_eq!(marks(&page, "glue-answer"), 1);
        assert_eq!(marks(&page, "magnet-count"), 1);
        assert!(!page.contains("NaN") && !page.contains("style="));
        for caution in [
            "do not wait for symptoms",
            "15\u{a0}cm",
            "shatter",
            "Local rules",
        ] {
            assert!(page.contains(caution), "{caution}");
        }
    }
}

#[tokio::test]
async fn a_plan_without_sockets_says_what_to_do() {
    let page = render(Plan::empty("New"), Page::Magnets, "").await;
    assert_eq!(marks(&page, "magnet-count"), 0);
    assert!(page.contains("Go to the grid"), "{page}");
}

#[tokio::test]
async fn a_glued_joint_may_be_kept_apart_and_one_kept_apart_glued() {
    let grid = "\tWinter\tWorks\nNose\tPlough\tHook\nRoof\tAerial\tAerial\n";
    let mut plan = Plan::empty("t")
        .edited(&Edit::PasteGrid(grid.to_owned()))
        .unwrap();
    let buttons = async |plan: &Plan| {
        let page = render(plan.clone(), Page::Magnets, "").await;
        let said = page.contains("Kept apart: it must let go before it snaps.");
        (
            marks(&page, "keep-apart"),
            marks(&page, "glue-after-all"),
            said,
        )
    };
    assert_eq!(buttons(&plan).await, (1, 0, false));
    plan.sockets[1].kept_apart = Some(KeptApart::LetsGo);
    assert_eq!(buttons(&plan).await, (0, 1, true));
    // What snaps is no choice.
    let aerial = plan.parts.iter_mut().find(|p| p.name == "Aerial").unwrap();
    aerial.thin = Some(ThinSection {
        length_mm: 30.0,
        section: Section::Round { diameter_mm: 1.0 },
        reach_mm: 33.0,
        notch_factor: 1.5,
    });
    assert_eq!(buttons(&plan).await, (0, 0, true));
}
