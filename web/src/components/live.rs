//! Says aloud, for those who do not see the page, what has changed on it.

use yew::prelude::*;

/// Props of [`Live`].
#[derive(PartialEq, Properties)]
pub struct LiveProps {
    /// One short sentence; a screen reader speaks it whenever it changes.
    pub text: AttrValue,
}

/// See the module. It must stay on the page: a region that comes with its text is not spoken everywhere.
#[component]
pub fn Live(props: &LiveProps) -> Html {
    html! { <p class="visually-hidden" role="status" aria-live="polite" data-test="live">{ &props.text }</p> }
}
