//! Speed of forces: coaxial, offset, tilted, any attitude, from tables, on steel; and of one field value.

#![allow(clippy::print_stderr)] // the numbers are for a terminal
#![allow(missing_docs)] // the macros below make a public function of their own

mod kernels;

use criterion::{Criterion, criterion_group, criterion_main};
use kernels::{Pair, Visitor};
use lodewright_field::FieldError;
use std::hint::black_box;

/// Hands each kernel to criterion, one gap after another.
struct Bench<'a>(&'a mut Criterion);

impl Visitor for Bench<'_> {
    fn visit<F>(&mut self, name: &'static str, _pair: Option<&Pair>, force: F)
    where
        F: Fn(f64) -> Result<f64, FieldError>,
    {
        let gaps = kernels::gaps_mm();
        let mut next = gaps.iter().cycle();
        self.0.bench_function(name, |b| {
            b.iter(|| next.next().map(|&g| force(black_box(g))));
        });
    }
}

fn forces(c: &mut Criterion) {
    if let Err(error) = kernels::visit_all(&mut Bench(c)) {
        eprintln!("no kernel could be made ready: {error}");
    }
}

criterion_group!(benches, forces);
criterion_main!(benches);
