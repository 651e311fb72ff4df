//! A file of every version that was ever written is read, for good: `tests/versions` keeps them, and none of them is changed.
#![allow(clippy::unwrap_used, reason = "tests may stop at a fault")]
#![allow(clippy::disallowed_methods, reason = "tests read files")]

use std::path::Path;

use lodewright_planfile::{VERSION, read, write};

#[test]
fn files_of_every_version_are_read_and_written_as_today() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/versions");
    for version in 1..=VERSION {
        let bytes = std::fs::read(folder.join(format!("v{version}.lodewright.json"))).unwrap();
        let head = format!("\"version\": {version},");
        assert!(std::str::from_utf8(&bytes).unwrap().contains(&head));
        let plan = read(&bytes).unwrap().plan;
        assert_eq!(
            (plan.parts.len(), plan.sockets.len(), plan.variants.len()),
            (19, 14, 5)
        );
        let text = write(&plan).unwrap();
        assert_eq!(read(text.as_bytes()).unwrap().plan, plan);
        // Of the newest, the text too is the same, so that files can be compared.
        if version == VERSION {
            assert_eq!(text.as_bytes(), bytes);
        }
    }
}
