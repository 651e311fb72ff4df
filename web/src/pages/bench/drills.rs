//! The drill list in words, holes together that take the same bit. No web types.

use lodewright_planner::bench::{DrillFrom, DrillLine};
use lodewright_planner::kit::Plan;
use lodewright_planner::{Analysis, inch_words, list_mm, mm, place_words};

/// Holes of one bit.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillGroup {
    /// `5.1 mm bit`.
    pub bit: String,
    /// `pilots 1, 2.5 and 4 mm`; empty where none are needed.
    pub pilots: String,
    /// How far its point goes beyond the full diameter: `1.53 mm`.
    pub point: String,
    /// Whether the bit is at the desk.
    pub in_hand: bool,
    /// The holes.
    pub rows: Vec<DrillRow>,
}

/// One hole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DrillRow {
    /// The part.
    pub part: String,
    /// Where in it.
    pub place: String,
    /// `2.1 mm`, or `through`.
    pub depth: String,
    /// `0.6 mm`; empty where the hole is open to the mating plane.
    pub wall: String,
    /// From where.
    pub from: DrillFrom,
    /// `12 mm from the front edge, 8 mm from the left edge of the top`; both ends for a hole that goes through.
    pub at: String,
    /// How far it may be out of place and lean: `±0.5 mm, 1.1°`.
    pub within: String,
}

/// The list, by bit.
pub fn drill_groups(analysis: &Analysis) -> Vec<DrillGroup> {
    let plan = analysis.plan();
    let mut groups: Vec<(f64, DrillGroup)> = Vec::new();
    for line in analysis.drills() {
        let row = row(analysis, line);
        match groups.last_mut() {
            Some((bit_mm, group)) if *bit_mm == line.bit_mm => group.rows.push(row),
            _ => groups.push((line.bit_mm, group(plan, line, row))),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

fn group(plan: &Plan, line: &DrillLine, row: DrillRow) -> DrillGroup {
    let pilots = match line.pilots_mm.as_slice() {
        [] => String::new(),
        list => format!("pilots {} mm", list_mm(list)),
    };
    DrillGroup {
        bit: format!(
            "{} mm bit{}",
            mm(line.bit_mm),
            inch_words(plan, line.bit_mm)
        ),
        pilots,
        point: format!("{} mm", mm(line.point_mm)),
        in_hand: line.bit_in_hand,
        rows: vec![row],
    }
}

fn row(analysis: &Analysis, line: &DrillLine) -> DrillRow {
    let hole = analysis.hole_words(line.hole);
    let through = hole.faces.len() > 1;
    let wall = if line.wall_left_mm > 0.0 {
        format!("{} mm", mm(line.wall_left_mm))
    } else {
        String::new()
    };
    let at = hole.faces.iter().map(|f| place_words(f.on_part));
    let at: Vec<String> = at.collect();
    DrillRow {
        place: hole.place().to_owned(),
        part: hole.part,
        depth: if line.misfit.is_some() {
            "not yet: see its joint".to_owned()
        } else if through {
            "through".to_owned()
        } else {
            format!("{} mm", mm(line.depth_mm))
        },
        wall,
        from: line.from,
        at: at.join("; far side "),
        within: format!(
            "\u{b1}{} mm, {:.1}\u{b0}",
            mm(line.place_within_mm),
            line.lean_within_deg
        ),
    }
}

/// How to read the places.
pub const EDGES: &str = "A place is measured from the edges of its part\u{2019}s outer size, on the face that is named; front, left and top as the part is drawn.";

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::Edit;

    use super::*;

    #[test]
    fn every_hole_is_listed_once_under_its_bit() {
        let grid = "\tWinter\tSummer\nNose\tPlough\tHook".to_owned();
        let mut plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        plan.sockets[0].sites[0].at_mm = [3.0, -2.0];
        plan.sockets[0].sites[0].wall_mm = 0.6;
        plan.settings.flat_cutter = true;
        plan.sockets[0].at_mm = Some([10.0, 5.0, 15.0]);
        let analysis = Analysis::of(plan.clone()).unwrap();
        let groups = drill_groups(&analysis);
        let rows: Vec<&DrillRow> = groups.iter().flat_map(|g| &g.rows).collect();
        assert_eq!(rows.len(), analysis.drills().len());
        let base = rows.iter().find(|r| r.part == "Base").unwrap();
        assert_eq!(
            (base.at.as_str(), base.wall.as_str()),
            (
                "27 mm from the front edge, 17 mm from the left edge of the top",
                "0.6 mm"
            )
        );
        assert_eq!(base.from, DrillFrom::Inside);
        for pair in groups.windows(2) {
            assert_ne!(pair[0].bit, pair[1].bit);
        }
    }
}
