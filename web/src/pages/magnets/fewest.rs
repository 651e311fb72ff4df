//! The fewest magnets: looked for beside the page, shown with its proof and its reasons, taken whole or family by family.

use lodewright_planner::joints::MOST_OTHERS;
use lodewright_planner::kit::Edit;
use lodewright_planner::{FamilyWords, Proposal, all_of};
use yew::prelude::*;

use super::cost;
use super::target_sweep::TargetSweep;
use crate::components::Disclosure;
use crate::format;
use crate::store::{Action, Derived, Notice, Offer, use_store};
use crate::worker::{Question, UseLongWork, Work, use_long_work};

/// Props of [`FewestView`].
#[derive(PartialEq, Properties)]
pub struct FewestViewProps {
    /// The answers.
    pub derived: Derived,
}

/// See the module.
#[component]
pub fn FewestView(props: &FewestViewProps) -> Html {
    let UseLongWork { work, ask, stop } = use_long_work::<Proposal>(&props.derived);
    let start = {
        let plan = props.derived.plan.clone();
        ask.reform(move |_: MouseEvent| Question::Fewest(Box::new((*plan).clone())))
    };
    html! {
        <section class="magnet-block" aria-labelledby="fewest-title" data-test="fewest">
            <h2 id="fewest-title">{ "The fewest magnets" }</h2>
            <div aria-live="polite">
                { match &work {
                    Work::Asleep => html! { <p>{ "At first every site is filled, with the smallest size that holds. The planner can look for the smallest number of magnets with which every joint still does all that is asked of it, and prove that fewer will not do. Holes of one kind in one face take one size, and magnets keep far enough apart not to jump together while the glue is wet. Sites that you have filled yourself stay as they are; where you let a friction pin stand in, the pin is taken if it holds." }</p> },
                    Work::Working(..) => html! { <p>{ "Looking. You can go on working; leaving this page or changing the plan stops it." }</p> },
                    Work::Failed(said) => html! { <p class="is-bad-words">{ said.clone() }</p> },
                    Work::Found(found) => html! { <Found derived={props.derived.clone()} found={found.clone()} /> },
                } }
            </div>
            { match &work {
                Work::Working(done, of) => html! {
                    <p class="actions">
                        <progress class="work-bar" aria-label="How far the search is" max={of.to_string()} value={done.to_string()}></progress>
                        <button type="button" class="button" data-test="fewest-stop" onclick={stop}>{ "Stop" }</button>
                    </p>
                },
                Work::Found(_) => Html::default(),
                _ => html! { <p class="actions"><button type="button" class="button" data-test="fewest-start" onclick={start}>{ "Look for the fewest" }</button></p> },
            } }
        </section>
    }
}

/// Props of [`Found`].
#[derive(PartialEq, Properties)]
struct FoundProps {
    derived: Derived,
    found: Proposal,
}

#[component]
fn Found(props: &FoundProps) -> Html {
    let store = use_store();
    let found = &props.found;
    let take = |test: String, word: &str, edit: Option<Edit>| {
        let (store, made) = (store.clone(), edit.clone());
        let onclick = Callback::from(move |_: MouseEvent| {
            if let Some(edit) = &made {
                let told = match store.try_edit(edit.clone()) {
                    // Where another window edits, the store says so itself.
                    Ok(()) if store.read(|s| s.follows) => return,
                    Ok(()) => Notice::told("Taken: holes, buying list and work order follow.")
                        .offering(Offer::Undo),
                    Err(said) => Notice::refused(said),
                };
                store.send(Action::Tell(told));
            }
        });
        html! {
            if edit.is_some() {
                <button type="button" class="button is-small" data-test={test} {onclick}>{ word.to_owned() }</button>
            }
        }
    };
    let family = |(n, f): (usize, &FamilyWords)| {
        html! {
            <li key={n}>
                <span class="family"><strong>{ all_of(&f.joints) }</strong><span>{ family_words(f) }</span></span>
                { take(format!("fewest-family-{}", n + 1), "Take only this", f.edit.clone()) }
            </li>
        }
    };
    html! {
        <>
            <p class="sure-said" data-test="fewest-said">
                <strong>{ format!("{} instead of {}", format::count(found.magnets[1], "magnet", "magnets"), found.magnets[0]) }</strong>
                { format!(", {} instead of {} to buy. ", cost(&props.derived, found.cents[1]), cost(&props.derived, found.cents[0])) }
                { if found.proven { "Proven: no choice takes fewer." } else { "Not proven: the search was cut short, fewer may do." } }
                { if found.checked { " The proof was read again, by other code." } else { "" } }
            </p>
            if !found.unmet.is_empty() {
                <p class="is-bad-words">{ format!("Not met by any choice: {}. See the poles that contradict each other, or the joint\u{2019}s own page.", all_of(&found.unmet)) }</p>
            }
            if !found.pins.is_empty() {
                <p data-test="fewest-pins">{ format!("Held by a friction pin instead: {}.", all_of(&found.pins)) }</p>
            }
            if found.edit.is_none() {
                <p>{ "That is what is fitted already." }</p>
            } else {
                <p class="actions">{ take("fewest-take".to_owned(), "Take all of it", found.edit.clone()) }</p>
                <Disclosure id="fewest-changes" title="What changes" summary={format::count(found.changes.len(), "hole", "holes")}>
                    <ul>{ for found.changes.iter().map(|c| html! { <li key={c.place.clone()}>{ format!("{}: {} in place of {}", c.place, c.to, c.from) }</li> }) }</ul>
                </Disclosure>
            }
            <Disclosure id="fewest-why" title="Why not fewer" summary="joint by joint">
                <ul class="advice-list">{ for found.families.iter().enumerate().map(family) }</ul>
            </Disclosure>
            <TargetSweep derived={props.derived.clone()} />
        </>
    }
}

