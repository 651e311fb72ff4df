//! The one store: every plan in this browser, its history, and what the reader is told. No web types but in `provider`.

mod action;
mod answers;
mod history;
mod notice;
mod provider;
mod reducer;
mod session_trail;
mod state;
mod trail;

pub use action::Action;
pub use answers::{Answered, AnswersProvider, Derived, use_answers};
pub use history::{History, STEPS};
pub use notice::{Notice, NoticeKind, Offer};
pub use provider::{
    Edited, Follows, HistoryWords, OpenPlan, Outcome, Store, StoreProvider, Typing, after_actions,
    use_follows, use_history, use_notice, use_plan, use_save_state, use_shelf, use_store,
    use_typing,
};
pub use state::{AppState, Content, Entry, OpenDocument, PlanKey, SaveState, Shelf};
pub use trail::{Recorder, Step, Trail};
