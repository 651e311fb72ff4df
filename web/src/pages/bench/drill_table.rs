//! The drill list as tables, one for each bit.

use lodewright_planner::from_words;
use yew::prelude::*;

use super::drills::{DrillGroup, DrillRow, EDGES, drill_groups};
use crate::format;
use crate::store::Analysis;

/// Props of [`drill_table`].
#[derive(PartialEq, Properties)]
pub struct DrillTableProps {
    /// The answers.
    pub analysis: Analysis,
}

/// See the module.
pub fn drill_table(props: &DrillTableProps) -> Html {
    let groups = drill_groups(&props.analysis);
    if groups.is_empty() {
        return html! { <p class="quiet">{ "No hole is needed: nothing in this plan takes a magnet or a steel disc yet." }</p> };
    }
    html! {
        <>
            { for groups.iter().map(table) }
            <p class="fine">{ EDGES }</p>
        </>
    }
}

/// What stands beside the bit.
pub fn beside_the_bit(group: &DrillGroup) -> String {
    let holes = format::count(group.rows.len(), "hole", "holes");
    let pilots = if group.pilots.is_empty() {
        String::new()
    } else {
        format!("{}, ", group.pilots)
    };
    let missing = if group.in_hand {
        ""
    } else {
        ". This bit is not at the desk"
    };
    format!(
        "{holes}, {pilots}point {} beyond the depth{missing}",
        group.point
    )
}

fn table(group: &DrillGroup) -> Html {
    html! {
        <table key={group.bit.clone()} class="drill-table">
            <caption><strong>{ &group.bit }</strong>{ " " }<span>{ beside_the_bit(group) }</span></caption>
            <thead>
                <tr>
                    <th scope="col">{ "Hole" }</th>
                    <th scope="col">{ "Depth" }</th>
                    <th scope="col">{ "Wall left" }</th>
                    <th scope="col">{ "From" }</th>
                    <th scope="col">{ "Place, mm" }</th>
                    <th scope="col">{ "Within" }</th>
                </tr>
            </thead>
            <tbody>{ for group.rows.iter().map(row) }</tbody>
        </table>
    }
}

fn row(row: &DrillRow) -> Html {
    let wall = if row.wall.is_empty() {
        "open"
    } else {
        &row.wall
    };
    html! {
        <tr key={format!("{}:{}", row.part, row.place)} data-test="drill-row">
            <th scope="row"><strong>{ &row.part }</strong>{ ", " }{ &row.place }</th>
            <td data-label="Depth">{ &row.depth }</td>
            <td data-label="Wall left">{ wall }</td>
            <td data-label="From">{ from_words(row.from) }</td>
            <td data-label="Place">{ &row.at }</td>
            <td data-label="Within">{ &row.within }</td>
        </tr>
    }
}
