//! The plan's title and note, and the kit as bought.

use lodewright_planner::kit::{Edit, KitBox, Plan};
use yew::prelude::*;

use super::card::CardProps;
use crate::components::{NumberField, TextField};
use crate::store::{Edited, Store, use_store};

/// See the module.
#[component]
pub fn KitCard(props: &CardProps) -> Html {
    let store = use_store();
    let plan = &props.plan;
    let scale = (plan.kit.scale > 0).then(|| f64::from(plan.kit.scale));
    html! {
        <section class="card section" aria-label="Plan and kit">
            <h2>{ "Plan and kit" }</h2>
            <TextField id="plan-title" label="Title of the plan" value={plan.title.clone()} on_commit={store.edited(|_, title| Some(Edit::SetTitle(title)))} />
            <TextField id="kit-name" label="Kit, as the box says" value={plan.kit.name.clone()} on_commit={kit(&store, |k, name: String| k.name = name.trim().to_owned())} />
            <div class="pair">
                <NumberField id="kit-scale" label="Scale 1 to" value={scale} whole={true} on_commit={kit(&store, |k, v| k.scale = whole(v))} on_clear={kit(&store, |k, ()| k.scale = 0)} />
                <NumberField id="kit-price" label="Price of the kit" unit={plan.settings.currency.clone()} value={f64::from(plan.kit.price_cents) / 100.0} on_commit={kit(&store, |k, v| k.price_cents = whole(v * 100.0))} />
            </div>
            <TextField id="plan-note" label="Note" value={plan.note.clone()} lines={true} on_commit={store.edited(|_, note| Some(Edit::SetNote(note)))} />
        </section>
    }
}

fn kit<V: 'static>(store: &Store, change: impl Fn(&mut KitBox, V) + 'static) -> Edited<V> {
    store.edited(move |plan: &Plan, value| {
        let mut kit = plan.kit.clone();
        change(&mut kit, value);
        Some(Edit::SetKit(kit))
    })
}

/// The nearest count; what lies outside becomes the nearest that can be said.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the range first"
)]
pub fn whole(value: f64) -> u32 {
    value.round().clamp(0.0, f64::from(u32::MAX)) as u32
}

#[cfg(test)]
mod tests {
    use super::whole;

    #[test]
    fn counts_stay_in_range() {
        assert_eq!(whole(2.4), 2);
        assert_eq!(whole(-1.0), 0);
        assert_eq!(whole(f64::NAN), 0);
        assert_eq!(whole(1e99), u32::MAX);
    }
}
