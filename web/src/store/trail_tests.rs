//! Recorded actions lead again to where they led.

use std::rc::Rc;

use yew::Reducible;

use super::*;
use crate::store::{Analysis, AppState};

/// Runs actions through store and recorder; gives the store and the last trail.
fn recorded(actions: Vec<Action>) -> (Rc<AppState>, Trail) {
    let mut state = Rc::new(AppState::default());
    let mut recorder = Recorder::default();
    for (n, action) in actions.into_iter().enumerate() {
        recorder.note(&action, &state, n as f64);
        state = state.reduce(action);
    }
    (state, recorder.trail)
}

fn add() -> Action {
    Action::Add(Box::new(Plan::empty("Railcar")))
}

fn note(n: usize) -> Action {
    Action::Edit(Edit::SetNote(n.to_string()))
}

fn assert_same(actions: Vec<Action>) {
    let (state, trail) = recorded(actions);
    let text = serde_json::to_string(&trail).unwrap();
    let again: Trail = serde_json::from_str(&text).unwrap();
    assert_eq!(again.replay().unwrap(), *state.track().unwrap().plan);
}

#[test]
fn edits_undo_redo_and_refusals_replay() {
    let part = |name: &str| Action::Edit(Edit::AddPart(name.to_owned()));
    assert_same(vec![
        add(),
        part("Plough"),
        part("Lamp"),
        Action::Undo,
        Action::Redo,
        Action::Edit(Edit::DropPart("base".into())),
        Action::EditAll {
            label: "both",
            edits: vec![Edit::AddPart("A".into()), Edit::DropPart("base".into())],
        },
        Action::Undo,
        part("Rack"),
        Action::Redo,
        Action::Edit(Edit::PasteGrid("\tWinter\nNose\tPlough\n".to_owned())),
    ]);
}

#[test]
fn a_long_trail_begins_anew_and_undo_beyond_it_too() {
    for undos in [0, 3, 49, 50, 51, 70] {
        let mut actions = vec![add()];
        actions.extend((0..120).map(note));
        actions.extend((0..undos).map(|_| Action::Undo));
        actions.push(note(999));
        assert_same(actions);
    }
}

#[test]
fn random_actions_replay() {
    // A plain congruential sequence (Knuth, MMIX constants): the cases are the same in every run.
    let mut seed = 7_u64;
    let mut next = move |below: u64| {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) % below
    };
    for _ in 0..40 {
        let mut actions = vec![add()];
        for n in 0..next(200) as usize {
            actions.push(match next(6) {
                0 => Action::Undo,
                1 => Action::Redo,
                2 => Action::Edit(Edit::AddPart(format!("Part {}", next(9)))),
                3 => Action::Edit(Edit::DropPart(format!("part-{}", next(9)).as_str().into())),
                4 => Action::BringBack(Box::new(Plan::empty("Back"))),
                _ => note(n),
            });
        }
        actions.push(note(1000));
        assert_same(actions);
    }
}

#[test]
fn names_hold_nothing_that_was_typed() {
    let (_, trail) = recorded(vec![add(), Action::Edit(Edit::SetNote("secret".into()))]);
    assert_eq!(trail.steps.last().unwrap().name, "set-note");
}

#[test]
fn reports_that_were_handed_in_replay() {
    // Reports as the crash note saves them, with the plan: each must be read and done again without a panic.
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reports");
    let mut count = 0;
    for file in folder.read_dir().unwrap().flatten() {
        #[derive(serde::Deserialize)]
        struct Report {
            trails: Vec<Trail>,
        }
        #[allow(clippy::disallowed_methods, reason = "a test on the machine")]
        let text = std::fs::read_to_string(file.path()).unwrap();
        let report: Report = serde_json::from_str(&text).unwrap();
        for trail in report.trails.iter().filter(|t| !t.base.is_empty()) {
            let plan = trail.replay().unwrap();
            let _ = Analysis::of(plan).map(|analysis| analysis.report());
            count += 1;
        }
    }
    assert!(count > 0, "no report in {}", folder.display());
}
