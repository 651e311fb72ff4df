//! One sentence or two for the reader, at the edge of the page.

use yew::AttrValue;

/// What is told.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice {
    /// Counts up, so that the same words told twice are two notices.
    pub number: u32,
    /// How urgent.
    pub kind: NoticeKind,
    /// The words.
    pub said: AttrValue,
    /// What may be done about it.
    pub offer: Option<Offer>,
}

/// How urgent a notice is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoticeKind {
    /// For information.
    Told,
    /// Something was not done.
    Refused,
}

/// What a notice lets the reader do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Offer {
    /// Take back the last edit.
    Undo,
    /// Bring back the deleted plan.
    Undelete,
    /// Edit here what another window edits.
    TakeOver,
}

impl Notice {
    /// For information.
    pub fn told(said: impl Into<AttrValue>) -> Self {
        Self {
            number: 0,
            kind: NoticeKind::Told,
            said: said.into(),
            offer: None,
        }
    }

    /// Something was not done.
    pub fn refused(said: impl Into<AttrValue>) -> Self {
        Self {
            kind: NoticeKind::Refused,
            ..Self::told(said)
        }
    }

    /// The same with an offer.
    pub fn offering(self, offer: Offer) -> Self {
        Self {
            offer: Some(offer),
            ..self
        }
    }
}
