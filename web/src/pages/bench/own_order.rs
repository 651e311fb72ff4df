//! The builder's own hand in the order: steps of their own, steps done in several goes, and what comes after what.

use lodewright_planner::kit::{Edit, Go, OwnStep, OwnWork, Pin, Plan, Split, slug};
use yew::prelude::*;

use super::view::RowWords;
use crate::components::{Choice, Disclosure, NumberField, SelectField, TextField};
use crate::shared::Shared;
use crate::store::{Edited, Outcome, Store, use_store};

/// Props of [`OwnOrder`].
#[derive(PartialEq, Properties)]
pub struct OwnOrderProps {
    /// The plan.
    pub plan: Shared<Plan>,
    /// The steps in words, in order.
    pub rows: Vec<RowWords>,
    /// Pins that cannot be kept, by index.
    pub broken_pins: Vec<usize>,
}

fn put(store: &Store, change: impl Fn(&mut OwnWork) + 'static) -> Callback<MouseEvent> {
    store.press(move |plan| {
        let mut work = plan.own_work.clone();
        change(&mut work);
        Some(Edit::PutOwnWork(Box::new(work)))
    })
}

fn edited<V: 'static>(store: &Store, change: impl Fn(&mut OwnWork, V) + 'static) -> Edited<V> {
    store.edited(move |plan: &Plan, value| {
        let mut work = plan.own_work.clone();
        change(&mut work, value);
        Some(Edit::PutOwnWork(Box::new(work)))
    })
}

/// See the module.
#[component]
pub fn OwnOrder(props: &OwnOrderProps) -> Html {
    let store = use_store();
    let picked = use_state_eq(|| (AttrValue::default(), AttrValue::default()));
    let work = &props.plan.own_work;
    let options: Vec<Choice> = std::iter::once(Choice::new("", "pick a step"))
        .chain(
            props
                .rows
                .iter()
                .enumerate()
                .map(|(n, r)| Choice::new(r.key.clone(), format!("{}. {}", n + 1, r.title))),
        )
        .collect();
    let pick = |first: bool| {
        let picked = picked.clone();
        Callback::from(move |key: AttrValue| -> Outcome {
            let (a, b) = (*picked).clone();
            picked.set(if first { (key, b) } else { (a, key) });
            Ok(())
        })
    };
    let name_of = |key: &str| {
        let row = props.rows.iter().find(|r| *r.key == *key);
        row.map_or_else(|| key.to_owned(), |r| r.title.to_string())
    };
    let (step, after) = (*picked).clone();
    let pin = {
        let (step, after) = (step.to_string(), after.to_string());
        put(&store, move |w| {
            w.pins.push(Pin {
                step: step.clone(),
                after: after.clone(),
            })
        })
    };
    let hands_min = props
        .rows
        .iter()
        .find(|r| r.key == step)
        .map(|r| r.hands_min);
    let splittable = !step.is_empty() && !step.contains('#') && !step.starts_with("own:");
    html! {
        <Disclosure id="own-order" title="Your own order" summary="own steps, several goes, what comes after what">
            <div class="own-order">
                <h3>{ "Steps of your own" }</h3>
                { for work.steps.iter().map(|s| own_step(&store, s)) }
                <p><button type="button" class="button" data-test="own-step-add" onclick={put(&store, add_step)}>{ "Add a step" }</button></p>
                <h3>{ "Order and goes" }</h3>
                <SelectField id="own-pick" label="This step" options={options.clone()} value={step.clone()} on_commit={pick(true)} />
                <p><button type="button" class="button is-small" data-test="own-split" disabled={!splittable} onclick={two_goes(&store, step.to_string(), hands_min)}>{ "Do it in two goes" }</button></p>
                <SelectField id="own-after" label="comes after this one, cured" {options} value={after.clone()} on_commit={pick(false)} />
                <p><button type="button" class="button is-small" data-test="own-pin" disabled={step.is_empty() || after.is_empty() || step == after} onclick={pin}>{ "Keep that order" }</button></p>
                { for work.splits.iter().map(|s| split_goes(&store, s, &name_of(&s.step))) }
                <ul class="own-pins">
                    { for work.pins.iter().enumerate().map(|(n, p)| pin_row(&store, n, [name_of(&p.step), name_of(&p.after)], props.broken_pins.contains(&n))) }
                </ul>
            </div>
        </Disclosure>
    }
}

/// A step is done in two goes, each with half the hands.
fn two_goes(store: &Store, step: String, hands_min: Option<f64>) -> Callback<MouseEvent> {
    let half = hands_min.map_or(5.0, |m| (m / 2.0).max(0.5));
    put(store, move |w| {
        let go = |name: &str| Go {
            name: name.to_owned(),
            hands_min: half,
            wait_min: 0.0,
        };
        w.splits.retain(|s| s.step != step);
        w.splits.push(Split {
            step: step.clone(),
            goes: vec![go("First go"), go("Second go")],
        });
    })
}

