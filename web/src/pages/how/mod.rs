//! How each number is made, by which formula, from which source, how far it may be trusted, and where judgement comes first.

mod holding;
mod planning;
mod subject;

use gloo::utils::document;
use web_sys::HtmlElement;
use yew::prelude::*;

use crate::routes::{Page, Route};
use subject::{Line, Subject};

/// See the module.
pub fn show(subject: &AttrValue) -> Html {
    html! { <HowPage subject={subject.clone()} /> }
}

/// Props of [`HowPage`].
#[derive(PartialEq, Properties)]
struct HowPageProps {
    /// The subject that the address names.
    subject: AttrValue,
}

#[component]
fn HowPage(props: &HowPageProps) -> Html {
    // The page may come after the frame has looked for the subject; later ones are gone to by the frame, once it has moved the focus.
    use_effect_with((), {
        let subject = props.subject.clone();
        move |()| go_to(&subject)
    });
    html! {
        <div data-test="page-how">
            <div class="page-head"><h1>{ Page::How.title() }</h1></div>
            <p class="page-intro">{ "This is a planner, not a certificate. Each number below says how it is made, from which source, and how far it may be trusted. Signs: lengths mm, forces N, masses g; 1 N is about the weight of 100 g." }</p>
            <nav class="how-list" aria-label="Subjects"><ul>
                { for subjects().map(|s| html! { <li><a href={Route::how(s.id).href()}>{ s.title }</a></li> }) }
            </ul></nav>
            { for subjects().map(subject) }
        </div>
    }
}

/// A link to one subject.
pub fn link(id: &str, words: &'static str) -> Html {
    html! { <a href={Route::how(id).href()} data-test={format!("to-how-{id}")}>{ words }</a> }
}

/// Brings a subject to the top of the screen and the reader with it.
pub fn go_to(id: &str) {
    let heading = document().get_element_by_id(&heading_id(id));
    if let Some(heading) =
        heading.and_then(|h| wasm_bindgen::JsCast::dyn_into::<HtmlElement>(h).ok())
    {
        heading.scroll_into_view();
        // Focus only helps; a heading that refuses it is still in sight.
        let _ = heading.focus();
    }
}

fn heading_id(id: &str) -> String {
    format!("how-{id}")
}

fn subjects() -> impl Iterator<Item = &'static Subject> {
    holding::SUBJECTS.iter().chain(planning::SUBJECTS)
}

fn subject(s: &'static Subject) -> Html {
    let heading = heading_id(s.id);
    html! {
        <section class="how-subject" aria-labelledby={heading.clone()}>
            <h2 id={heading} tabindex="-1">{ s.title }</h2>
            { for s.lines.iter().map(line) }
        </section>
    }
}

fn line(line: &Line) -> Html {
    match *line {
        Line::Plain(words) => html! { <p>{ words }</p> },
        Line::Formula(words) => html! { <p class="formula-text">{ words }</p> },
        Line::Trust(words) => {
            html! { <p><strong>{ "How far to trust it: " }</strong>{ words }</p> }
        }
        Line::Source(words) => html! { <p class="quiet">{ "Source: " }{ words }</p> },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_are_plain_and_single() {
        let mut ids: Vec<_> = subjects().map(|s| s.id).collect();
        assert!(
            ids.iter()
                .all(|id| id.bytes().all(|b| b.is_ascii_lowercase()))
        );
        ids.sort_unstable();
        let all = ids.len();
        ids.dedup();
        assert_eq!(ids.len(), all);
    }

    /// A number without its source or without how far to trust it is what this page is against.
    #[test]
    fn every_subject_with_a_formula_has_source_and_trust() {
        for s in subjects() {
            let has = |wanted: fn(&Line) -> bool| s.lines.iter().any(wanted);
            if has(|l| matches!(l, Line::Formula(_))) {
                assert!(has(|l| matches!(l, Line::Source(_))), "{}", s.id);
                assert!(has(|l| matches!(l, Line::Trust(_))), "{}", s.id);
            }
        }
    }
}
