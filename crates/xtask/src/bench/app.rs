//! The app as a whole: size of its files, start, edit to answer, memory and Lighthouse in Chromium, beside our own budgets.

use crate::{Profile, chrome, command, npm, server, setup, sizes, workspace};
use anyhow::{Context, Result};
use serde_json::{Value, json};
use std::io::Write;
use std::path::Path;
use std::process::Command;

const NOTES: &str = "\
Budgets are our own. Times are medians; slowed: processor four times slower, 9 Mbit/s and 100 ms of latency. Warm: the second
start, served by the service worker. Generated plans: four variants, three parts taking turns in a socket, in every fourth
socket one that stays. Edit to answer: from a tap on undo to the frame that shows the new answers on the page of joints, the
20 ms included that the app waits for the plan to settle. Plan opened: from a tap on its title among all plans to the frame that
shows its grid, in an app that has just started. Of the scores out of 100 more is better, of all else less.
";

/// Measures and gives the table as text.
pub fn table() -> Result<String> {
    let site = workspace::target()?.join("site-web");
    println!("Building the app as it is released.");
    server::rebuild(Profile::Web, &site)?;
    let sizes = Sizes::of(&site)?;
    let measured = in_chromium(&site)?;
    Ok(format!("{}{NOTES}", text(&rows(&sizes, &measured)?)))
}

fn in_chromium(site: &Path) -> Result<Value> {
    let node = command::find("node").context("node is not installed")?;
    let address = server::start(site, 0, "/")?;
    let given = json!({
        "address": format!("http://{address}/"),
        "chromium": setup::browser()?.chromium,
        "flags": chrome::FLAGS,
        "playwright": npm::package("playwright-core")?,
        // Of the release that is pinned: the newest that Node 20 runs.
        "lighthouse": npm::package("lighthouse")?,
    });
    println!("Timing the app in headless Chromium; this takes a few minutes.");
    let script = workspace::root().join("crates/xtask/src/bench/app.mjs");
    let told = command::text(Command::new(node).arg(script).arg(given.to_string()))?;
    let line = told.lines().last().unwrap_or_default();
    serde_json::from_str(line).context("the script's last line is no JSON")
}

/// Bytes as they are, gzipped and by brotli.
type Bytes = [usize; 3];

/// Bytes of the wasm and of all files: what comes before the page of all plans stands, and everything.
#[derive(Default)]
struct Sizes {
    first_wasm: Bytes,
    first: Bytes,
    wasm: Bytes,
    all: Bytes,
}

impl Sizes {
    fn of(site: &Path) -> Result<Self> {
        let mut sizes = Self::default();
        for file in sizes::files_under(site)? {
            let kind = file.extension().unwrap_or_default();
            if kind == "gz" {
                continue;
            }
            let bytes = std::fs::read(site.join(&file))?;
            let of_file = [
                bytes.len(),
                sizes::gzip(&bytes)?.len(),
                brotli(&bytes)?.len(),
            ];
            let (wasm, first) = (kind == "wasm", comes_first(&file));
            for (counts, sum) in [
                (true, &mut sizes.all),
                (wasm, &mut sizes.wasm),
                (first, &mut sizes.first),
                (wasm && first, &mut sizes.first_wasm),
            ] {
                for (sum, size) in sum.iter_mut().zip(of_file).filter(|_| counts) {
                    *sum += size;
                }
            }
        }
        Ok(sizes)
    }
}

/// Whether a page that opens waits for the file: not for pieces, which are named by the build, nor for what runs beside the page.
fn comes_first(file: &Path) -> bool {
    let name = file.file_name().unwrap_or_default().to_string_lossy();
    match file.extension().and_then(|e| e.to_str()) {
        Some("wasm") => name == "app_bg.wasm",
        Some("png") => false,
        _ => name != "worker.js" && name != "sw.js",
    }
}

/// The bytes by brotli at its highest quality.
fn brotli(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut packed = Vec::new();
    let mut writer = brotli::CompressorWriter::new(&mut packed, 1 << 16, 11, 22);
    writer.write_all(bytes)?;
    writer.flush()?;
    drop(writer);
    Ok(packed)
}

