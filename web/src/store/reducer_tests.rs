//! The store, action by action.

use super::*;
use crate::store::{NoticeKind, STEPS};
use yew::AttrValue;

fn run(state: AppState, actions: impl IntoIterator<Item = Action>) -> AppState {
    let end = actions.into_iter().fold(Rc::new(state), Reducible::reduce);
    (*end).clone()
}

fn one_plan() -> AppState {
    run(
        AppState::default(),
        [Action::Add(Box::new(Plan::empty("Railcar")))],
    )
}

fn add_part(name: &str) -> Action {
    Action::Edit(Edit::AddPart(name.to_owned()))
}

fn parts(state: &AppState) -> Vec<String> {
    let track = state.track().expect("a plan is open");
    track.plan.parts.iter().map(|p| p.name.clone()).collect()
}

#[test]
fn a_new_plan_is_open_and_waits_to_be_kept() {
    let state = one_plan();
    assert_eq!(state.open.as_deref(), Some("railcar"));
    assert_eq!(state.save, SaveState::Pending);
}

#[test]
fn undo_and_redo_walk_the_same_plans() {
    let state = run(one_plan(), [add_part("Plough"), add_part("Lamp")]);
    let back = run(state.clone(), [Action::Undo, Action::Undo]);
    assert_eq!(parts(&back), ["Base"]);
    let track = back.track().unwrap();
    assert_eq!(track.history.redo_label(), Some("add a part"));
    let again = run(back, [Action::Redo, Action::Redo, Action::Redo]);
    assert_eq!(parts(&again), parts(&state));
}

#[test]
fn an_edit_after_undo_forgets_what_lay_ahead() {
    let state = run(
        one_plan(),
        [add_part("Plough"), Action::Undo, add_part("Lamp")],
    );
    assert_eq!(state.track().unwrap().history.redo_label(), None);
    assert_eq!(parts(&run(state, [Action::Undo])), ["Base"]);
}

#[test]
fn the_history_keeps_its_number_of_steps() {
    let edits = (0..STEPS + 20).map(|n| Action::Edit(Edit::SetNote(n.to_string())));
    let state = run(one_plan(), edits);
    assert_eq!(state.track().unwrap().history.len(), STEPS);
    let back = run(state, (0..STEPS + 20).map(|_| Action::Undo));
    assert_eq!(back.track().unwrap().plan.note, "19");
}

#[test]
fn a_refused_edit_changes_nothing_and_says_why() {
    let before = one_plan();
    let state = run(
        before.clone(),
        [Action::Edit(Edit::DropPart("base".into()))],
    );
    assert_eq!(parts(&state), parts(&before));
    assert!(state.track().unwrap().history.is_empty());
    let notice = state.notice.unwrap();
    assert_eq!(notice.kind, NoticeKind::Refused);
    assert!(notice.said.contains("base"), "{}", notice.said);
}

#[test]
fn one_refusal_refuses_all_edits_of_a_step() {
    let edits = vec![
        Edit::AddPart("Plough".to_owned()),
        Edit::DropPart("base".into()),
    ];
    let label = "do both";
    let state = run(one_plan(), [Action::EditAll { label, edits }]);
    assert_eq!(parts(&state), ["Base"]);
    assert!(state.notice.is_some());
}

#[test]
fn an_edit_that_changes_nothing_is_no_step_and_no_render() {
    let state = Rc::new(one_plan());
    let same = Rc::clone(&state).reduce(Action::Edit(Edit::SetTitle("Railcar".to_owned())));
    assert!(Rc::ptr_eq(&state, &same));
}

#[test]
fn deleting_offers_the_plan_back_with_its_history() {
    let key = AttrValue::from("railcar");
    let gone = run(
        one_plan(),
        [add_part("Plough"), Action::Delete(key.clone())],
    );
    assert!(gone.shelf.is_empty() && gone.open.is_none());
    assert_eq!(gone.notice.as_ref().unwrap().offer, Some(Offer::Undelete));
    let back = run(
        gone,
        [Action::Undelete, Action::Open(Some(key)), Action::Undo],
    );
    assert_eq!(parts(&back), ["Base"]);
}

#[test]
fn two_plans_of_one_title_get_keys_and_titles_of_their_own() {
    let state = run(
        one_plan(),
        [
            Action::Add(Box::new(Plan::empty("Railcar"))),
            Action::Duplicate("railcar".into()),
        ],
    );
    let mut titles: Vec<_> = state.shelf.iter().map(Entry::title).collect();
    titles.sort_unstable();
    assert_eq!(titles, ["Railcar", "Railcar 2", "Railcar 3"]);
    let mut keys: Vec<_> = state.shelf.iter().map(|e| e.key.clone()).collect();
    keys.dedup();
    assert_eq!(keys.len(), 3);
}

