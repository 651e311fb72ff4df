//! The weakest joint of every variant.

use lodewright_planner::joints::HoldCase;
use lodewright_planner::kit::{Ix, Variant, VariantIx};
use lodewright_planner::{Analysis, JointAnswer, gives_way_words};
use yew::prelude::*;

use crate::format;
use crate::pages::joints::names::times;

/// One variant's weakest joint in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WeakestRow {
    /// The variant.
    pub variant: String,
    /// The joint; empty where the variant has none that could open.
    pub joint: String,
    /// `4.2 g`.
    pub margin: String,
    /// Whether the target is reached.
    pub reached: bool,
    /// What happens then.
    pub said: String,
}

/// By variant.
pub fn weakest_rows(analysis: &Analysis) -> Vec<WeakestRow> {
    let plan = analysis.plan();
    let row = |(v, variant): (VariantIx, &Variant)| {
        let weakest = analysis.weakest(v).map(|w| &analysis.joints()[w.joint]);
        let case = weakest.and_then(|joint| {
            let case = joint.report.holds.iter().find(|h| h.variant == v)?;
            Some((joint, case))
        });
        let said = |(joint, case): (&JointAnswer, &HoldCase)| WeakestRow {
            variant: variant.name.clone(),
            joint: joint.words.clone(),
            margin: format!("{} \u{d7}", times(case.margin_x_weight)),
            reached: case.reaches_target,
            said: gives_way_words(case.gives_way),
        };
        let none = || WeakestRow {
            variant: variant.name.clone(),
            joint: String::new(),
            margin: String::new(),
            reached: true,
            said: String::new(),
        };
        case.map_or_else(none, said)
    };
    VariantIx::each(&plan.variants).map(row).collect()
}

/// See the module.
pub fn table(analysis: &Analysis) -> Html {
    let plan = analysis.plan();
    if plan.variants.is_empty() {
        return Html::default();
    }
    let target = format::number(plan.settings.hold_target_g);
    html! {
        <section>
            <h2>{ "Weakest joint of each variant" }</h2>
            <table>
                <thead>
                    <tr><th scope="col">{ "Variant" }</th><th scope="col">{ "Joint" }</th><th scope="col">{ "Holds" }</th><th scope="col">{ "How it gives way" }</th></tr>
                </thead>
                <tbody>
                    { for weakest_rows(analysis).into_iter().map(row) }
                </tbody>
            </table>
            <p class="sheet-small">{ format!("In multiples of the carried weight, in the worst direction, all tolerances at their weak end; the target is {target}.") }</p>
        </section>
    }
}

fn row(row: WeakestRow) -> Html {
    html! {
        <tr key={row.variant.clone()}>
            <th scope="row">{ &row.variant }</th>
            if row.joint.is_empty() {
                <td colspan="3">{ "nothing that could open" }</td>
            } else {
                <td>{ &row.joint }</td>
                <td class="sheet-number">{ &row.margin }if !row.reached { <strong>{ " too little" }</strong> }</td>
                <td>{ &row.said }</td>
            }
        </tr>
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    #[test]
    fn every_variant_has_a_row_and_a_missed_target_shows() {
        let grid = "\tWinter\tSummer\tBare\nNose\tPlough\tHook\t-".to_owned();
        let mut plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        plan.settings.hold_target_g = 1000.0;
        let rows = weakest_rows(&Analysis::of(plan).unwrap());
        let names: Vec<_> = rows
            .iter()
            .map(|r| (r.variant.as_str(), r.joint.as_str(), r.reached))
            .collect();
        assert_eq!(
            names,
            [
                ("Winter", "Plough in Nose", false),
                ("Summer", "Hook in Nose", false),
                ("Bare", "", true)
            ]
        );
        assert!(rows[0].margin.ends_with(" \u{d7}"));
    }
}
