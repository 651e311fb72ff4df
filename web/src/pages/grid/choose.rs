//! How a tap changes what a cell allows. No web types.

use lodewright_planner::kit::{Cell, Edit, Part, PartId, Plan, Pose, Seat, SocketId, VariantId};

/// The cell as the plan has it, or an empty one.
pub fn cell_of(plan: &Plan, socket: &SocketId, variant: &VariantId) -> Cell {
    let cell = plan.variant(variant).and_then(|v| v.cell(socket)).cloned();
    cell.unwrap_or_else(|| Cell {
        socket: socket.clone(),
        seats: Vec::new(),
        may_be_empty: false,
    })
}

/// After a tap on a part: it alone, or in a free choice one more or one fewer.
pub fn with_part(cell: &Cell, part: &PartId, free: bool) -> Cell {
    let mut next = cell.clone();
    let there = cell.seats.iter().position(|s| s.part == *part);
    match (free, there) {
        (false, Some(n)) => next.seats = cell.seats.get(n).cloned().into_iter().collect(),
        (false, None) => next.seats = vec![Seat::straight(part.clone())],
        (true, Some(n)) => drop(next.seats.remove(n)),
        (true, None) => next.seats.push(Seat::straight(part.clone())),
    }
    next.may_be_empty &= free && !next.seats.is_empty();
    next
}

/// After a tap on "nothing": nothing alone, or in a free choice one more or one fewer.
pub fn with_nothing(cell: &Cell, free: bool) -> Cell {
    let mut next = cell.clone();
    if free && !next.seats.is_empty() {
        next.may_be_empty = !cell.may_be_empty;
    } else {
        next.seats.clear();
        next.may_be_empty = false;
    }
    next
}

/// The first choice alone.
pub fn settled(cell: &Cell) -> Cell {
    Cell {
        seats: cell.seats.first().cloned().into_iter().collect(),
        may_be_empty: false,
        ..cell.clone()
    }
}

/// With another pose of one seat.
pub fn with_pose(cell: &Cell, seat: usize, pose: Pose) -> Cell {
    let mut next = cell.clone();
    if let Some(seat) = next.seats.get_mut(seat) {
        seat.pose = pose;
    }
    next
}

/// With one more pose of one seat's part: the next quarter turn that is not there yet. `None` where all four are.
pub fn with_another_pose(cell: &Cell, seat: usize) -> Option<Cell> {
    let like = cell.seats.get(seat)?;
    let turned = |turn_deg: f64| Seat {
        pose: Pose {
            turn_deg,
            ..like.pose
        },
        ..like.clone()
    };
    let next = [0.0, 90.0, 180.0, 270.0]
        .map(turned)
        .into_iter()
        .find(|s| !cell.seats.contains(s))?;
    let mut cell = cell.clone();
    cell.seats.push(next);
    Some(cell)
}

/// The edits after which a variant has the cells of another.
pub fn column(plan: &Plan, from: &VariantId, to: &VariantId) -> Vec<Edit> {
    plan.sockets
        .iter()
        .map(|s| Edit::PutCell(to.clone(), cell_of(plan, &s.id, from)))
        .collect()
}

/// The words of a cell with one more part, for a part that the plan does not have yet.
pub fn text_with(text: &str, name: &str, free: bool) -> String {
    if free && !text.is_empty() {
        format!("{text} / {name}")
    } else {
        name.to_owned()
    }
}

/// Parts that may sit in a socket, those already in its row first, then by name; `find` narrows them down.
pub fn candidates<'a>(plan: &'a Plan, socket: &SocketId, find: &str) -> Vec<&'a Part> {
    let host = plan.socket(socket).map(|s| &s.host);
    let find = find.trim().to_lowercase();
    let in_row = |part: &Part| {
        let mut cells = plan.variants.iter().filter_map(|v| v.cell(socket));
        cells.any(|c| c.seats.iter().any(|s| s.part == part.id))
    };
    let fits = |p: &&Part| {
        p.id != plan.base && Some(&p.id) != host && p.name.to_lowercase().contains(&find)
    };
    let mut parts: Vec<_> = plan.parts.iter().filter(fits).collect();
    parts.sort_by_cached_key(|p| (!in_row(p), p.name.to_lowercase()));
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_free_choice_may_hold_a_part_in_several_poses() {
        let mut cell = Cell {
            socket: "roof".into(),
            seats: vec![Seat::straight("rack".into())],
            may_be_empty: false,
        };
        for turn_deg in [90.0, 180.0, 270.0] {
            cell = with_another_pose(&cell, 0).unwrap();
            assert_eq!(cell.seats.last().unwrap().pose.turn_deg, turn_deg);
        }
        assert_eq!(with_another_pose(&cell, 0), None);
        assert_eq!(with_another_pose(&cell, 9), None);
    }
    use lodewright_planner::kit::Edit;

    fn cell(parts: &[&str], may_be_empty: bool) -> Cell {
        Cell {
            socket: "nose".into(),
            seats: parts.iter().map(|p| Seat::straight((*p).into())).collect(),
            may_be_empty,
        }
    }

    #[test]
    fn a_tap_replaces_or_joins() {
        let old = cell(&["plough"], false);
        assert_eq!(
            with_part(&old, &"hook".into(), false),
            cell(&["hook"], false)
        );
        assert_eq!(
            with_part(&old, &"hook".into(), true),
            cell(&["plough", "hook"], false)
        );
        assert_eq!(with_part(&old, &"plough".into(), true), cell(&[], false));
    }

    #[test]
    fn a_tap_on_the_part_that_is_there_keeps_its_pose() {
        let turned = with_pose(
            &cell(&["rack"], false),
            0,
            Pose {
                turn_deg: 180.0,
                over: false,
            },
        );
        assert_eq!(with_part(&turned, &"rack".into(), false), turned);
    }

    #[test]
    fn nothing_empties_or_joins_the_choice() {
        assert_eq!(
            with_nothing(&cell(&["a", "b"], false), false),
            cell(&[], false)
        );
        assert_eq!(with_nothing(&cell(&["a"], false), true), cell(&["a"], true));
        assert_eq!(settled(&cell(&["a", "b"], true)), cell(&["a"], false));
    }

    #[test]
    fn the_base_and_the_host_are_no_candidates() {
        let plan = Plan::empty("t")
            .edited(&Edit::PasteGrid(
                "\tA\nNose\tPlough\nRoof\tRack\n".to_owned(),
            ))
            .unwrap();
        let names: Vec<_> = candidates(&plan, &"roof".into(), "")
            .iter()
            .map(|p| p.name.as_str())
            .collect();
        assert_eq!(names, ["Rack", "Plough"]);
        assert_eq!(candidates(&plan, &"roof".into(), "PLO").len(), 1);
    }
}
