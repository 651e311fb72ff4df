//! What matters less, folded away until it is wanted.

use yew::prelude::*;

/// Props of [`Disclosure`].
#[derive(PartialEq, Properties)]
pub struct DisclosureProps {
    /// Its id.
    pub id: AttrValue,
    /// What is in it.
    pub title: AttrValue,
    /// What it comes to, in a few words beside the title.
    #[prop_or_default]
    pub summary: AttrValue,
    /// Whether it is open at first.
    #[prop_or_default]
    pub open: bool,
    /// What is folded away.
    pub children: Html,
}

/// See the module.
#[component]
pub fn Disclosure(props: &DisclosureProps) -> Html {
    // The browser keeps the state from here on: the attribute is only set once.
    let first = use_memo((), |()| props.open);
    html! {
        <details class="disclosure" id={&props.id} open={*first}>
            <summary data-test={&props.id}>
                <span class="disclosure-title">{ &props.title }</span>
                <span class="disclosure-summary">{ &props.summary }</span>
            </summary>
            <div class="disclosure-body">{ props.children.clone() }</div>
        </details>
    }
}
