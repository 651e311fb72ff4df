//! Coats, targets and rates.

use lodewright_planner::kit::{Edit, Finish, Plan, Rates, Settings};
use lodewright_planner::{Analysis, minutes};
use yew::prelude::*;

use super::card::CardProps;
use super::kit::whole;
use super::number_table::{NumberOf, fields, number_of};
use crate::components::{Disclosure, NumberField, TextField, Toggle};
use crate::store::{Edited, Store, use_answers, use_store};

const COATS: [NumberOf<Finish>; 3] = [
    number_of!("coat-primer", "Primer", "µm", "", primer_um),
    number_of!("coat-colour", "Colour, all coats", "µm", "", colour_um),
    number_of!("coat-varnish", "Varnish", "µm", "", varnish_um),
];
const FILMS: [NumberOf<Finish>; 2] = [
    number_of!(
        "coat-glue",
        "Glue in front of a magnet",
        "µm",
        "",
        glue_film_um
    ),
    number_of!("coat-fit", "Air between the faces", "µm", "", fit_um),
];

/// What lies between two mating faces.
#[component]
pub fn CoatNumbers(props: &CardProps) -> Html {
    let store = use_store();
    let finish = &props.plan.finish;
    let put = |set: fn(&mut Finish, f64)| finish_put(&store, set);
    html! {
        <section class="card section" aria-label="Coats">
            <h2>{ "Coats on each mating face" }</h2>
            <Toggle id="coat-mask" label="Mating faces are masked before paint" value={finish.mask_mating_faces} on_commit={finish_put(&store, |f, v| f.mask_mating_faces = v)} />
            if !finish.mask_mating_faces {
                { fields(&COATS, finish, put) }
            }
            { fields(&FILMS, finish, put) }
        </section>
    }
}

fn finish_put<V: 'static>(store: &Store, set: fn(&mut Finish, V)) -> Edited<V> {
    store.edited(move |plan: &Plan, value| {
        let mut finish = plan.finish.clone();
        set(&mut finish, value);
        Some(Edit::PutFinish(finish))
    })
}

const TARGETS: [NumberOf<Settings>; 5] = [
    number_of!(
        "target-hold",
        "Every joint bears",
        "×",
        "So many times the weight that it carries, in the worst direction.",
        hold_target_g
    ),
    number_of!(
        "target-shake",
        "Shaking, in any attitude",
        "g",
        "On top of gravity; 1 g is the part’s own weight again.",
        shake_g
    ),
    number_of!(
        "target-hand",
        "Pull by hand, at most",
        "N",
        "",
        hand_limit_n
    ),
    number_of!("target-warm", "Warmest the model gets", "°C", "", warmest_c),
    number_of!(
        "target-snap",
        "Safety against snapping",
        "×",
        "So many times below its breaking load a thin part lets go.",
        snap_safety
    ),
];
const TOLERANCES: [NumberOf<Settings>; 9] = [
    number_of!(
        "target-gap",
        "Gaps come out larger or smaller by",
        "mm",
        "",
        gap_tolerance_mm
    ),
    number_of!(
        "target-facing",
        "Sites still face each other within",
        "mm",
        "",
        facing_tolerance_mm
    ),
    number_of!(
        "target-friction",
        "Friction between faces",
        "",
        "",
        friction
    ),
    number_of!(
        "target-glue",
        "Glued magnets may be asked to bear",
        "MPa",
        "",
        glue_strength_mpa
    ),
    number_of!("target-bond", "Safety of the glue", "×", "", bond_safety),
    number_of!(
        "target-hole",
        "Hole over magnet diameter",
        "mm",
        "",
        hole_allowance_mm
    ),
    number_of!(
        "target-depth",
        "Hole over magnet height, for glue",
        "mm",
        "",
        glue_allowance_mm
    ),
    number_of!("target-spare", "Spare magnets", "%", "", spare_percent),
    number_of!(
        "target-overlap",
        "Parts may share, before it is told",
        "mm",
        "Drawn shapes are rough.",
        overlap_tolerance_mm
    ),
];

const SCATTER: [NumberOf<Settings>; 5] = [
    number_of!(
        "scatter-position",
        "Holes wander by",
        "mm",
        "In either direction, one standard deviation.",
        scatter.position_sd_mm
    ),
    number_of!(
        "scatter-depth",
        "Magnets sit deeper or shallower by",
        "mm",
        "",
        scatter.depth_sd_mm
    ),
    number_of!(
        "scatter-tilt",
        "Magnets lean by",
        "°",
        "",
        scatter.tilt_sd_deg
    ),
    number_of!(
        "scatter-coats",
        "Coats differ by the share",
        "",
        "0.2 is a fifth of their thickness.",
        scatter.coats_sd_share
    ),
    number_of!(
        "target-stranger",
        "Magnets not meant to meet are told of from",
        "N",
        "",
        stranger_limit_n
    ),
];

