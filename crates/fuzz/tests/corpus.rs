//! Every seed of the fuzzers, every file of past failures and a few thousand seeded changes of them run without a panic, with
//! no fuzzer needed.
#![allow(clippy::unwrap_used, reason = "tests may stop at a fault")]
#![allow(clippy::disallowed_methods, reason = "tests read files")]

use std::path::Path;

/// A generator whose numbers are the same everywhere (Steele, Lea and Flood 2014, SplitMix64).
struct Lot(u64);

impl Lot {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % (n.max(1) as u64)) as usize
    }
}

fn run(name: &str, target: fn(&[u8]), changes: usize) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("corpus")
        .join(name);
    let mut seeds: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    seeds.sort();
    let seeds: Vec<Vec<u8>> = seeds.iter().map(|p| std::fs::read(p).unwrap()).collect();
    assert!(seeds.len() >= 5, "{name}: {} seeds", seeds.len());
    seeds.iter().for_each(|seed| target(seed));
    let mut lot = Lot(20);
    for _ in 0..changes {
        let mut bytes = seeds[lot.below(seeds.len())].clone();
        for _ in 0..=lot.below(4) {
            let at = lot.below(bytes.len());
            match lot.below(5) {
                0 if !bytes.is_empty() => bytes[at] = lot.below(256) as u8,
                1 if !bytes.is_empty() => drop(bytes.remove(at)),
                2 => bytes.insert(at, lot.below(256) as u8),
                3 if !bytes.is_empty() => bytes.truncate(at + 1),
                _ => {
                    // A piece of another seed.
                    let other = &seeds[lot.below(seeds.len())];
                    let from = lot.below(other.len());
                    let to = (from + lot.below(24)).min(other.len());
                    bytes.splice(at..at, other[from..to].iter().copied());
                }
            }
        }
        target(&bytes);
    }
}

#[test]
fn plan_files() {
    run("plan_file", lodewright_fuzz::plan_file, 4_000);
}

#[test]
fn links_and_pictures() {
    run("link", lodewright_fuzz::link, 2_000);
}

#[test]
fn pasted_grids() {
    run("grid", lodewright_fuzz::grid, 2_000);
}

#[test]
fn analyses() {
    run("analysis", lodewright_fuzz::analysis, 20);
}
