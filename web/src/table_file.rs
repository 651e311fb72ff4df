//! Lists as files for a spreadsheet.

use lodewright_planner::planfile;

use crate::files::{file_name, save_text};
use crate::store::{Action, Notice, Store};

/// Hands a list of a plan to the browser as a download: `Railcar work.csv`. The mark in front tells spreadsheets that it is
/// UTF-8.
pub fn save_table(store: &Store, title: &str, what: &str, rows: &str) {
    let name = file_name(title);
    let stem = name.strip_suffix(planfile::EXTENSION).unwrap_or(&name);
    let text = format!("\u{feff}{rows}");
    if let Err(said) = save_text(&format!("{stem} {what}.csv"), &text, "text/csv") {
        store.send(Action::Tell(Notice::refused(said)));
    }
}