/// What every joint must do, and how well holes turn out.
#[component]
pub fn TargetNumbers(props: &CardProps) -> Html {
    let store = use_store();
    let settings = &props.plan.settings;
    let put = |set: fn(&mut Settings, f64)| settings_put(&store, set);
    html! {
        <section class="card section" aria-label="Targets">
            <h2>{ "Targets" }</h2>
            { fields(&TARGETS, settings, put) }
            <Disclosure id="tolerances" title="Tolerances and allowances" summary="usual values to begin with">
                { fields(&TOLERANCES, settings, put) }
                <h3>{ "How far hand work scatters" }</h3>
                { fields(&SCATTER, settings, put) }
                <TextField id="target-currency" label="Currency" value={settings.currency.clone()} on_commit={settings_put(&store, |s, v: String| s.currency = v.trim().to_owned())} />
            </Disclosure>
        </section>
    }
}

fn settings_put<V: 'static>(store: &Store, set: fn(&mut Settings, V)) -> Edited<V> {
    store.edited(move |plan: &Plan, value| {
        let mut settings = plan.settings.clone();
        set(&mut settings, value);
        Some(Edit::PutSettings(Box::new(settings)))
    })
}

const MINUTES: [NumberOf<Rates>; 9] = [
    number_of!("rate-bit", "Change of bit", "min", "", bit_change_min),
    number_of!(
        "rate-hole",
        "One hole, marked and drilled",
        "min",
        "",
        hole_min
    ),
    number_of!(
        "rate-pole",
        "Pole of one magnet, checked and marked",
        "min",
        "",
        pole_check_min
    ),
    number_of!(
        "rate-magnet",
        "One magnet glued",
        "min",
        "",
        glue_magnet_min
    ),
    number_of!(
        "rate-joint",
        "One joint glued for good",
        "min",
        "",
        glue_joint_min
    ),
    number_of!("rate-fit", "One variant fitted dry", "min", "", dry_fit_min),
    number_of!("rate-peg", "One peg cut off", "min", "", cut_peg_min),
    number_of!("rate-mask", "One face masked", "min", "", mask_min),
    number_of!("rate-paint", "One part painted", "min", "", paint_part_min),
];
const WAITS: [NumberOf<Rates>; 3] = [
    number_of!(
        "wait-magnet",
        "Glue on a magnet, until its mate may come",
        "min",
        "",
        magnet_cure_min
    ),
    number_of!(
        "wait-joint",
        "Glue on a joint, until it is handled",
        "min",
        "",
        joint_cure_min
    ),
    number_of!(
        "wait-paint",
        "Paint, until it is touched",
        "min",
        "",
        paint_dry_min
    ),
];

/// Minutes and money.
#[component]
pub fn RateNumbers(props: &CardProps) -> Html {
    let store = use_store();
    let rates = &props.plan.rates;
    let analysis = use_answers().good;
    let put = |set: fn(&mut Rates, f64)| rates_put(&store, set);
    html! {
        <section class="card section" aria-label="Rates">
            <h2>{ "Rates" }</h2>
            <NumberField id="rate-hour" label={"An hour\u{2019}s work"} unit={props.plan.settings.currency.clone()} value={f64::from(rates.hour_cents) / 100.0}
                on_commit={rates_put(&store, |r, v| r.hour_cents = whole(v * 100.0))} />
            <div>
                { from_the_clock(&store, analysis.as_ref()) }
                <Disclosure id="rate-waits" title="Waits" summary="glue and paint">{ fields(&WAITS, rates, put) }</Disclosure>
                <Disclosure id="rate-minutes" title="Minutes" summary="for each kind of step">{ fields(&MINUTES, rates, put) }</Disclosure>
            </div>
        </section>
    }
}

/// What the bench page's clock measured, and a button that takes it over.
fn from_the_clock(store: &Store, analysis: Option<&Analysis>) -> Html {
    let Some(analysis) = analysis else {
        return Html::default();
    };
    let list = analysis.timed();
    if list.is_empty() {
        return Html::default();
    }
    let rates = analysis.rates_as_timed();
    let onclick = store.press(move |_| Some(Edit::PutRates(Box::new(rates.clone()))));
    html! {
        <section class="timed-rates" aria-label="From the clock of the bench page" data-test="timed-rates">
            <p>{ "Your clock at the bench says:" }</p>
            <ul>{ for list.iter().map(|t| html! { <li key={t.what}>{ format!("{}: {} (median of {}), counted here with {}", t.what, minutes(t.median_min), t.count, minutes(t.rate_min)) }</li> }) }</ul>
            <p><button type="button" class="button is-small" data-test="take-timed" {onclick}>{ "Count with my times" }</button></p>
        </section>
    }
}

fn rates_put(store: &Store, set: fn(&mut Rates, f64)) -> Edited<f64> {
    store.edited(move |plan: &Plan, value| {
        let mut rates = plan.rates.clone();
        set(&mut rates, value);
        Some(Edit::PutRates(Box::new(rates)))
    })
}
