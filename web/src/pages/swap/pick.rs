//! Which two variants: kept in the address, picked by chips.

use lodewright_planner::kit::Plan;
use yew::prelude::*;

use crate::shared::Shared;

/// The variants that an address such as `winter/summer` names, by index; the first two where it names none.
pub fn picked(plan: &Plan, rest: &str) -> (usize, usize) {
    let mut words = rest.split('/');
    let mut read = || {
        let word = words.next()?;
        plan.variants.iter().position(|v| v.id.as_str() == word)
    };
    let from = read().unwrap_or(0);
    let to = read().unwrap_or(if from == 0 { 1 } else { 0 });
    (from, to)
}

/// The same as an address.
pub fn rest_of(plan: &Plan, from: usize, to: usize) -> String {
    let id = |v: usize| {
        plan.variants
            .get(v)
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
    pub plan: Shared<Plan>,
    /// Index of the variant that is picked.
    pub picked: usize,
    /// Takes another one.
    pub on_pick: Callback<usize>,
}

/// All variants in a row, one of them picked.
pub fn variant_chips(props: &VariantChipsProps) -> Html {
    let chip = |(n, variant): (usize, &lodewright_planner::kit::Variant)| {
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
            <div class="variant-chips-row">{ for props.plan.variants.iter().enumerate().map(chip) }</div>
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
        assert_eq!(picked(&plan, ""), (0, 1));
        assert_eq!(picked(&plan, "summer"), (1, 0));
        assert_eq!(picked(&plan, "nobody/bare"), (0, 2));
        for (from, to) in [(0, 2), (2, 1), (1, 1)] {
            assert_eq!(picked(&plan, &rest_of(&plan, from, to)), (from, to));
        }
    }
}
