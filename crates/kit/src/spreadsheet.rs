//! Texts that no spreadsheet runs, whatever it takes for the end of a cell.

/// First characters at which spreadsheets take a cell for a formula, as the Open Worldwide Application Security Project's page
/// 'CSV Injection' lists them (from memory).
const RUN: [char; 7] = ['=', '+', '-', '@', '\t', '\r', '\n'];

/// Behind these a reader may begin a new cell: it splits at another character than the writer meant (comma, semicolon and tab
/// are all in use), and then takes quotation marks and line ends within a cell otherwise too.
const SPLITS: [char; 6] = [',', ';', '\t', '\r', '\n', '"'];

/// Words for an empty socket.
pub(crate) const NOTHING: [&str; 4] = ["-", "–", "—", "nothing"];

/// A text as a cell that no spreadsheet runs: an apostrophe before what looks like the beginning of a formula, which
/// [`crate::read_grid`] and [`crate::Edit::WriteCell`] take away again. A lone dash, the word for nothing, stays.
pub fn spreadsheet_cell(text: &str) -> String {
    if NOTHING.contains(&text) {
        return text.to_owned();
    }
    let mut out = String::with_capacity(text.len() + 1);
    let mut begins = true;
    for c in text.chars() {
        if begins && RUN.contains(&c) {
            out.push('\'');
        }
        begins = SPLITS.contains(&c);
        out.push(c);
    }
    out
}

/// The text of such a cell.
pub(crate) fn without_apostrophes(cell: &str) -> String {
    let mut out = String::with_capacity(cell.len());
    let mut begins = true;
    let mut rest = cell.chars().peekable();
    while let Some(c) = rest.next() {
        let guards = begins && c == '\'' && rest.peek().is_some_and(|next| RUN.contains(next));
        if !guards {
            begins = SPLITS.contains(&c);
            out.push(c);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn formulas_get_an_apostrophe_and_lose_it_again() {
        for (formula, cell) in [
            ("=1+1", "'=1+1"),
            ("-2+3", "'-2+3"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("\t=1", "'\t'=1"),
            ("Hook;=1", "Hook;'=1"),
            ("a,\"=1\"", "a,\"'=1\""),
        ] {
            assert_eq!(spreadsheet_cell(formula), cell);
            assert_eq!(without_apostrophes(cell), formula);
        }
        for plain in [
            "Hook", "", "-", "–", "Hook / -", "'s", "O'Hook", "3-2=1", "a, b",
        ] {
            assert_eq!(spreadsheet_cell(plain), plain);
            assert_eq!(without_apostrophes(plain), plain);
        }
    }

    /// All cells that a reader may find: quotation marks heeded or not, each way of splitting.
    fn cells(text: &str) -> Vec<String> {
        let mut cells = Vec::new();
        for split in [',', ';', '\t'] {
            for quoting in [true, false] {
                let mut reader = csv::ReaderBuilder::new()
                    .delimiter(split as u8)
                    .quoting(quoting)
                    .has_headers(false)
                    .flexible(true)
                    .from_reader(text.as_bytes());
                let records = reader.records().map(Result::unwrap);
                cells.extend(records.flat_map(|r| r.iter().map(str::to_owned).collect::<Vec<_>>()));
            }
        }
        cells
    }

    proptest! {
        /// Outside check: the csv crate writes and reads.
        #[test]
        fn no_reader_finds_a_formula(texts in prop::collection::vec("[-=+@,;\t\r\n\"' a]{0,8}", 1..4), tabs in any::<bool>()) {
            let delimiter = if tabs { b'\t' } else { b',' };
            prop_assume!(texts.iter().all(|t| t != "-"));
            let mut writer = csv::WriterBuilder::new().delimiter(delimiter).from_writer(Vec::new());
            writer.write_record(texts.iter().map(|t| spreadsheet_cell(t))).unwrap();
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            for cell in cells(&text) {
                let bare = cell.trim_start_matches(['"', '\t', '\r', '\n']);
                prop_assert!(!bare.starts_with(RUN), "{cell:?} in {text:?}");
            }
        }
    }
}
