//! Where the reader is in the grid, and how keys move from there. No web types.

use lodewright_planner::kit::{Plan, SocketId, VariantId};
use yew::AttrValue;

/// A cell, or the head of a row or column.
#[derive(Clone, Debug, PartialEq)]
pub struct Pick {
    /// The row; none for the heads of the columns.
    pub socket: Option<SocketId>,
    /// The column; none for the heads of the rows.
    pub variant: Option<VariantId>,
}

impl Pick {
    /// The head of a row.
    pub fn socket(id: &SocketId) -> Self {
        Self {
            socket: Some(id.clone()),
            variant: None,
        }
    }

    /// The head of a column.
    pub fn variant(id: &VariantId) -> Self {
        Self {
            socket: None,
            variant: Some(id.clone()),
        }
    }

    /// A cell.
    pub fn cell(socket: &SocketId, variant: &VariantId) -> Self {
        Self {
            socket: Some(socket.clone()),
            variant: Some(variant.clone()),
        }
    }

    /// The mark in the page: `socket/variant`, with `*` for a head.
    pub fn mark(&self) -> String {
        let word = |id: Option<&str>| id.unwrap_or("*").to_owned();
        format!(
            "{}/{}",
            word(self.socket.as_ref().map(SocketId::as_str)),
            word(self.variant.as_ref().map(VariantId::as_str))
        )
    }

    /// Reads a mark.
    pub fn read(mark: &str) -> Option<Self> {
        let (socket, variant) = mark.split_once('/')?;
        let id = |word: &str| (word != "*").then(|| word.to_owned());
        Some(Self {
            socket: id(socket).map(SocketId::new),
            variant: id(variant).map(VariantId::new),
        })
    }

    /// Whether the plan still has it.
    pub fn is_in(&self, plan: &Plan) -> bool {
        self.place(plan).is_some()
    }

    /// Row and column, heads counting as 0.
    pub fn place(&self, plan: &Plan) -> Option<(usize, usize)> {
        let row = match &self.socket {
            None => 0,
            Some(id) => plan.sockets.iter().position(|s| s.id == *id)? + 1,
        };
        let column = match &self.variant {
            None => 0,
            Some(id) => plan.variants.iter().position(|v| v.id == *id)? + 1,
        };
        Some((row, column))
    }

    /// What lies at a row and column; none outside the grid and in its empty corner.
    pub fn at(plan: &Plan, row: usize, column: usize) -> Option<Self> {
        if row == 0 && column == 0 {
            return None;
        }
        Some(Self {
            socket: match row.checked_sub(1) {
                None => None,
                Some(n) => Some(plan.sockets.get(n)?.id.clone()),
            },
            variant: match column.checked_sub(1) {
                None => None,
                Some(n) => Some(plan.variants.get(n)?.id.clone()),
            },
        })
    }
}

/// A move through the grid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// To the row above.
    Up,
    /// To the row below.
    Down,
    /// To the column before.
    Left,
    /// To the column after.
    Right,
    /// To the column after, then to the next row's first cell.
    Next,
    /// To the column before, then to the last cell of the row above.
    Previous,
    /// To the row's first cell.
    RowStart,
    /// To the row's last cell.
    RowEnd,
    /// To the grid's first cell.
    First,
    /// To the grid's last cell.
    Last,
    /// Nowhere.
    Stay,
}

/// Where a move ends; none where it would leave the grid.
pub fn moved(plan: &Plan, from: &Pick, step: Step) -> Option<Pick> {
    let (row, column) = from.place(plan)?;
    let (rows, columns) = (plan.sockets.len(), plan.variants.len());
    let (row, column) = match step {
        Step::Up => (row.checked_sub(1)?, column),
        Step::Down => (row + 1, column),
        Step::Left => (row, column.checked_sub(1)?),
        Step::Right => (row, column + 1),
        Step::Next if column >= columns => (row + 1, 1.min(columns)),
        Step::Next => (row, column + 1),
        Step::Previous if column <= 1 => (row.checked_sub(1)?, columns),
        Step::Previous => (row, column - 1),
        Step::RowStart => (row, 1.min(columns)),
        Step::RowEnd => (row, columns),
        Step::First => (1.min(rows), 1.min(columns)),
        Step::Last => (rows, columns),
        Step::Stay => (row, column),
    };
    Pick::at(plan, row, column)
}

/// The reader's place and what is going on there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cursor {
    /// The place.
    pub pick: Option<Pick>,
    /// The text with which an edit in place began.
    pub editing: Option<AttrValue>,
    /// What the dock shows.
    pub dock: DockShows,
    /// Whether the browser's focus follows to the place.
    pub grabs: bool,
}

/// What the dock shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DockShows {
    /// Nothing but a hint.
    #[default]
    Nothing,
    /// What may be done at the place.
    Pick,
    /// A field for a grid from a spreadsheet.
    Paste,
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::Edit;

    use super::*;

    fn plan() -> Plan {
        let grid = "\tA\tB\nNose\tPlough\tHook\nRoof\tRack\t-\n";
        Plan::empty("t")
            .edited(&Edit::PasteGrid(grid.to_owned()))
            .unwrap()
    }

    fn walk(from: &str, steps: &[Step]) -> Option<String> {
        let plan = plan();
        let start = Pick::read(from)?;
        let end = steps
            .iter()
            .try_fold(start, |at, step| moved(&plan, &at, *step))?;
        Some(end.mark())
    }

    #[test]
    fn arrows_walk_the_grid_and_its_heads() {
        assert_eq!(
            walk("nose/a", &[Step::Down, Step::Right]).as_deref(),
            Some("roof/b")
        );
        assert_eq!(walk("nose/a", &[Step::Up]).as_deref(), Some("*/a"));
        assert_eq!(walk("nose/a", &[Step::Left]).as_deref(), Some("nose/*"));
    }

    #[test]
    fn arrows_stop_at_the_edge_and_at_the_corner() {
        assert_eq!(walk("roof/b", &[Step::Down]), None);
        assert_eq!(walk("roof/b", &[Step::Right]), None);
        assert_eq!(walk("*/a", &[Step::Left]), None);
        assert_eq!(walk("gone/a", &[Step::Left]), None);
    }

    #[test]
    fn tab_runs_through_the_cells_and_out_at_the_end() {
        assert_eq!(walk("nose/b", &[Step::Next]).as_deref(), Some("roof/a"));
        assert_eq!(walk("roof/a", &[Step::Previous]).as_deref(), Some("nose/b"));
        assert_eq!(walk("roof/b", &[Step::Next]), None);
        assert_eq!(walk("nose/b", &[Step::First]).as_deref(), Some("nose/a"));
        assert_eq!(walk("nose/a", &[Step::Last]).as_deref(), Some("roof/b"));
    }

    #[test]
    fn marks_are_read_as_written() {
        for mark in ["nose/a", "*/a", "nose/*"] {
            assert_eq!(Pick::read(mark).unwrap().mark(), mark);
        }
    }
}
