//! The measured speeds as one table of text, with what the ratios were taken at below it.

use super::of;
use anyhow::{Context, Result};
use serde_json::Value;

const HEADINGS: [&str; 9] = [
    "kernel",
    "native/s",
    "wasm/s",
    "native/wasm",
    "error",
    "getFT, call a pair",
    "getFT, call a path",
    "faces to 1e-3",
    "faces to 1e-6",
];
/// So many columns do without the other library.
const OWN: usize = 5;
const NOTES: &str = "\
Absolute timings depend on the machine and on what else it does; the ratios are what to quote.
error: largest relative difference from the exact force, plus that force's own bound. table_*: from tables made beforehand.
*_load: force and torque, as getFT gives; the others work out the force alone, as faces does.
";
const NOTES_ON_OTHERS: &str = "\
Nx: so many times as many forces as magpylib, both native and on one core. getFT: its force function at the first mesh good
to 1e-3. faces: Gauss quadrature of its field over both faces of the second magnet, all gaps in one call.
";

/// The table and its notes; `others` may be empty.
pub fn text(native: &[Value], wasm: &[Value], others: &[Value]) -> Result<String> {
    let shown = if others.is_empty() {
        OWN
    } else {
        HEADINGS.len()
    };
    let mut rows = vec![HEADINGS.map(str::to_owned)];
    for kernel in native {
        rows.push(row(kernel, wasm, others)?);
    }
    let rows: Vec<&[String]> = rows.iter().filter_map(|row| row.get(..shown)).collect();
    let mut text = format!("{}\n{NOTES}", aligned(&rows));
    if !others.is_empty() {
        text.push_str(NOTES_ON_OTHERS);
    }
    text.extend(others.iter().map(note));
    Ok(text)
}

fn row(kernel: &Value, wasm: &[Value], others: &[Value]) -> Result<[String; 9]> {
    let name = kernel["kernel"].as_str().context("a kernel has no name")?;
    let native_per_s = number(kernel, "per_s")?;
    let in_wasm = of(wasm, name).with_context(|| format!("{name} was not timed in wasm"))?;
    let wasm_per_s = number(in_wasm, "per_s")?;
    let other = of(others, name);
    let times = |key: &str| {
        other.map_or_else(
            || Ok("-".to_owned()),
            |other| number(other, key).map(|per_s| format!("{}x", grouped(native_per_s / per_s))),
        )
    };
    Ok([
        name.to_owned(),
        grouped(native_per_s),
        grouped(wasm_per_s),
        format!("{:.2}", native_per_s / wasm_per_s),
        number(kernel, "error").map_or_else(|_| "-".to_owned(), |e| format!("{e:.0e}")),
        times("calls_per_s")?,
        times("path_per_s")?,
        times("faces_per_s")?,
        times("fine_faces_per_s")?,
    ])
}

/// What one comparison was made at.
fn note(other: &Value) -> String {
    let get = |key: &str| number(other, key).unwrap_or(f64::NAN);
    let per_s = |key: &str| grouped(get(key));
    format!(
        "{}: magpylib {}, mesh {} (error {:.0e}) {} and {}/s; {} rings (error {:.0e}) {}/s; {} rings (error {:.0e}) {}/s.\n",
        other["kernel"].as_str().unwrap_or_default(),
        other["version"].as_str().unwrap_or_default(),
        other["mesh"],
        get("mesh_error"),
        per_s("calls_per_s"),
        per_s("path_per_s"),
        other["rings"],
        get("rings_error"),
        per_s("faces_per_s"),
        other["fine_rings"],
        get("fine_rings_error"),
        per_s("fine_faces_per_s"),
    )
}

fn number(from: &Value, key: &str) -> Result<f64> {
    from[key]
        .as_f64()
        .with_context(|| format!("{} has no {key}", from["kernel"]))
}

/// Whole above ten, with commas between thousands; two digits below.
fn grouped(number: f64) -> String {
    if number < 10.0 {
        return format!("{number:.1}");
    }
    let digits = format!("{number:.0}");
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// As [`aligned`], of rows of one length.
pub fn aligned_lines<const N: usize>(rows: &[[String; N]]) -> String {
    let rows: Vec<&[String]> = rows.iter().map(|row| row.as_slice()).collect();
    aligned(&rows)
}

/// Columns as wide as their widest cell: the first to the left, numbers to the right.
fn aligned(rows: &[&[String]]) -> String {
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(String::len).max().unwrap_or_default()
    };
    let cell = |(column, text): (usize, &String)| match column {
        0 => format!("{text:<0$}", width(0)),
        _ => format!("{text:>0$}", width(column)),
    };
    let line = |row: &&[String]| {
        let cells: Vec<String> = row.iter().enumerate().map(cell).collect();
        format!("{}\n", cells.join(" | "))
    };
    rows.iter().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn thousands_are_set_apart() {
        assert_eq!(grouped(1_234_567.4), "1,234,567");
        assert_eq!(grouped(123.0), "123");
        assert_eq!(grouped(2.04), "2.0");
    }

    #[test]
    fn ratios_are_native_over_the_others() {
        let native = [json!({ "kernel": "a", "per_s": 3000.0, "error": 2e-9 })];
        let wasm = [json!({ "kernel": "a", "per_s": 2000.0 })];
        let other = [
            json!({ "kernel": "a", "version": "6.0", "mesh": 500, "mesh_error": 1e-4, "rings": 8,
            "rings_error": 1e-5, "calls_per_s": 1.5, "path_per_s": 3.0, "faces_per_s": 1500.0,
            "fine_rings": 24, "fine_rings_error": 1e-7, "fine_faces_per_s": 150.0 }),
        ];
        let whole = text(&native, &wasm, &other).unwrap();
        let row = whole.lines().nth(1).unwrap();
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        assert_eq!(
            cells,
            [
                "a", "3,000", "2,000", "1.50", "2e-9", "2,000x", "1,000x", "2.0x", "20x"
            ]
        );
        let without = text(&native, &wasm, &[]).unwrap();
        assert!(!without.contains("magpylib"), "{without}");
    }

    #[test]
    fn a_kernel_that_wasm_lacks_is_an_error() {
        let native = [json!({ "kernel": "a", "per_s": 3000.0 })];
        assert!(text(&native, &[], &[]).is_err());
    }
}
