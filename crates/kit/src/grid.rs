//! The grid of sockets and variants as text: a cell as typed, a whole grid as pasted from a spreadsheet.

use crate::spreadsheet::{NOTHING, without_apostrophes};
use crate::{Cell, Part, Plan, Refusal, Seat, SocketId};

/// Separates the choices of a free option in a cell.
const OR: &str = "/";
/// A grid as pasted: variants across, sockets down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GridText {
    /// Names of the variants.
    pub variants: Vec<String>,
    /// Name of a socket and one text a variant.
    pub rows: Vec<(String, Vec<String>)>,
}

/// Reads tab-separated text as a spreadsheet copies it: the first row names variants from its second cell on, each
/// further row a socket and what sits there.
///
/// # Errors
/// Refuses text without a second column or second row, and more rows or columns than a plan may have.
pub fn read_grid(text: &str) -> Result<GridText, Refusal> {
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(b'\t')
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    for record in reader.records().take(crate::limits::SOCKETS + 2) {
        let record =
            record.map_err(|e| Refusal::new(format!("The pasted text is not a table: {e}.")))?;
        rows.push(
            record
                .iter()
                .map(|cell| without_apostrophes(cell.trim()))
                .collect::<Vec<_>>(),
        );
    }
    rows.retain(|row| row.iter().any(|cell| !cell.is_empty()));
    if rows.is_empty() {
        return Err(Refusal::new(
            "There is nothing to paste: copy the cells in the spreadsheet first.",
        ));
    }
    let head = rows.remove(0);
    let mut variants: Vec<String> = head.into_iter().skip(1).collect();
    while variants.last().is_some_and(String::is_empty) {
        variants.pop();
    }
    if variants.is_empty() || rows.is_empty() {
        return Err(Refusal::new(
            "A grid needs a first row with the variants' names from its second cell on, and a row for each socket.",
        ));
    }
    if variants.len() > crate::limits::VARIANTS || rows.len() > crate::limits::SOCKETS {
        return Err(Refusal::new(format!(
            "A plan holds at most {} variants and {} sockets; paste fewer.",
            crate::limits::VARIANTS,
            crate::limits::SOCKETS
        )));
    }
    let rows = rows.into_iter().map(|mut row| {
        let name = if row.is_empty() {
            String::new()
        } else {
            row.remove(0)
        };
        (name, row)
    });
    Ok(GridText {
        rows: rows.filter(|(name, _)| !name.is_empty()).collect(),
        variants,
    })
}

/// A cell as text: choices with `/` between them, a turn in degrees behind the name.
pub(crate) fn cell_text(plan: &Plan, cell: &Cell) -> String {
    let mut words: Vec<String> = cell
        .seats
        .iter()
        .map(|seat| {
            let name = plan
                .part(&seat.part)
                .map_or(seat.part.as_str(), |p| p.name.as_str());
            if seat.pose.turn_deg == 0.0 {
                name.to_owned()
            } else {
                format!("{name} {}°", seat.pose.turn_deg)
            }
        })
        .collect();
    if cell.may_be_empty && !cell.seats.is_empty() {
        words.push("-".to_owned());
    }
    words.join(" / ")
}

/// Reads a cell as typed. Parts that are not in the plan yet are added to it.
pub(crate) fn write_cell(
    plan: &mut Plan,
    old: Option<&Cell>,
    socket: &SocketId,
    text: &str,
) -> Cell {
    let mut cell = Cell {
        socket: socket.clone(),
        seats: Vec::new(),
        may_be_empty: false,
    };
    for word in without_apostrophes(text.trim()).split(OR).map(str::trim) {
        if word.is_empty() || NOTHING.contains(&word.to_lowercase().as_str()) {
            cell.may_be_empty |= !word.is_empty();
            continue;
        }
        let (name, turn_deg) = split_turn(word);
        let mut seat = Seat::straight(part_named(plan, name));
        seat.pose.turn_deg = turn_deg;
        // The words do not tell plug and turning over: keep them where the part was there before.
        if let Some(before) = old.and_then(|o| o.seats.iter().find(|s| s.part == seat.part)) {
            seat.plug.clone_from(&before.plug);
            seat.pose.over = before.pose.over;
        }
        if !cell.seats.contains(&seat) {
            cell.seats.push(seat);
        }
    }
    if cell.seats.is_empty() {
        cell.may_be_empty = false;
    }
    cell
}

/// `Roof frame 180°` is the name and the turn.
fn split_turn(word: &str) -> (&str, f64) {
    word.strip_suffix('°')
        .and_then(|rest| rest.rsplit_once(' '))
        .and_then(|(name, deg)| {
            Some((
                name.trim(),
                deg.parse::<f64>().ok().filter(|d| d.abs() <= 360.0)?,
            ))
        })
        .filter(|(name, _)| !name.is_empty())
        .unwrap_or((word, 0.0))
}

fn part_named(plan: &mut Plan, name: &str) -> crate::PartId {
    let lower = name.to_lowercase();
    if let Some(part) = plan.parts.iter().find(|p| p.name.to_lowercase() == lower) {
        return part.id.clone();
    }
    let id = crate::PartId::new(crate::slug(name, plan.parts.iter().map(|p| p.id.as_str())));
    plan.parts.push(Part::plain(id.clone(), name.to_owned()));
    id
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_a_spreadsheet_copies() {
        let grid = read_grid("\tA\tB\nNose\tPlough\t\"Hook, long\"\nRoof\t-\n\n").unwrap();
        assert_eq!(grid.variants, ["A", "B"]);
        assert_eq!(
            grid.rows[0],
            (
                "Nose".to_owned(),
                vec!["Plough".to_owned(), "Hook, long".to_owned()]
            )
        );
        assert_eq!(grid.rows[1].1, ["-"]);
    }

    #[test]
    fn apostrophes_before_formulas_are_taken_away() {
        let grid = read_grid("\tA\n'=Nose\t'=Plough / Hook\n").unwrap();
        assert_eq!(
            grid.rows[0],
            ("=Nose".to_owned(), vec!["=Plough / Hook".to_owned()])
        );
        let mut plan = Plan::empty("t");
        write_cell(&mut plan, None, &SocketId::new("nose"), "'=Plough");
        assert_eq!(plan.parts[1].name, "=Plough");
    }

    #[test]
    fn refuses_what_is_no_grid() {
        for text in ["", "\n\n", "only one cell", "\tA\tB\n", "x\nNose\tPlough"] {
            assert!(read_grid(text).is_err(), "{text:?}");
        }
    }

    #[test]
    fn turns_are_read_and_written() {
        let mut plan = Plan::empty("t");
        let socket = SocketId::new("roof");
        let cell = write_cell(&mut plan, None, &socket, "Roof frame 180° / Mast / -");
        assert_eq!(cell.seats[0].pose.turn_deg, 180.0);
        assert_eq!(cell.seats.len(), 2);
        assert!(cell.may_be_empty);
        assert_eq!(cell_text(&plan, &cell), "Roof frame 180° / Mast / -");
        assert_eq!(
            write_cell(&mut plan, None, &socket, "roof FRAME").seats[0]
                .part
                .as_str(),
            "roof-frame"
        );
    }
}
