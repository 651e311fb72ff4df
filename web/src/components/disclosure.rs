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
    /// Whether what is folded away is only made once it is wanted, for what takes long to work out.
    #[prop_or_default]
    pub late: bool,
    /// What is folded away.
    pub children: Html,
}

/// See the module.
#[component]
pub fn Disclosure(props: &DisclosureProps) -> Html {
    // The browser keeps the state from here on: the attribute is only set once.
    let first = use_memo((), |()| props.open);
    let wanted = use_state_eq(|| props.open || !props.late);
    let ontoggle = {
        let wanted = wanted.clone();
        Callback::from(move |_: Event| wanted.set(true))
    };
    html! {
        <details class="disclosure" id={&props.id} open={*first} {ontoggle}>
            <summary data-test={&props.id}>
                <span class="disclosure-title">{ &props.title }</span>
                <span class="disclosure-summary">{ &props.summary }</span>
            </summary>
            if *wanted {
                <div class="disclosure-body">{ props.children.clone() }</div>
            }
        </details>
    }
}
