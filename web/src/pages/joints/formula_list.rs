//! Every number of a joint with its formula and what went in.

use lodewright_planner::{Formula, formulas};
use yew::prelude::*;

use super::force_window::CloseProps;
use crate::format::fixed;
use crate::pages::how;

/// See the module.
pub fn formula_list(props: &CloseProps) -> Html {
    let list = formulas(&props.derived.plan, &props.studied.model);
    html! {
        <div class="formulas" data-test="formulas">
            <p>{ how::link("hold", "Sources, and how far to trust these") }</p>
            { for list.iter().enumerate().map(|(n, f)| html! { <div key={n}>{ one(f) }</div> }) }
        </div>
    }
}

fn one(f: &Formula) -> Html {
    html! {
        <details class="formula">
            <summary><span>{ &f.name }</span><strong>{ value(f.result, f.unit) }</strong></summary>
            <p class="formula-text">{ f.formula }</p>
            <ul>{ for f.inputs.iter().map(|i| html! {
                <li key={format!("{}{}", i.sign, i.what)}><strong>{ i.sign }</strong>{ " = " }{ value(i.value, i.unit) }<span class="quiet">{ ", " }{ i.what }</span></li>
            }) }</ul>
            <p class="quiet">{ f.source }</p>
        </details>
    }
}

/// Three digits that count, and the unit.
fn value(value: f64, unit: &str) -> String {
    if !value.is_finite() {
        return "without end".to_owned();
    }
    let size = value.abs();
    let digits = match size {
        s if s >= 100.0 => 0,
        s if s >= 10.0 => 1,
        s if s >= 1.0 || s == 0.0 => 2,
        s if s >= 0.1 => 3,
        _ => 4,
    };
    let number = fixed(value, digits);
    match unit {
        "" => number,
        "g" => format!("{number}\u{a0}\u{d7}\u{a0}weight"),
        unit => format!("{number}\u{a0}{unit}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_have_three_digits_that_count() {
        assert_eq!(value(0.01234, "N"), "0.0123\u{a0}N");
        assert_eq!(value(2.34567, ""), "2.35");
        assert_eq!(value(f64::INFINITY, "g"), "without end");
    }
}
