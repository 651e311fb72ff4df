//! The page of magnets, rendered.

use lodewright_planner::Analysis;
use lodewright_planner::joints::Filling;
use lodewright_planner::kit::Plan;

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
