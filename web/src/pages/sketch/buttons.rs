//! The two kinds of buttons of this page.

use yew::prelude::*;

/// A button that stays down while it is chosen.
pub fn chip(test: &str, word: &str, on: bool, run: impl Fn() + 'static) -> Html {
    let onclick = Callback::from(move |_: MouseEvent| run());
    html! { <button key={test.to_owned()} type="button" class="chip" data-test={test.to_owned()} aria-pressed={on.to_string()} {onclick}>{ word }</button> }
}

/// A button that does something.
pub fn button(test: &'static str, word: &str, run: impl Fn() + 'static) -> Html {
    html! { <button type="button" class="button" data-test={test} onclick={Callback::from(move |_: MouseEvent| run())}>{ word }</button> }
}