#[test]
fn each_plan_has_its_own_history() {
    let state = run(
        one_plan(),
        [
            add_part("Plough"),
            Action::Add(Box::new(Plan::empty("Other"))),
            Action::Undo,
            Action::Open(Some("railcar".into())),
        ],
    );
    assert_eq!(parts(&state), ["Base", "Plough"]);
    assert_eq!(parts(&run(state, [Action::Undo])), ["Base"]);
}

#[test]
fn a_change_in_another_window_can_be_undone() {
    let mut theirs = Plan::empty("Railcar");
    theirs.note = "from the other window".to_owned();
    let entry = Entry::of("railcar".into(), theirs);
    let state = run(one_plan(), [Action::Foreign(Box::new(entry.clone()))]);
    assert_eq!(state.track().unwrap().plan.note, "from the other window");
    let state = Rc::new(state);
    assert!(Rc::ptr_eq(
        &state,
        &Rc::clone(&state).reduce(Action::Foreign(Box::new(entry)))
    ));
    assert_eq!(
        run((*state).clone(), [Action::Undo])
            .track()
            .unwrap()
            .plan
            .note,
        ""
    );
}

#[test]
fn a_window_that_follows_refuses_edits_and_offers_to_take_over() {
    let key = AttrValue::from("railcar");
    let state = run(one_plan(), [Action::Follows(key.clone(), true)]);
    for action in [
        add_part("Plough"),
        Action::BringBack(Box::new(Plan::empty("Old"))),
    ] {
        let after = run(state.clone(), [action]);
        assert_eq!(parts(&after), ["Base"]);
        assert_eq!(after.notice.unwrap().offer, Some(Offer::TakeOver));
    }
    let after = run(state, [Action::Follows(key, false), add_part("Plough")]);
    assert_eq!(parts(&after), ["Base", "Plough"]);
}

#[test]
fn a_window_that_follows_hears_quietly_unless_it_had_something_to_store() {
    let theirs = || {
        let mut plan = Plan::empty("Railcar");
        plan.note = "theirs".to_owned();
        Action::Foreign(Box::new(Entry::of("railcar".into(), plan)))
    };
    let follows = Action::Follows("railcar".into(), true);
    let stored = Action::Saved(SaveState::Kept(1.0));
    let quiet = run(one_plan(), [stored, follows.clone(), theirs()]);
    assert!(quiet.notice.is_none());
    let told = run(one_plan(), [add_part("Lost?"), follows, theirs()]);
    assert!(told.notice.is_some());
    assert_eq!(told.track().unwrap().plan.note, "theirs");
}

#[test]
fn a_plan_deleted_elsewhere_can_be_brought_back() {
    let state = run(
        one_plan(),
        [Action::ForeignGone("railcar".into()), Action::Undelete],
    );
    assert_eq!(state.shelf.len(), 1);
}

#[test]
fn an_earlier_state_is_one_step_of_undo() {
    let mut old = Plan::empty("Railcar");
    old.note = "old".to_owned();
    let state = run(
        one_plan(),
        [add_part("Plough"), Action::BringBack(Box::new(old))],
    );
    assert_eq!(state.track().unwrap().plan.note, "old");
    assert_eq!(parts(&run(state, [Action::Undo])), ["Base", "Plough"]);
}

#[test]
fn only_the_notice_that_was_read_goes() {
    let state = run(
        one_plan(),
        [
            Action::Tell(Notice::told("a")),
            Action::Tell(Notice::told("b")),
        ],
    );
    let number = state.notice.as_ref().unwrap().number;
    assert!(
        run(state.clone(), [Action::Dismiss(number - 1)])
            .notice
            .is_some()
    );
    assert!(run(state, [Action::Dismiss(number)]).notice.is_none());
}

#[test]
fn a_deleted_plan_comes_back_under_its_key_and_no_other_plan_takes_that() {
    let state = run(one_plan(), [Action::Delete("railcar".into())]);
    let other = run(state, [Action::Add(Box::new(Plan::empty("Railcar")))]);
    assert_eq!(other.open.as_deref(), Some("railcar-2"));
    let plan = Box::new(Plan::empty("Railcar"));
    let back = run(
        other.clone(),
        [Action::Restore("railcar".into(), plan.clone())],
    );
    assert!(back.entry("railcar").is_some() && back.entry("railcar-2").is_some());
    // Twice, or where another window was quicker.
    let twice = run(back, [Action::Restore("railcar".into(), plan)]);
    assert_eq!(twice.shelf.len(), 3);
}

#[test]
fn the_worse_of_two_states_is_told() {
    let failed = SaveState::failed("full".into());
    let kept = SaveState::Kept(1.0);
    assert_eq!(kept.worse(&SaveState::Idle), &kept);
    assert_eq!(kept.worse(&SaveState::Pending), &SaveState::Pending);
    assert_eq!(SaveState::Pending.worse(&failed), &failed);
    assert_eq!(failed.worse(&SaveState::Pending), &failed);
}
