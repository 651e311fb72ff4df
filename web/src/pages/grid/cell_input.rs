//! Typing in place: a cell or a head of the grid as an input with suggestions.

use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::cursor::{Pick, Step};
use crate::storage::drafts;
use crate::store::{Edited, Outcome};

/// How an edit in place ends.
#[derive(Clone, Debug, PartialEq)]
pub enum Done {
    /// With this text, and then a move.
    Write(String, Step),
    /// As if nothing had been typed.
    Cancel,
}

/// Props of [`CellInput`].
#[derive(PartialEq, Properties)]
pub struct CellInputProps {
    /// Where in the grid.
    pub pick: Pick,
    /// What is typed here, for screen readers.
    pub label: AttrValue,
    /// The text to begin with.
    pub start: AttrValue,
    /// Whether that is picked, as a name to be written over.
    #[prop_or_default]
    pub picked: bool,
    /// Names to suggest.
    pub names: Vec<AttrValue>,
    /// Takes the end.
    pub on_done: Edited<Done>,
}

const LIST: &str = "cell-suggestions";
/// Names of drafts begin so; the mark of the place follows.
const DRAFT: &str = "cell:";

/// A place in which something was being typed when the page was left, and the text.
pub fn drafted() -> Option<(Pick, AttrValue)> {
    let field = drafts::fields_from(DRAFT).pop()?;
    let pick = Pick::read(field.strip_prefix(DRAFT)?)?;
    Some((pick, drafts::text_of(&field)?.into()))
}

/// See the module.
#[component]
pub fn CellInput(props: &CellInputProps) -> Html {
    let field = format!("{DRAFT}{}", props.pick.mark());
    let draft = use_state_eq(|| drafts::text_of(&field).unwrap_or_else(|| props.start.to_string()));
    let refused = use_state_eq(|| false);
    let over = use_mut_ref(|| false);
    let node = use_node_ref();
    use_focus(&node, props.picked);
    let end = {
        let (over, refused, on_done) = (over, refused.clone(), props.on_done.clone());
        let field = field.clone();
        Callback::from(move |done: Done| {
            // Taking the input away makes it lose the focus, which would end the edit a second time.
            if over.replace(true) {
                return;
            }
            let outcome: Outcome = on_done.emit(done);
            if outcome.is_err() {
                over.replace(false);
                refused.set(true);
            } else {
                drafts::set(&field, None);
            }
        })
    };
    let onkeydown = {
        let (draft, end) = (draft.clone(), end.clone());
        Callback::from(move |e: KeyboardEvent| {
            e.stop_propagation();
            if e.key() == "Escape" {
                end.emit(Done::Cancel);
            } else if let Some(step) = step_of(&e.key(), e.shift_key()) {
                e.prevent_default();
                end.emit(Done::Write((*draft).clone(), step));
            }
        })
    };
    let onblur = {
        let draft = draft.clone();
        Callback::from(move |_: FocusEvent| end.emit(Done::Write((*draft).clone(), Step::Stay)))
    };
    let oninput = {
        let (draft, refused) = (draft.clone(), refused.clone());
        Callback::from(move |e: InputEvent| {
            refused.set(false);
            if let Some(input) = e.target_dyn_into::<HtmlInputElement>() {
                drafts::set(&field, Some(input.value()));
                draft.set(input.value());
            }
        })
    };
    let list = (!props.names.is_empty()).then_some(LIST);
    html! {
        <>
            <input ref={node} type="text" class="cell-input" data-test="cell-input" data-draft="" autocomplete="off"
                aria-label={&props.label} aria-invalid={refused.then_some("true")} {list} value={(*draft).clone()}
                {oninput} {onkeydown} {onblur} />
            if list.is_some() {
                <datalist id={LIST}>
                    { for suggestions(&draft, &props.names).map(|s| html! { <option key={s.clone()} value={s.clone()} /> }) }
                </datalist>
            }
        </>
    }
}

/// The focus goes in at once, behind what is there already.
#[hook]
fn use_focus(node: &NodeRef, picked: bool) {
    let node = node.clone();
    use_effect_with((), move |()| {
        if let Some(input) = node.cast::<HtmlInputElement>() {
            let _ = input.focus();
            let end = u32::try_from(input.value().encode_utf16().count()).unwrap_or(0);
            let _ = input.set_selection_range(if picked { 0 } else { end }, end);
        }
    });
}

/// Where a key that ends the edit goes on to.
fn step_of(key: &str, back: bool) -> Option<Step> {
    match (key, back) {
        ("Enter", false) => Some(Step::Down),
        ("Enter", true) => Some(Step::Up),
        ("Tab", false) => Some(Step::Next),
        ("Tab", true) => Some(Step::Previous),
        _ => None,
    }
}

/// Names behind what is already typed: after `Shovel / ` the suggestions begin so.
fn suggestions<'a>(draft: &'a str, names: &'a [AttrValue]) -> impl Iterator<Item = String> + 'a {
    let before = draft
        .rfind('/')
        .map_or("", |n| draft.get(..=n).unwrap_or_default());
    let lead = if before.is_empty() {
        String::new()
    } else {
        format!("{} ", before.trim_end())
    };
    names.iter().map(move |name| format!("{lead}{name}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn suggestions_keep_what_stands_before_the_last_slash() {
        let names = [AttrValue::from("Lamp")];
        let of = |draft: &str| suggestions(draft, &names).collect::<Vec<_>>();
        assert_eq!(of("La"), ["Lamp"]);
        assert_eq!(of("Shovel /La"), ["Shovel / Lamp"]);
        assert_eq!(of("A / B / "), ["A / B / Lamp"]);
    }
}
