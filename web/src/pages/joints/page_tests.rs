//! The page of joints, rendered.

use lodewright_planner::Analysis;
use lodewright_planner::kit::{Edit, KeptApart, Plan};

use super::names::joint_key;
use super::samples::{demo, marks, plans, render};
use crate::routes::Page;

#[tokio::test]
async fn every_joint_has_a_row_and_a_page_of_its_own() {
    for plan in plans() {
        let answers = Analysis::of(plan.clone()).unwrap();
        // Each page works its plan out anew: a third of the joints tells as much as all.
        for joint in answers.joints().values().iter().step_by(3) {
            let page = render(plan.clone(), Page::Joints, &joint_key(&plan, joint)).await;
            assert_eq!(marks(&page, "joint-row"), answers.joints().values().len());
            assert_eq!(marks(&page, "verdict"), 1, "{}", joint.words);
            assert_eq!(page.matches("aria-current").count(), 1, "{}", joint.words);
            assert!(
                !page.contains("NaN") && !page.contains("style="),
                "{}",
                joint.words
            );
        }
    }
}

#[tokio::test]
async fn a_plan_without_sockets_says_what_to_do() {
    let page = render(Plan::empty("New"), Page::Joints, "").await;
    assert_eq!(marks(&page, "joint-row"), 0);
    assert!(page.contains("Name a socket in the grid"), "{page}");
}

#[tokio::test]
async fn an_address_that_leads_nowhere_shows_the_most_urgent_joint() {
    let lost = render(demo(), Page::Joints, "no/such/joint").await;
    let none = render(demo(), Page::Joints, "").await;
    assert_eq!(marks(&lost, "verdict"), 1);
    assert_eq!(lost, none);
}

#[tokio::test]
async fn a_joint_that_could_be_glued_offers_to_keep_it_apart_and_says_why_it_is() {
    let mut plan = Plan::empty("t")
        .edited(&Edit::PasteGrid(
            "\tWinter\tWorks\nNose\tPlough\tHook\nRoof\tAerial\tAerial\n".to_owned(),
        ))
        .unwrap();
    let shown = async |plan: &Plan, joint: usize| {
        let answers = Analysis::of(plan.clone()).unwrap();
        let key = joint_key(plan, &answers.joints().values()[joint]);
        render(plan.clone(), Page::Joints, &key).await
    };
    let choice = "data-test=\"socket-kept-apart\"";
    let nose = shown(&plan, 0).await;
    assert!(nose.contains("Why it must come apart") && !nose.contains(choice));
    let roof = shown(&plan, 2).await;
    assert!(roof.contains(choice) && !roof.contains("Kept apart"));
    plan.sockets[1].kept_apart = Some(KeptApart::Painted);
    let roof = shown(&plan, 2).await;
    assert!(roof.contains(choice) && roof.contains("Kept apart: it is painted by itself."));
    assert!(!roof.contains("Why it must come apart"));
}
