//! Times the kernels of `crates/field/benches`, by one loop on this machine and in Chromium; `cargo xtask bench` reads the lines.

// A kernel that fails ends the measurement; the lines are for a terminal.
#![allow(clippy::unwrap_used, clippy::print_stdout)]

#[path = "../crates/field/benches/kernels.rs"]
mod kernels;

use kernels::{Pair, Visitor};
use lodewright_field::{FAST_PAIR_BOUND, FieldError, Force};
use std::hint::black_box;

#[cfg(target_family = "wasm")]
mod clock {
    use wasm_bindgen::prelude::wasm_bindgen;

    // A page blocked for half a minute looks dead to its driver; a worker leaves the page free.
    wasm_bindgen_test::wasm_bindgen_test_configure!(run_in_dedicated_worker);

    #[wasm_bindgen]
    extern "C" {
        /// Milliseconds since the worker was started, in steps of 0.1 ms.
        #[wasm_bindgen(js_namespace = performance)]
        pub fn now() -> f64;
        #[wasm_bindgen(js_namespace = console)]
        pub fn log(line: &str);
    }
}

#[cfg(not(target_family = "wasm"))]
mod clock {
    use std::sync::LazyLock;
    use std::time::Instant;

    static START: LazyLock<Instant> = LazyLock::new(Instant::now);

    /// Milliseconds since the first call.
    pub fn now() -> f64 {
        START.elapsed().as_secs_f64() * 1e3
    }

    pub fn log(line: &str) {
        println!("{line}");
    }
}

/// Long beside the clock's steps, short beside what else the machine does.
const BATCH_MS: f64 = 10.0;
const BATCHES: usize = 60;
/// At so many gaps the exact force is told too, for other programs to be compared with.
const TOLD: usize = 200;

/// Calls per second over the fastest of many batches: what else runs on the machine only ever slows one down.
fn per_second(gaps_mm: &[f64], force: impl Fn(f64) -> Result<f64, FieldError>) -> f64 {
    let run = |passes: u32| {
        let start = clock::now();
        for _ in 0..passes {
            for &gap_mm in gaps_mm {
                let _ = black_box(force(black_box(gap_mm)));
            }
        }
        clock::now() - start
    };
    // Doubling until a batch is long enough also lets the browser's better compiler take over.
    let mut passes = 1;
    while run(passes) < BATCH_MS {
        passes *= 2;
    }
    let best_ms = (0..BATCHES)
        .map(|_| run(passes))
        .fold(f64::INFINITY, f64::min);
    f64::from(passes) * gaps_mm.len() as f64 / (best_ms * 1e-3)
}

/// Writes one line of JSON for each kernel.
struct Lines;

impl Visitor for Lines {
    fn visit<F>(&mut self, name: &'static str, pair: Option<&Pair>, force: F)
    where
        F: Fn(f64) -> Result<f64, FieldError>,
    {
        let gaps_mm = kernels::gaps_mm();
        assert!(
            gaps_mm.iter().all(|&g| force(g).unwrap().abs() > 0.0),
            "{name}"
        );
        let pair = pair.map_or_else(String::new, |pair| told(name, pair, &gaps_mm, &force));
        let per_s = per_second(&gaps_mm, force);
        clock::log(&format!(
            r#"speed: {{"kernel":"{name}","per_s":{per_s:?}{pair}}}"#
        ));
    }
}

/// The pair with its exact forces, and the kernel's largest relative error: its difference from them and their own error bound.
fn told(
    name: &str,
    pair: &Pair,
    gaps_mm: &[f64],
    force: impl Fn(f64) -> Result<f64, FieldError>,
) -> String {
    let gaps_mm = gaps_mm.get(..TOLD).unwrap_or_default();
    let forces: Vec<Force> = gaps_mm.iter().map(|&g| pair.force(g).unwrap()).collect();
    let forces_n: Vec<f64> = forces.iter().map(|force| force.force_n[2]).collect();
    // A kernel may tell the force as an attraction.
    let error = gaps_mm
        .iter()
        .zip(&forces)
        .map(|(&g, exact)| {
            let exact_n = exact.force_n[2].abs();
            ((force(g).unwrap().abs() - exact_n).abs() + exact.error_n) / exact_n
        })
        .fold(0.0, f64::max);
    assert!(
        error <= FAST_PAIR_BOUND,
        "{name} is {error} off the exact force"
    );
    format!(
        r#","error":{error:?},"pair":{{"polarization_t":{:?},"discs_mm":{:?},"centre_mm":{:?},"lift":{:?},"about":{:?},"angle_deg":{:?},"gaps_mm":{gaps_mm:?},"forces_n":{forces_n:?}}}"#,
        kernels::POLARIZATION_T,
        pair.discs_mm,
        pair.centre_mm,
        pair.lift,
        pair.about,
        pair.angle_deg
    )
}

#[cfg_attr(target_family = "wasm", wasm_bindgen_test::wasm_bindgen_test)]
#[cfg_attr(not(target_family = "wasm"), test)]
fn every_kernel_is_timed() {
    kernels::visit_all(&mut Lines).unwrap();
}
