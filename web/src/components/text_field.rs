//! A line or a few lines of text, committed when the field is left.

use web_sys::{HtmlInputElement, HtmlTextAreaElement};
use yew::prelude::*;

use super::{FieldFrame, error_id, use_draft};
use crate::store::Edited;

/// Props of [`TextField`].
#[derive(PartialEq, Properties)]
pub struct TextFieldProps {
    /// The input's id.
    pub id: AttrValue,
    /// The label.
    pub label: AttrValue,
    /// The value.
    pub value: AttrValue,
    /// Takes a new value or says why not.
    pub on_commit: Edited<String>,
    /// A further sentence.
    #[prop_or_default]
    pub hint: AttrValue,
    /// What may stand in the empty field.
    #[prop_or_default]
    pub placeholder: AttrValue,
    /// Whether it takes several lines.
    #[prop_or_default]
    pub lines: bool,
    /// Whether the label is for screen readers alone.
    #[prop_or_default]
    pub bare: bool,
    /// Whether it comes with the caret in it and its text picked, as for a name that is asked for.
    #[prop_or_default]
    pub picked: bool,
    /// The id of a list of suggestions.
    #[prop_or_default]
    pub list: Option<AttrValue>,
}

/// See the module.
#[component]
pub fn TextField(props: &TextFieldProps) -> Html {
    let draft = use_draft(&props.id);
    let error = use_state_eq(|| None::<AttrValue>);
    let node = use_node_ref();
    use_effect_with(props.picked, {
        let node = node.clone();
        move |picked| {
            if let Some(input) = node.cast::<HtmlInputElement>().filter(|_| *picked) {
                // Where the browser refuses, the field is tapped.
                let _ = input.focus();
                input.select();
            }
        }
    });
    let oninput = {
        let draft = draft.clone();
        Callback::from(move |e: InputEvent| draft.set(typed(&e)))
    };
    let commit = {
        let (draft, error, on_commit) = (draft.clone(), error.clone(), props.on_commit.clone());
        Callback::from(move |()| {
            let Some(text) = draft.text() else { return };
            match on_commit.emit(text) {
                Ok(()) => {
                    draft.set(None);
                    error.set(None);
                }
                Err(said) => error.set(Some(said)),
            }
        })
    };
    let onkeydown = {
        let (draft, error, commit, lines) =
            (draft.clone(), error.clone(), commit.clone(), props.lines);
        Callback::from(move |e: KeyboardEvent| match e.key().as_str() {
            "Enter" if !lines => commit.emit(()),
            "Escape" => {
                draft.set(None);
                error.set(None);
            }
            _ => {}
        })
    };
    let onblur = commit.reform(|_: FocusEvent| ());
    let typed = draft.text();
    let drafted = typed.is_some().then_some("");
    let shown = typed.map_or_else(|| props.value.clone(), AttrValue::from);
    let invalid = error.is_some().then_some("true");
    html! {
        <FieldFrame id={&props.id} label={&props.label} hint={&props.hint} error={(*error).clone()} bare={props.bare}>
            if props.lines {
                <textarea id={&props.id} data-test={&props.id} data-draft={drafted} rows="3" value={shown}
                    aria-invalid={invalid} aria-describedby={error_id(&props.id)} {oninput} {onblur} {onkeydown} />
            } else {
                <input ref={node} type="text" id={&props.id} data-test={&props.id} data-draft={drafted} value={shown}
                    placeholder={&props.placeholder} list={props.list.clone()} autocomplete="off"
                    aria-invalid={invalid} aria-describedby={error_id(&props.id)} {oninput} {onblur} {onkeydown} />
            }
        </FieldFrame>
    }
}

fn typed(e: &InputEvent) -> Option<String> {
    let line = e.target_dyn_into::<HtmlInputElement>().map(|i| i.value());
    line.or_else(|| {
        e.target_dyn_into::<HtmlTextAreaElement>()
            .map(|t| t.value())
    })
}