/// One line: what, how much, our budget if there is one, the unit.
struct Row {
    what: String,
    measured: f64,
    budget: Option<f64>,
    unit: &'static str,
}

impl Row {
    fn new(what: String, measured: f64, budget: Option<f64>, unit: &'static str) -> Self {
        Self {
            what,
            measured,
            budget,
            unit,
        }
    }
}

fn rows(sizes: &Sizes, measured: &Value) -> Result<Vec<Row>> {
    let mut rows = file_rows(sizes);
    rows.extend(start_rows(measured)?);
    rows.extend(plan_rows(measured)?);
    rows.extend(audit_rows(&measured["audit"])?);
    Ok(rows)
}

fn file_rows(sizes: &Sizes) -> Vec<Row> {
    let names = ["raw", "gzip", "brotli"];
    let of = |what: &str, sizes: Bytes, budgets: [Option<f64>; 3]| -> Vec<Row> {
        let cells = names.into_iter().zip(sizes).zip(budgets);
        cells
            .map(|((name, bytes), budget)| {
                Row::new(
                    format!("{what}, {name}"),
                    bytes as f64 / 1000.0,
                    budget,
                    "kB",
                )
            })
            .collect()
    };
    let budgets = [Some(400.0), Some(160.0), Some(130.0)];
    let mut rows = of("wasm of the first page", sizes.first_wasm, budgets);
    rows.extend(of("first page", sizes.first, [None, Some(190.0), None]));
    rows.extend(of("wasm, all", sizes.wasm, budgets));
    rows.extend(of("all files", sizes.all, [None; 3]));
    rows
}

fn start_rows(measured: &Value) -> Result<Vec<Row>> {
    let mut rows = Vec::new();
    for (how, said, cold, warm) in [
        ("start", "", 300.0, 150.0),
        ("slowed", ", slowed", 1200.0, 600.0),
    ] {
        for (key, words, budget) in [
            ("cold_paint", "first paint, cold", None),
            ("cold_ready", "interactive, cold", Some(cold)),
            ("warm_paint", "first paint, warm", None),
            ("warm_ready", "interactive, warm", Some(warm)),
        ] {
            rows.push(Row::new(
                format!("{words}{said}"),
                number(&measured[how], key)?,
                budget,
                "ms",
            ));
        }
    }
    Ok(rows)
}

fn plan_rows(measured: &Value) -> Result<Vec<Row>> {
    let plans = measured["plans"]
        .as_array()
        .context("no plans were timed")?;
    let mut rows = Vec::new();
    for (key, words, per_unit, budget, unit) in [
        ("edit_ms", "edit to answer", 1.0, Some(100.0), "ms"),
        ("open_ms", "plan opened", 1.0, Some(100.0), "ms"),
        ("wasm", "wasm memory", 1e6, None, "MB"),
        ("script", "script heap", 1e6, None, "MB"),
    ] {
        for plan in plans {
            let what = format!("{words}, {}", plan_name(plan));
            rows.push(Row::new(what, number(plan, key)? / per_unit, budget, unit));
        }
    }
    rows.extend(growth(plans)?);
    Ok(rows)
}

/// How many times as long the largest generated plan takes as the smallest; in step with its sockets is the budget.
fn growth(plans: &[Value]) -> Result<Option<Row>> {
    let mut generated = plans.iter().filter(|p| p["sockets"].as_u64() > Some(0));
    let (Some(few), Some(many)) = (generated.next(), generated.next_back()) else {
        return Ok(None);
    };
    let times = |key| Ok::<_, anyhow::Error>(number(many, key)? / number(few, key)?);
    let sockets = times("sockets")?;
    let what = format!("edit to answer, {sockets} times the sockets");
    Ok(Some(Row::new(
        what,
        times("edit_ms")?,
        Some(sockets),
        "times",
    )))
}

fn audit_rows(audit: &Value) -> Result<Vec<Row>> {
    let mut rows = Vec::new();
    for (key, words, budget, unit) in [
        ("performance", "performance", 100.0, "of 100"),
        ("accessibility", "accessibility", 100.0, "of 100"),
        ("best-practices", "best practices", 100.0, "of 100"),
        ("seo", "found by searches", 100.0, "of 100"),
        ("largest_paint_ms", "largest paint", 2000.0, "ms"),
        ("blocked_ms", "blocked", 50.0, "ms"),
        ("shift", "layout shift", 0.01, ""),
    ] {
        rows.push(Row::new(
            format!("Lighthouse, {words}"),
            number(audit, key)?,
            Some(budget),
            unit,
        ));
    }
    Ok(rows)
}

