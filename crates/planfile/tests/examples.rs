//! The sample plans: they load without a word and are stored just as they would be saved. `UPDATE_EXAMPLES=1` makes the
//! minimal one anew and tidies the demo after a change by hand.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "tests may stop at a fault"
)]

mod support;

use lodewright_kit::{Edit, Plan};
use lodewright_planfile::{EXTENSION, read, write};

/// The sample of this name, after a look at its file; `fresh` is what the file must hold, where that is known.
fn sample(name: &str, fresh: Option<&Plan>) -> Plan {
    let path = support::examples().join(format!("{name}{EXTENSION}"));
    let update = std::env::var_os("UPDATE_EXAMPLES").is_some();
    if let (true, Some(fresh)) = (update, fresh) {
        std::fs::write(&path, write(fresh).unwrap()).unwrap();
    }
    let bytes = std::fs::read(&path).unwrap();
    let loaded = read(&bytes).unwrap_or_else(|e| panic!("{name}: {e}"));
    assert!(loaded.notes.is_empty(), "{name}: {:#?}", loaded.notes);
    let text = write(&loaded.plan).unwrap();
    if update {
        std::fs::write(&path, &text).unwrap();
    } else {
        assert_eq!(String::from_utf8(bytes).unwrap(), text, "{name}");
    }
    loaded.plan
}

/// Sockets down, variants across, as a spreadsheet copies it.
const MINIMAL: &str = "\tGoods\tMail\tWorks\n\
    Bed\tCrate load\tMail compartment\t-\n\
    Nose\tBuffer beam\tBuffer beam\tSweeper\n\
    Tail\tTail lamp\t-\tTail lamp\n";

#[test]
fn the_minimal_plan_is_what_one_pasted_grid_gives() {
    let edits = [
        Edit::SetNote(
            "Invented data: one grid as typed, everything else as the planner assumes it."
                .to_owned(),
        ),
        Edit::PasteGrid(MINIMAL.to_owned()),
    ];
    let from_grid = edits
        .iter()
        .fold(Plan::empty("Three-way flat railcar"), |plan, edit| {
            plan.edited(edit).unwrap()
        });
    let plan = sample("minimal", Some(&from_grid));
    assert_eq!(plan, from_grid);
    assert_eq!(
        (plan.sockets.len(), plan.variants.len(), plan.parts.len()),
        (3, 3, 6)
    );
}
