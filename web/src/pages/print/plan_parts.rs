//! The sheet's head, the grid, and what may be glued.

use lodewright_planner::kit::{PartIx, Plan};
use lodewright_planner::{Analysis, JointAnswer};
use yew::prelude::*;

/// Title, kit, note, and lines to fill in by hand.
pub fn head(plan: &Plan) -> Html {
    head_of(plan, &plan.note)
}

/// The same for a client, whom the builder's own note does not concern.
pub fn head_without_note(plan: &Plan) -> Html {
    head_of(plan, "")
}

fn head_of(plan: &Plan, note: &str) -> Html {
    html! {
        <header class="sheet-head">
            <h2 class="sheet-title">{ &plan.title }</h2>
            if !kit_words(plan).is_empty() {
                <p class="sheet-kit">{ kit_words(plan) }</p>
            }
            if !note.is_empty() {
                <p class="sheet-note">{ note.to_owned() }</p>
            }
            <div class="sheet-blanks">
                <span>{ "Date" }<span class="blank"></span></span>
                <span>{ "Built by" }<span class="blank"></span></span>
                <span>{ "For" }<span class="blank"></span></span>
            </div>
        </header>
    }
}

fn kit_words(plan: &Plan) -> String {
    let scale = (plan.kit.scale > 0).then(|| format!("1:{}", plan.kit.scale));
    let name = (!plan.kit.name.is_empty()).then(|| plan.kit.name.clone());
    [name, scale]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(", ")
}

/// Sockets down, variants across.
pub fn grid(plan: &Plan) -> Html {
    if plan.variants.is_empty() {
        return Html::default();
    }
    let host = |id| plan.part(id).map(|p| p.name.as_str()).unwrap_or_default();
    let cell = |variant, socket| match plan.cell_text(variant, socket).as_str() {
        "" | "-" => "\u{2013}".to_owned(),
        text => text.to_owned(),
    };
    html! {
        <section>
            <h2>{ "What sits where" }</h2>
            <table class="sheet-grid">
                <thead>
                    <tr>
                        <th scope="col">{ "Socket" }</th>
                        { for plan.variants.iter().map(|v| html! { <th key={v.id.to_string()} scope="col">{ &v.name }</th> }) }
                    </tr>
                </thead>
                <tbody>
                    { for plan.sockets.iter().map(|s| html! {
                        <tr key={s.id.to_string()}>
                            <th scope="row">{ &s.name }<span class="sheet-small">{ format!("on {}", host(&s.host)) }</span></th>
                            { for plan.variants.iter().map(|v| html! { <td key={v.id.to_string()}>{ cell(&v.id, &s.id) }</td> }) }
                        </tr>
                    }) }
                </tbody>
            </table>
        </section>
    }
}

/// Which parts become one piece, and which joints come apart.
pub fn glue(analysis: &Analysis) -> Html {
    let plan = analysis.plan();
    let name = |p: &PartIx| plan.parts[*p].name.clone();
    let groups: Vec<String> = analysis
        .glue()
        .groups
        .iter()
        .filter(|g| g.len() > 1)
        .map(|g| g.iter().map(name).collect::<Vec<_>>().join(" + "))
        .collect();
    let (apart, _): (Vec<&JointAnswer>, Vec<_>) = analysis
        .joints()
        .values()
        .iter()
        .partition(|j| j.separable.is_some());
    html! {
        <section>
            <h2>{ "What may be glued" }</h2>
            if groups.is_empty() {
                <p>{ "No two parts may be glued together for good." }</p>
            } else {
                <ul class="sheet-list">{ for groups.iter().map(|g| html! { <li key={g.clone()}>{ g }</li> }) }</ul>
            }
            if !apart.is_empty() {
                <table>
                    <thead><tr><th scope="col">{ "Comes apart" }</th><th scope="col">{ "Why" }</th></tr></thead>
                    <tbody>
                        { for apart.iter().map(|j| html! {
                            <tr key={j.words.clone()}><th scope="row">{ &j.words }</th><td>{ analysis.separable_words(j) }</td></tr>
                        }) }
                    </tbody>
                </table>
            }
        </section>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_kit_is_named_as_far_as_it_is_known() {
        let mut plan = Plan::empty("t");
        assert_eq!(kit_words(&plan), "");
        plan.kit.scale = 32;
        assert_eq!(kit_words(&plan), "1:32");
        plan.kit.name = "Railcar".to_owned();
        assert_eq!(kit_words(&plan), "Railcar, 1:32");
    }
}
