//! What the reader is told, at the edge of the page, with what may be done about it.

use gloo::timers::callback::Timeout;
use yew::prelude::*;

use crate::components::{Shape, icon};
use crate::storage::tab_lock;
use crate::store::{Action, Notice, NoticeKind, Offer, Store, use_notice, use_store};

/// How long a notice without an offer stays, milliseconds.
const STAYS_MS: u32 = 12_000;

/// See the module.
#[component]
pub fn Notices() -> Html {
    let store = use_store();
    let notice = use_notice();
    {
        let store = store.clone();
        let passing = notice
            .as_ref()
            .filter(|n| n.kind == NoticeKind::Told && n.offer.is_none());
        use_effect_with(passing.map(|n| n.number), move |number| {
            let timer =
                number.map(|n| Timeout::new(STAYS_MS, move || store.send(Action::Dismiss(n))));
            move || drop(timer)
        });
    }
    // Both regions stay on the page, so that screen readers speak what comes into them.
    let of = |kind| {
        notice
            .as_ref()
            .filter(|n| n.kind == kind)
            .map(|n| body(n, &store))
    };
    html! {
        <div class="notices">
            <div role="status">{ of(NoticeKind::Told) }</div>
            <div role="alert">{ of(NoticeKind::Refused) }</div>
        </div>
    }
}

fn body(notice: &Notice, store: &Store) -> Html {
    let number = notice.number;
    let (taken, closed) = (store.clone(), store.clone());
    let offer = notice.offer.map(|offer| {
        let onclick = Callback::from(move |_| {
            match offer {
                Offer::Undo => taken.send(Action::Undo),
                Offer::Undelete => taken.send(Action::Undelete),
                Offer::TakeOver => tab_lock::take(),
            }
        });
        let word = match offer {
            Offer::Undo | Offer::Undelete => "Undo",
            Offer::TakeOver => "Edit here",
        };
        html! { <button type="button" class="button" data-test="notice-undo" {onclick}>{ word }</button> }
    });
    let class = match notice.kind {
        NoticeKind::Told => "notice",
        NoticeKind::Refused => "notice notice-refused",
    };
    html! {
        <div key={number} {class} data-test="notice">
            <p>{ &notice.said }</p>
            { offer }
            <button type="button" class="button is-quiet is-icon" aria-label="Close this notice" data-test="notice-close"
                onclick={Callback::from(move |_| closed.send(Action::Dismiss(number)))}>{ icon(Shape::Close) }</button>
        </div>
    }
}
