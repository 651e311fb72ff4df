//! Reads rows of numbers from CSV under a fixed header and appends computed columns.

use std::io::{self, Read, Write};
use std::process::ExitCode;

/// The input with the computed columns appended, or one line that says what is wrong and in which row.
pub fn append(
    input: impl Read,
    header: &[&str],
    added: &[&str],
    compute: impl Fn(&[f64]) -> Result<Vec<f64>, String>,
) -> Result<String, String> {
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .from_reader(input);
    let found = reader
        .headers()
        .map_err(|e| format!("the header cannot be read: {e}"))?;
    let found_text = found.iter().collect::<Vec<_>>().join(",");
    let wanted = header.join(",");
    if found_text != wanted {
        return Err(format!(
            "the header is \"{found_text}\"; it must be \"{wanted}\""
        ));
    }
    let mut out = format!("{wanted},{}\n", added.join(","));
    for (index, record) in reader.records().enumerate() {
        let line = index + 2;
        let record = record.map_err(|e| format!("line {line} cannot be read: {e}"))?;
        let numbers = parse(&record, header).map_err(|e| format!("line {line}: {e}"))?;
        let results = compute(&numbers).map_err(|e| format!("line {line}: {e}"))?;
        let cells = record
            .iter()
            .map(str::to_owned)
            .chain(results.iter().map(|x| format!("{x:?}")));
        out.push_str(&cells.collect::<Vec<_>>().join(","));
        out.push('\n');
    }
    Ok(out)
}

fn parse(record: &csv::StringRecord, header: &[&str]) -> Result<Vec<f64>, String> {
    header
        .iter()
        .zip(record)
        .map(|(name, cell)| match cell.parse::<f64>() {
            Ok(x) if x.is_finite() => Ok(x),
            _ => Err(format!(
                "{name} is \"{cell}\"; it must be a plain number such as 0.25"
            )),
        })
        .collect()
}

/// Writes the text to standard output; a closed pipe counts as failure.
pub fn print(text: &str) -> ExitCode {
    match io::stdout().lock().write_all(text.as_bytes()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(_) => ExitCode::FAILURE,
    }
}
