//! What is typed into a field until it is taken: kept by the browser meanwhile, so that nothing typed is lost.

use yew::prelude::*;

use crate::storage::drafts;

/// The draft of one field.
#[derive(Clone)]
pub struct Draft {
    field: AttrValue,
    state: UseStateHandle<Option<String>>,
}

impl Draft {
    /// As it is typed; none where the field shows what it has.
    pub fn text(&self) -> Option<String> {
        (*self.state).clone()
    }

    /// This was typed; none where it was taken or taken back.
    pub fn set(&self, text: Option<String>) {
        drafts::set(&self.field, text.clone());
        self.state.set(text);
    }
}

/// The draft of the field of this id: what was typed before a reload stands there again.
#[hook]
pub fn use_draft(field: &AttrValue) -> Draft {
    let state = use_state_eq(|| drafts::text_of(field));
    Draft {
        field: field.clone(),
        state,
    }
}
