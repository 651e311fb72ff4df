//! A number with its unit. What is typed stays a draft until it is committed, so that no keystroke is lost or rewritten.

use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::{Draft, FieldFrame, error_id, use_draft};
use crate::format;
use crate::store::{Edited, Outcome};

/// Props of [`NumberField`].
#[derive(PartialEq, Properties)]
pub struct NumberFieldProps {
    /// The input's id.
    pub id: AttrValue,
    /// The label.
    pub label: AttrValue,
    /// The value; none shows an empty field.
    pub value: Option<f64>,
    /// Takes a new value or says why not.
    pub on_commit: Edited<f64>,
    /// Takes the emptying of the field, where it may be empty.
    #[prop_or_default]
    pub on_clear: Option<Edited<()>>,
    /// The unit behind the number.
    #[prop_or_default]
    pub unit: AttrValue,
    /// A further sentence.
    #[prop_or_default]
    pub hint: AttrValue,
    /// What an empty field stands for.
    #[prop_or_default]
    pub placeholder: AttrValue,
    /// Shows buttons that go down and up by this much.
    #[prop_or_default]
    pub step: Option<f64>,
    /// Whether only whole numbers from 0 on are taken.
    #[prop_or_default]
    pub whole: bool,
    /// Whether the label is for screen readers alone.
    #[prop_or_default]
    pub bare: bool,
}

/// See the module.
#[component]
pub fn NumberField(props: &NumberFieldProps) -> Html {
    let draft = use_draft(&props.id);
    let error = use_state_eq(|| None::<AttrValue>);
    let oninput = {
        let draft = draft.clone();
        Callback::from(move |e: InputEvent| {
            draft.set(e.target_dyn_into::<HtmlInputElement>().map(|i| i.value()));
        })
    };
    let settle = settle(&draft, &error);
    let commit = commit(props, &draft, &settle);
    let onkeydown = on_key(&draft, &error, &commit);
    let onchange = commit.reform(|_: Event| ());
    let onblur = commit.reform(|_: FocusEvent| ());
    let typed = draft.text();
    let drafted = typed.is_some().then_some("");
    let shown = typed.unwrap_or_else(|| props.value.map(format::number).unwrap_or_default());
    html! {
        <FieldFrame id={&props.id} label={&props.label} hint={&props.hint} error={(*error).clone()} bare={props.bare}>
            <div class={classes!("number", props.step.map(|_| "has-steps"))}>
                { step_button(props, -1.0, &settle) }
                <input type="text" inputmode={if props.whole { "numeric" } else { "decimal" }} autocomplete="off"
                    id={&props.id} data-test={&props.id} data-draft={drafted}
                    value={shown} placeholder={&props.placeholder}
                    aria-invalid={error.is_some().then_some("true")} aria-describedby={error_id(&props.id)}
                    {oninput} {onchange} {onblur} {onkeydown} />
                if !props.unit.is_empty() {
                    <span class="unit">{ &props.unit }</span>
                }
                { step_button(props, 1.0, &settle) }
            </div>
        </FieldFrame>
    }
}

/// Ends a draft when its value was taken; keeps it beside the reason when not.
fn settle(draft: &Draft, error: &UseStateHandle<Option<AttrValue>>) -> Callback<Outcome> {
    let (draft, error) = (draft.clone(), error.clone());
    Callback::from(move |outcome: Outcome| match outcome {
        Ok(()) => {
            draft.set(None);
            error.set(None);
        }
        Err(said) => error.set(Some(said)),
    })
}

fn commit(props: &NumberFieldProps, draft: &Draft, settle: &Callback<Outcome>) -> Callback<()> {
    let (draft, settle) = (draft.clone(), settle.clone());
    let (on_commit, on_clear) = (props.on_commit.clone(), props.on_clear.clone());
    let (unit, whole) = (props.unit.clone(), props.whole);
    Callback::from(move |()| {
        let Some(text) = draft.text() else { return };
        let outcome = match &on_clear {
            Some(clear) if text.trim().is_empty() => clear.emit(()),
            _ => read(&text, &unit, whole).and_then(|v| on_commit.emit(v)),
        };
        settle.emit(outcome);
    })
}

fn read(text: &str, unit: &str, whole: bool) -> Result<f64, AttrValue> {
    let value = format::parse(text, unit)?;
    if whole && (value.fract() != 0.0 || !(0.0..=f64::from(u32::MAX)).contains(&value)) {
        return Err(AttrValue::from("Type a whole number from 0 on."));
    }
    Ok(value)
}

fn on_key(
    draft: &Draft,
    error: &UseStateHandle<Option<AttrValue>>,
    commit: &Callback<()>,
) -> Callback<KeyboardEvent> {
    let (draft, error, commit) = (draft.clone(), error.clone(), commit.clone());
    Callback::from(move |e: KeyboardEvent| match e.key().as_str() {
        "Enter" => commit.emit(()),
        "Escape" => {
            draft.set(None);
            error.set(None);
        }
        _ => {}
    })
}

fn step_button(props: &NumberFieldProps, sign: f64, settle: &Callback<Outcome>) -> Html {
    let Some(step) = props.step else {
        return Html::default();
    };
    let (value, on_commit, settle) = (props.value, props.on_commit.clone(), settle.clone());
    let whole = props.whole;
    let onclick = Callback::from(move |_: MouseEvent| {
        let next = value.unwrap_or(0.0) + sign * step;
        settle.emit(on_commit.emit(if whole { next.max(0.0) } else { next }));
    });
    let (word, mark) = if sign < 0.0 {
        ("less", "\u{2212}")
    } else {
        ("more", "+")
    };
    html! {
        <button type="button" class="step" aria-label={format!("{}: {word}", props.label)} {onclick}>{ mark }</button>
    }
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn whole_numbers_refuse_the_rest() {
        assert_eq!(read("12", "", true), Ok(12.0));
        for text in ["1.5", "-1", "1e12"] {
            assert!(read(text, "", true).is_err(), "{text}");
        }
    }
}