fn family_words(f: &FamilyWords) -> String {
    let others = match f.others {
        0 => String::new(),
        1 => " One other choice takes as many; this one costs least beside the rest.".to_owned(),
        n if n >= MOST_OTHERS => {
            format!(
                " {MOST_OTHERS} or more other choices take as many; of those looked at, this one costs least beside the rest."
            )
        }
        n => format!(" {n} other choices take as many; this one costs least beside the rest."),
    };
    let crowded = if f.crowded {
        " Nothing keeps its magnets far enough apart: they are counted without that, so glue them one at a time."
    } else {
        ""
    };
    format!("{}{}{others}{crowded}", why_words(f), apart_words(f))
}

fn apart_words(f: &FamilyWords) -> String {
    match f.apart.as_slice() {
        [] => String::new(),
        [pair] => format!(" Part of the reason: the magnets at {pair} must keep apart."),
        pairs => format!(
            " Part of the reason: magnets must keep apart, namely {}.",
            all_of(pairs)
        ),
    }
}

fn why_words(f: &FamilyWords) -> String {
    let reason = all_of(&f.reason);
    let magnets = |n: u32| format::count(n as usize, "magnet", "magnets");
    match f.magnets {
        None => format!("No choice of magnets does all that is asked, because of {reason}."),
        Some(0) => "No magnets at all.".to_owned(),
        Some(n) if !f.proven => format!(
            "{}. At least {} are needed; the rest is not proven.",
            magnets(n),
            f.least
        ),
        Some(n) if f.joints.len() == 1 => {
            format!(
                "{}. With one fewer it no longer does all that is asked.",
                magnets(n)
            )
        }
        Some(n) if f.reason.len() == f.joints.len() => format!(
            "{}. With one fewer they no longer do all that is asked together.",
            magnets(n)
        ),
        Some(n) => format!(
            "{}. {reason} alone {} that many.",
            magnets(n),
            if f.reason.len() == 1 { "needs" } else { "need" }
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn family(magnets: Option<u32>, reason: usize) -> FamilyWords {
        FamilyWords {
            joints: vec!["Hook in Nose".to_owned(), "Plough in Nose".to_owned()],
            magnets,
            least: magnets.unwrap_or(0),
            proven: true,
            reason: vec!["Hook in Nose".to_owned(); reason],
            apart: Vec::new(),
            crowded: false,
            smallest: true,
            others: 0,
            edit: None,
        }
    }

    #[test]
    fn a_family_says_why() {
        assert!(
            family_words(&family(Some(4), 1))
                .ends_with("magnets. Hook in Nose alone needs that many.")
        );
        assert!(family_words(&family(Some(4), 2)).contains("one fewer"));
        assert!(family_words(&family(None, 1)).starts_with("No choice"));
        let mut near = family(Some(4), 2);
        near.apart = vec!["hook a and hook b".to_owned()];
        assert!(family_words(&near).contains("the magnets at hook a and hook b must keep apart"));
    }
}