fn pin_row(store: &Store, n: usize, [step, after]: [String; 2], is_broken: bool) -> Html {
    let forget = put(store, move |w| {
        if n < w.pins.len() {
            w.pins.remove(n);
        }
    });
    html! {
        <li key={n}>
            <span>{ format!("{step} \u{2013} after: {after}") }
                if is_broken { <strong>{ " This cannot be kept: a step is gone, or they would wait for each other." }</strong> }
            </span>
            <button type="button" class="button is-small" aria-label={format!("Forget: {step} after {after}")} onclick={forget}>{ "Forget" }</button>
        </li>
    }
}

fn add_step(work: &mut OwnWork) {
    let name = "A step of mine";
    let taken = work
        .steps
        .iter()
        .map(|s| s.key.trim_start_matches("own:").to_owned())
        .collect::<Vec<_>>();
    let word = slug(name, taken.iter().map(String::as_str));
    work.steps.push(OwnStep {
        key: format!("own:{word}"),
        name: name.to_owned(),
        hands_min: 10.0,
        wait_min: 0.0,
    });
}

fn own_step(store: &Store, step: &OwnStep) -> Html {
    let key = step.key.clone();
    let change = |set: fn(&mut OwnStep, f64)| {
        let key = key.clone();
        edited(store, move |w, v| {
            w.steps
                .iter_mut()
                .filter(|s| s.key == key)
                .for_each(|s| set(s, v))
        })
    };
    let rename = {
        let key = key.clone();
        edited(store, move |w, name: String| {
            w.steps
                .iter_mut()
                .filter(|s| s.key == key)
                .for_each(|s| s.name.clone_from(&name));
        })
    };
    let gone = {
        let key = key.clone();
        put(store, move |w| w.steps.retain(|s| s.key != key))
    };
    let id = key.replace(':', "-");
    html! {
        <div key={key.clone()} class="own-step">
            <TextField id={format!("{id}-name")} label="What to do" value={step.name.clone()} on_commit={rename} />
            <NumberField id={format!("{id}-hands")} label="Takes" unit="min" value={step.hands_min} on_commit={change(|s, v| s.hands_min = v)} />
            <NumberField id={format!("{id}-wait")} label="Then leave it" unit="min" value={step.wait_min} on_commit={change(|s, v| s.wait_min = v)} />
            <button type="button" class="button is-small" aria-label={format!("Remove: {}", step.name)} onclick={gone}>{ "Remove" }</button>
        </div>
    }
}

fn split_goes(store: &Store, split: &Split, title: &str) -> Html {
    let goes = |n: usize, set: fn(&mut Go, f64)| {
        let key = split.step.clone();
        edited(store, move |w, v| {
            if let Some(go) = find_go(w, &key, n) {
                set(go, v);
            }
        })
    };
    let whole = {
        let key = split.step.clone();
        put(store, move |w| w.splits.retain(|s| s.step != key))
    };
    let more = {
        let key = split.step.clone();
        put(store, move |w| {
            if let Some(s) = w.splits.iter_mut().find(|s| s.step == key) {
                s.goes.push(Go {
                    name: "A further go".to_owned(),
                    hands_min: 5.0,
                    wait_min: 0.0,
                });
            }
        })
    };
    let row = |(n, go): (usize, &Go)| {
        let id = format!("go-{}-{n}", split.step.replace(':', "-"));
        let key = split.step.clone();
        let rename = edited(store, move |w, name: String| {
            if let Some(go) = find_go(w, &key, n) {
                go.name.clone_from(&name);
            }
        });
        html! {
            <div key={n} class="own-step">
                <TextField id={format!("{id}-name")} label={format!("Go {}", n + 1)} value={go.name.clone()} on_commit={rename} />
                <NumberField id={format!("{id}-hands")} label="Takes" unit="min" value={go.hands_min} on_commit={goes(n, |g, v| g.hands_min = v)} />
                <NumberField id={format!("{id}-wait")} label="Then leave it" unit="min" value={go.wait_min} on_commit={goes(n, |g, v| g.wait_min = v)} />
            </div>
        }
    };
    html! {
        <section key={split.step.clone()} class="own-split" aria-label={title.to_owned()}>
            <h4>{ title }</h4>
            { for split.goes.iter().enumerate().map(row) }
            <p class="actions">
                <button type="button" class="button is-small" onclick={more}>{ "A further go" }</button>
                <button type="button" class="button is-small" onclick={whole}>{ "In one go again" }</button>
            </p>
        </section>
    }
}

fn find_go<'a>(work: &'a mut OwnWork, step: &str, n: usize) -> Option<&'a mut Go> {
    work.splits
        .iter_mut()
        .find(|s| s.step == step)?
        .goes
        .get_mut(n)
}