fn plan_name(plan: &Value) -> String {
    let joints = &plan["joints"];
    match plan["sockets"].as_u64() {
        Some(0) | None => format!("demo ({joints} joints)"),
        Some(sockets) => format!("{sockets} sockets ({joints} joints)"),
    }
}

fn number(from: &Value, key: &str) -> Result<f64> {
    from[key]
        .as_f64()
        .with_context(|| format!("{key} was not measured"))
}

fn text(rows: &[Row]) -> String {
    let number = |value: f64, unit: &str| {
        let digits = match unit {
            "of 100" => 0,
            "" => 3,
            _ => usize::from(value < 100.0),
        };
        format!("{value:.digits$} {unit}").trim_end().to_owned()
    };
    let mut lines = vec![["the app", "measured", "our budget", "ratio"].map(str::to_owned)];
    lines.extend(rows.iter().map(|r| {
        [
            r.what.clone(),
            number(r.measured, r.unit),
            r.budget
                .map_or_else(|| "-".to_owned(), |b| number(b, r.unit)),
            r.budget
                .map_or_else(|| "-".to_owned(), |b| format!("{:.2}", r.measured / b)),
        ]
    }));
    super::table::aligned_lines(&lines)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn brotli_comes_back_whole_and_is_smaller_than_gzip() {
        let text = "a field, a gap, a joint that holds. ".repeat(200);
        let packed = brotli(text.as_bytes()).unwrap();
        let mut back = Vec::new();
        brotli::BrotliDecompress(&mut packed.as_slice(), &mut back).unwrap();
        assert_eq!(back, text.as_bytes());
        assert!(packed.len() < sizes::gzip(text.as_bytes()).unwrap().len());
    }

    #[test]
    fn the_table_has_ratios_where_there_is_a_budget() {
        let start = json!({ "cold_paint": 60.0, "cold_ready": 600.0, "warm_paint": 40.0, "warm_ready": 75.0 });
        let plan = |sockets: u32, edit_ms: f64| json!({ "sockets": sockets, "joints": 3 * sockets, "edit_ms": edit_ms, "open_ms": 30.0, "wasm": 2e6, "script": 1e6 });
        let measured = json!({
            "start": start, "slowed": start, "plans": [plan(0, 50.0), plan(10, 40.0), plan(160, 640.0)],
            "audit": { "performance": 90, "accessibility": 100, "best-practices": 100, "seo": 100, "largest_paint_ms": 1500.0, "blocked_ms": 0.0, "shift": 0.0 },
        });
        let sizes = Sizes {
            wasm: [800_000, 320_000, 130_000],
            all: [900_000, 380_000, 200_000],
            ..Sizes::default()
        };
        let table = text(&rows(&sizes, &measured).unwrap());
        let cells = |word: &str| -> Vec<String> {
            let line = table.lines().find(|l| l.starts_with(word)).unwrap();
            line.split('|').map(|c| c.trim().to_owned()).collect()
        };
        assert_eq!(
            cells("wasm, all, gzip"),
            ["wasm, all, gzip", "320 kB", "160 kB", "2.00"]
        );
        assert_eq!(cells("interactive, warm ")[3], "0.50");
        assert_eq!(cells("first paint, warm ")[3], "-");
        assert_eq!(
            cells("edit to answer, 16 times")[1..],
            ["16.0 times", "16.0 times", "1.00"]
        );
        assert!(rows(&sizes, &json!({ "plans": [] })).is_err());
    }

    #[test]
    fn what_a_page_waits_for_is_told_from_what_comes_later() {
        for (name, first) in [
            ("index.html", true),
            ("app_bg.wasm", true),
            ("pieces.js", true),
            ("split_pages-0a1b2c3d.wasm", false),
            ("worker.js", false),
            ("icon-192.png", false),
        ] {
            assert_eq!(comes_first(Path::new(name)), first, "{name}");
        }
    }
}
