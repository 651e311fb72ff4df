//! Cells from the clipboard, written over the grid from the cursor on.

use lodewright_planner::kit::{Edit, Plan};

use super::cursor::Pick;

/// The edits that a pasted block of cells makes, its first cell at the cursor; what would fall outside is left out.
pub fn block(plan: &Plan, at: &Pick, text: &str) -> Vec<Edit> {
    let Some((row, column)) = at.place(plan) else {
        return Vec::new();
    };
    let lines = text.trim_end_matches(['\n', '\r']).lines();
    let cells = lines.enumerate().flat_map(|(down, line)| {
        line.split('\t')
            .enumerate()
            .map(move |(right, text)| (row + down, column + right, text.trim()))
    });
    cells
        .filter_map(|(row, column, text)| write(&Pick::at(plan, row, column)?, text))
        .collect()
}

/// The edit that writes one text at one place; heads are renamed by their own edits and left alone here.
fn write(pick: &Pick, text: &str) -> Option<Edit> {
    Some(Edit::WriteCell {
        socket: pick.socket.clone()?,
        variant: pick.variant.clone()?,
        text: text.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_block_is_written_from_the_cursor_and_cut_at_the_edge() {
        let grid = "\tA\tB\nNose\tPlough\tHook\nRoof\tRack\t-\n";
        let plan = Plan::empty("t")
            .edited(&Edit::PasteGrid(grid.to_owned()))
            .unwrap();
        let edits = block(
            &plan,
            &Pick::read("nose/b").unwrap(),
            "Bell\tover the edge\nMast\r\n\nbelow",
        );
        let plan = edits.iter().fold(plan, |p, e| p.edited(e).unwrap());
        assert_eq!(plan.cell_text(&"b".into(), &"nose".into()), "Bell");
        assert_eq!(plan.cell_text(&"b".into(), &"roof".into()), "Mast");
        assert_eq!(plan.cell_text(&"a".into(), &"nose".into()), "Plough");
        assert_eq!(edits.len(), 2);
    }
}
