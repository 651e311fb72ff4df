//! Which two variants: kept in the address, picked by chips.

use lodewright_planner::kit::{CheckedPlan, Ix, Plan, Variant, VariantIx};
use yew::prelude::*;

/// The variants that an address such as `winter/summer` names, by index; the first two where it names none.
pub fn picked(plan: &Plan, rest: &str) -> (VariantIx, VariantIx) {
    let mut words = rest.split('/');
    let mut read = || {
        let word = words.next()?;
        VariantIx::find(&plan.variants, |v| v.id.as_str() == word)
    };
    let [first, second] = [0, 1].map(VariantIx::new);
    let from = read().unwrap_or(first);
    let to = read().unwrap_or(if from == first { second } else { first });
    (from, to)
}

/// The same as an address.
pub fn rest_of(plan: &Plan, from: VariantIx, to: VariantIx) -> String {
    let id = |v: VariantIx| {
        plan.variants
            .get(v.get())
            .map(|v| v.id.to_string())
            .unwrap_or_default()
    };
    format!("{}/{}", id(from), id(to))
}

/// Props of [`variant_chips`].
#[derive(PartialEq, Properties)]
pub struct VariantChipsProps {
    /// Begins the ids of the chips.
    pub id: AttrValue,
    /// What is picked.
    pub label: AttrValue,
    /// The plan.
    pub plan: CheckedPlan,
    /// The variant that is picked.
    pub picked: VariantIx,
    /// Takes another one.
    pub on_pick: Callback<VariantIx>,
}

/// All variants in a row, one of them picked.
pub fn variant_chips(props: &VariantChipsProps) -> Html {
    let chip = |(n, variant): (VariantIx, &Variant)| {
        let onchange = props.on_pick.reform(move |_: Event| n);
        html! {
            <label key={variant.id.to_string()} class="variant-chip">
                <input type="radio" name={&props.id} data-test={format!("{}-{}", props.id, variant.id)} checked={n == props.picked} {onchange} />
                <span>{ &variant.name }</span>
            </label>
        }
    };
    html! {
        <fieldset class="variant-chips">
            <legend>{ &props.label }</legend>
            <div class="variant-chips-row">{ for VariantIx::each(&props.plan.variants).map(chip) }</div>
        </fieldset>
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::Edit;

    use super::*;

    #[test]
    fn the_address_names_two_variants() {
        let grid = "\tWinter\tSummer\tBare\nNose\tPlough\tHook\t-".to_owned();
        let plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        let ix = |(a, b)| (VariantIx::new(a), VariantIx::new(b));
        assert_eq!(picked(&plan, ""), ix((0, 1)));
        assert_eq!(picked(&plan, "summer"), ix((1, 0)));
        assert_eq!(picked(&plan, "nobody/bare"), ix((0, 2)));
        for (from, to) in [(0, 2), (2, 1), (1, 1)].map(ix) {
            assert_eq!(picked(&plan, &rest_of(&plan, from, to)), (from, to));
        }
    }
}
