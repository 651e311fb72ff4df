//! Reads the reference tables for the tests.
#![allow(dead_code)] // each test program uses its own share

use std::collections::BTreeMap;

/// One row of a table by column name.
pub struct Row(BTreeMap<String, String>);

impl Row {
    /// The number in a column.
    pub fn num(&self, column: &str) -> f64 {
        self.text(column)
            .parse()
            .unwrap_or_else(|_| panic!("{column} holds no number"))
    }

    /// Whether there is such a column.
    pub fn has(&self, column: &str) -> bool {
        self.0.contains_key(column)
    }

    /// The text in a column.
    pub fn text(&self, column: &str) -> &str {
        self.0
            .get(column)
            .unwrap_or_else(|| panic!("no column {column}"))
    }
}

/// All rows of `tests/reference/<name>`, of which there must be at least `least`.
pub fn table(name: &str, least: usize) -> Vec<Row> {
    let path = format!(
        "{}/../../tests/reference/{name}",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"));
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().expect("a header").split(',').collect();
    let rows: Vec<Row> = lines
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            assert_eq!(cells.len(), header.len(), "{name}: {line}");
            Row(header
                .iter()
                .zip(cells)
                .map(|(h, c)| ((*h).to_owned(), c.to_owned()))
                .collect())
        })
        .collect();
    assert!(
        rows.len() >= least,
        "{name} has {} rows, expected {least}",
        rows.len()
    );
    rows
}

/// Asserts that two numbers agree within a relative tolerance.
#[track_caller]
pub fn close(got: f64, want: f64, rel: f64) {
    assert!(
        (got - want).abs() <= rel * want.abs(),
        "got {got}, want {want}, relative {}",
        got / want - 1.0
    );
}
