//! The drill list and the work order with boxes to tick.

use lodewright_planner::bench::{DrillFrom, WorkOrder};
use lodewright_planner::{Analysis, minutes};
use yew::prelude::*;

use crate::pages::bench::drills::{DrillGroup, EDGES, drill_groups};
use crate::pages::bench::marks::{NoReturnProps, no_return};
use crate::pages::bench::progress::cured_before;
use crate::pages::bench::view::{BenchView, RowWords, Run};

/// Holes by bit.
pub fn drilling(analysis: &Analysis) -> Html {
    let groups = drill_groups(analysis);
    if groups.is_empty() {
        return Html::default();
    }
    html! {
        <section>
            <h2>{ "Holes by bit" }</h2>
            <table>
                <thead>
                    <tr>
                        <th scope="col" class="sheet-tick">{ "Done" }</th><th scope="col">{ "Hole" }</th>
                        <th scope="col" class="sheet-number">{ "Depth" }</th><th scope="col" class="sheet-number">{ "Wall left" }</th>
                        <th scope="col">{ "From" }</th><th scope="col">{ "Place" }</th><th scope="col" class="sheet-number">{ "Within" }</th>
                    </tr>
                </thead>
                { for groups.iter().map(group) }
            </table>
            <p class="sheet-small">{ "Depth counts to the full diameter. " }{ EDGES }</p>
        </section>
    }
}

fn group(group: &DrillGroup) -> Html {
    let pilots = if group.pilots.is_empty() {
        String::new()
    } else {
        format!("{}; ", group.pilots)
    };
    let missing = if group.in_hand {
        ""
    } else {
        "; not at the desk"
    };
    html! {
        <tbody key={group.bit.clone()}>
            <tr class="sheet-group">
                <th scope="rowgroup" colspan="7">{ &group.bit }<span class="sheet-beside">{ format!("{pilots}point {} beyond the depth{missing}", group.point) }</span></th>
            </tr>
            { for group.rows.iter().map(|row| html! {
                <tr key={format!("{}:{}", row.part, row.place)}>
                    <td class="sheet-tick"><span class="box"></span></td>
                    <th scope="row"><strong>{ &row.part }</strong>{ ", " }{ &row.place }</th>
                    <td class="sheet-number">{ &row.depth }</td>
                    <td class="sheet-number">{ if row.wall.is_empty() { "open" } else { &row.wall } }</td>
                    <td class="sheet-nowrap">{ short_from(row.from) }</td>
                    <td>{ &row.at }</td>
                    <td class="sheet-number">{ &row.within }</td>
                </tr>
            }) }
        </tbody>
    }
}

/// Paper is narrow: the sentence below the table says the rest.
fn short_from(from: DrillFrom) -> &'static str {
    match from {
        DrillFrom::MatingFace => "mating face",
        DrillFrom::Inside => "inside",
        DrillFrom::Through => "right through",
    }
}

/// The work order.
pub fn order(analysis: &Analysis, done: &[String]) -> Html {
    let order = &analysis.order();
    if order.steps.is_empty() {
        return Html::default();
    }
    let view = BenchView::of(analysis);
    html! {
        <section>
            <h2>{ "Work order" }</h2>
            <p>{ times(order) }</p>
            <table class="sheet-work">
                <thead>
                    <tr><th scope="col" class="sheet-tick">{ "Done" }</th><th scope="col" class="sheet-number">{ "No." }</th><th scope="col">{ "Step" }</th><th scope="col" class="sheet-number">{ "Takes" }</th><th scope="col">{ "Then leave it" }</th></tr>
                </thead>
                { for view.runs.iter().map(|run| work_run(order, &view, run, done)) }
            </table>
        </section>
    }
}

fn times(order: &WorkOrder) -> String {
    let bound = if order.shortest {
        ", and no order of these steps is shorter".to_owned()
    } else if order.lower_bound_min > 0.0 {
        format!(
            "; no order takes less than {}",
            minutes(order.lower_bound_min)
        )
    } else {
        String::new()
    };
    format!(
        "Hands-on {}. With cures {}{bound}. Nights and breaks are not counted.",
        minutes(order.hands_min),
        minutes(order.total_min)
    )
}

fn work_run(order: &WorkOrder, view: &BenchView, run: &Run, done: &[String]) -> Html {
    let cured = order
        .steps
        .get(run.first)
        .map(|s| cured_before(order, s))
        .unwrap_or_default();
    let row = |i: usize| {
        let words = view.rows.get(i)?;
        Some(work_row(
            words,
            i + 1,
            done.iter().any(|d| *d == *words.key),
        ))
    };
    html! {
        <tbody key={run.first}>
            <tr class="sheet-group">
                <th scope="rowgroup" colspan="5">
                    { &run.title }<span class="sheet-beside">{ &run.size }</span>
                    if run.no_return {
                        <span class="sheet-beside">{ no_return(&yew::props!(NoReturnProps { words: "Point of no return" })) }</span>
                    }
                    if !cured.is_empty() {
                        <span class="sheet-beside">{ "must be cured: " }{ cured.join(", ") }</span>
                    }
                </th>
            </tr>
            { for (run.first..run.first + run.count).filter_map(row) }
        </tbody>
    }
}

fn work_row(words: &RowWords, number: usize, done: bool) -> Html {
    html! {
        <tr key={words.key.to_string()}>
            <td class="sheet-tick"><span class={classes!("box", done.then_some("is-ticked"))}>{ if done { "\u{2713}" } else { "" } }</span></td>
            <td class="sheet-number">{ number }</td>
            <td>{ &words.short }</td>
            <td class="sheet-number">{ &words.hands }</td>
            <td>{ &words.wait }</td>
        </tr>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn where_from_in_two_words() {
        assert_eq!(short_from(DrillFrom::Inside), "inside");
    }

    #[test]
    fn times_name_the_bound_only_where_there_is_one() {
        let mut order = WorkOrder {
            hands_min: 30.0,
            total_min: 90.0,
            lower_bound_min: 80.0,
            ..WorkOrder::default()
        };
        assert_eq!(
            times(&order),
            "Hands-on 30 min. With cures 1 h 30 min; no order takes less than 1 h 20 min. Nights and breaks are not counted."
        );
        order.shortest = true;
        assert!(times(&order).contains("no order of these steps is shorter"));
        order.shortest = false;
        order.lower_bound_min = 0.0;
        assert!(!times(&order).contains("no order"));
    }
}
