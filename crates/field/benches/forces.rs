//! Speed of forces: coaxial, offset, tilted, any attitude, from tables, on steel; and of one field value.

#![allow(missing_docs)] // the macros below make a public function of their own

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lodewright_field::{
    Disc, FastPair, FieldError, Magnet, Pose, coaxial_attraction_n, steel_disc_attraction_n, wrench,
};

/// Gaps of 0.1 to 5 mm, log-uniform and in a mixed order, so that no branch learns the next one.
fn gaps() -> Vec<f64> {
    (0..1000_u32)
        .map(|i| 0.1 * libm::pow(50.0, (f64::from(i) * 0.618_033_988_75).fract()))
        .collect()
}

/// Times `f` on one gap after another.
fn over_gaps(c: &mut Criterion, name: &str, mut f: impl FnMut(f64) -> Result<f64, FieldError>) {
    let gaps = gaps();
    let mut next = gaps.iter().cycle();
    c.bench_function(name, |b| b.iter(|| next.next().map(|&g| f(black_box(g)))));
}

fn forces(c: &mut Criterion) {
    let (Ok(d), Ok(e)) = (Disc::new(3.0, 1.0, 1.3), Disc::new(5.0, 2.0, 1.3)) else {
        return;
    };
    let (m, n) = (Magnet::Disc(d), Magnet::Disc(e));
    over_gaps(c, "coaxial_equal", |g| coaxial_attraction_n(&d, &d, g));
    over_gaps(c, "coaxial_unequal", |g| coaxial_attraction_n(&d, &e, g));
    let axial = |a: &Magnet, b: &Magnet, pose: Pose| wrench(a, b, &pose).map(|w| w.force_n[2]);
    over_gaps(c, "offset", |g| {
        axial(&m, &m, Pose::shifted([1.0, 0.0, 1.0 + g])?)
    });
    over_gaps(c, "tilted", |g| {
        axial(
            &m,
            &m,
            Pose::shifted([0.3, 0.0, 1.4 + g])?.turned([0.0, 1.0, 0.0], 10.0)?,
        )
    });
    over_gaps(c, "any_attitude", |g| {
        axial(
            &m,
            &n,
            Pose::shifted([0.3, 0.4, 2.5 + g])?.turned([1.0, 0.5, 0.2], 20.0)?,
        )
    });
    over_gaps(c, "steel_disc", |g| {
        steel_disc_attraction_n(&d, 5.0, 1.0, g, 1.05)
    });
    over_gaps(c, "field_value", |g| {
        m.field_t([1.0, 0.4, 0.5 + g]).map(|b| b[2])
    });
    if let Ok(fast) = FastPair::new(&d, &d) {
        over_gaps(c, "table_coaxial", |g| fast.coaxial_n(g));
        over_gaps(c, "table_offset", |g| {
            fast.attraction_n(0.5 * g, 0.2, 0.0, 0.0)
        });
        over_gaps(c, "table_tilted", |g| {
            fast.attraction_n(0.3 + 0.5 * g, 0.2, 1.0, 30.0)
        });
    }
}

criterion_group!(benches, forces);
criterion_main!(benches);
