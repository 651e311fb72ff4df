//! Makes problems of magnet choice like those of real kits, from a seed, and solves them.
//!
//! `cargo run --release --example kit_choice -- make FAMILY SEED SIZE...` prints a problem as JSON, where FAMILY and SIZE are
//! `kit SOCKETS PARTS`, `variants SOCKETS VARIANTS`, `bipartite TOOLS MOUNTS HOLES`, `grid ROWS COLUMNS` or
//! `random SITES DEGREE`;
//! `cargo run --release --example kit_choice -- solve` reads one from standard input and prints a line of CSV: magnets, cents,
//! proven or not, bound, families, sites, demands, rows, milliseconds, milliseconds of the checker.

use lodewright_choice::{Answer, Limits, Problem, check, check_bound, solve};
use std::io::{self, Read, Write};
use std::process::ExitCode;
use std::time::Instant;

#[path = "support/choice_problems.rs"]
mod choice_problems;

const USAGE: &str = "say `make kit SEED SOCKETS PARTS`, `make variants SEED SOCKETS VARIANTS`, \
    `make bipartite SEED TOOLS MOUNTS HOLES`, `make grid SEED ROWS COLUMNS`, `make random SEED SITES DEGREE` or `solve`";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match run(&words) {
        Ok(text) => match writeln!(io::stdout(), "{text}") {
            Ok(()) => ExitCode::SUCCESS,
            Err(_) => ExitCode::FAILURE,
        },
        Err(why) => {
            // Nothing better can be done where even this fails.
            let _ = writeln!(io::stderr(), "kit_choice: {why}");
            ExitCode::FAILURE
        }
    }
}

fn run(words: &[&str]) -> Result<String, String> {
    match words {
        ["make", family, numbers @ ..] => {
            let numbers: Result<Vec<u32>, String> = numbers
                .iter()
                .map(|w| w.parse().map_err(|_| format!("{w} is no number; {USAGE}")))
                .collect();
            let problem = made(family, &numbers?)?;
            serde_json::to_string(&problem).map_err(|e| e.to_string())
        }
        ["solve"] => {
            let mut text = String::new();
            io::stdin()
                .read_to_string(&mut text)
                .map_err(|e| e.to_string())?;
            let problem: Problem =
                serde_json::from_str(&text).map_err(|e| format!("no problem: {e}"))?;
            let start = Time::now();
            let answer =
                solve(&problem, Limits::default(), &mut |_, _| true).map_err(|e| e.to_string())?;
            let ms = start.elapsed_ms();
            line(&problem, &answer, ms)
        }
        _ => Err(USAGE.to_owned()),
    }
}

/// A time: what this program was given of the processor, where the system tells, so that a busy machine does not count.
struct Time {
    clock: Instant,
    given_ms: Option<f64>,
}

impl Time {
    fn now() -> Self {
        // Linux: nanoseconds on the processor come first (proc(5)), counted up to when it was last given away.
        std::thread::yield_now();
        let given = std::fs::read_to_string("/proc/self/schedstat").ok();
        let first = given.and_then(|text| text.split_whitespace().next()?.parse::<f64>().ok());
        Self {
            clock: Instant::now(),
            given_ms: first.map(|ns| ns / 1e6),
        }
    }

    fn elapsed_ms(&self) -> f64 {
        match (Self::now().given_ms, self.given_ms) {
            (Some(now), Some(then)) => now - then,
            _ => self.clock.elapsed().as_secs_f64() * 1e3,
        }
    }
}

fn made(family: &str, numbers: &[u32]) -> Result<Problem, String> {
    match (family, numbers) {
        ("kit", &[seed, sockets, parts]) => Ok(choice_problems::kit(
            seed,
            sockets.clamp(1, 1000),
            parts.min(10_000),
        )),
        ("variants", &[seed, sockets, count]) => Ok(choice_problems::variants(
            seed,
            sockets.clamp(1, 1000),
            count.min(200),
        )),
        ("bipartite", &[seed, tools, mounts, holes]) => Ok(choice_problems::bipartite(
            seed,
            tools.min(100),
            mounts.min(100),
            holes.clamp(1, 4),
        )),
        ("grid", &[seed, rows, columns]) => Ok(choice_problems::grid(
            seed,
            rows.clamp(1, 100),
            columns.clamp(1, 100),
        )),
        ("random", &[seed, sites, degree]) => Ok(choice_problems::random(
            seed,
            sites.clamp(1, 1000),
            degree.min(100),
        )),
        _ => Err(USAGE.to_owned()),
    }
}

fn line(problem: &Problem, answer: &Answer, ms: f64) -> Result<String, String> {
    let least = answer
        .least()
        .map_or_else(|| "none".to_owned(), |l| format!("{}+{}", l.0, l.1));
    let start = Time::now();
    // Read again by other code before it is believed.
    for family in &answer.families {
        if family.proof.is_some() {
            check_bound(problem, family).map_err(|e| format!("the proof does not stand: {e}"))?;
        }
    }
    let (magnets, cents) = match answer.cost() {
        Some(cost) => {
            check(problem, answer).map_err(|e| format!("the answer does not stand: {e}"))?;
            (cost.0.to_string(), cost.1.to_string())
        }
        None => ("none".to_owned(), "none".to_owned()),
    };
    let check_ms = start.elapsed_ms();
    let rows: usize = problem.demands.iter().map(|d| d.rows.len()).sum();
    Ok(format!(
        "{magnets},{cents},{},{least},{},{},{},{rows},{ms:.3},{check_ms:.3}",
        answer.proven(),
        answer.families.len(),
        problem.sites.len(),
        problem.demands.len()
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Optima that OR-Tools 9.15 CP-SAT proved for the same problems (tests/magnet_choice_compare.py).
    #[test]
    fn the_optimum_is_that_of_a_general_solver() {
        let table = include_bytes!("../tests/reference/magnet_choice.csv");
        let mut rows = csv::Reader::from_reader(table.as_slice());
        let mut met = 0;
        for row in rows.records() {
            let row = row.expect("a row");
            let mut words = row[0].split(' ');
            let family = words.next().expect("a family");
            let mut numbers = vec![row[1].parse::<u32>().expect("a seed")];
            numbers.extend(words.map(|w| w.parse::<u32>().expect("a size")));
            // The largest kits take a debug build too long.
            if &row[11] != "proven" || (family == "kit" && numbers[1] > 5) {
                continue;
            }
            let theirs: u64 = row[12].parse().expect("magnets and cents");
            let problem = made(family, &numbers).expect("a problem");
            let answer = solve(&problem, Limits::default(), &mut |_, _| true).expect("an answer");
            assert!(answer.proven(), "{} {}", &row[0], &row[1]);
            let cost = answer.cost().expect("a choice");
            let ours = u64::from(cost.0) * 1_000_000 + u64::from(cost.1);
            assert_eq!(ours, theirs, "{} {}", &row[0], &row[1]);
            let checked = check(&problem, &answer).expect("a proof that stands");
            assert_eq!(checked.least, Some(cost));
            met += 1;
        }
        assert!(met >= 80, "{met}");
    }
}
