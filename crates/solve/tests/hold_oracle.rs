//! Hold margins against a linear program with friction cones, and that program against closed forms of statics.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test may stop on a broken setup"
)]
#![allow(
    clippy::disallowed_methods,
    reason = "how long it looks is said from outside"
)]

mod common;

use common::{Contact, Wrench, largest_factor, wrench};
use lodewright_solve::hold::{
    DroopedPulls, HoldAccount, Joint, Load, Mode, Peg, PegKind, Pull, Shaken, hold_account, shaken,
};
use std::f64::consts::PI;

/// Small seeded generator (splitmix64, Steele et al. 2014), so that every run sees the same joints.
struct Seeded(u64);

impl Seeded {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }
    fn count(&mut self, low: usize, high: usize) -> usize {
        low + (self.unit() * (high - low + 1) as f64) as usize
    }
    fn direction(&mut self) -> [f64; 3] {
        let z = self.between(-1.0, 1.0);
        let (sin, cos) = libm::sincos(self.between(0.0, 2.0 * PI));
        let r = (1.0 - z * z).sqrt();
        [r * cos, r * sin, z]
    }
}

struct Case {
    patch: Vec<[f64; 2]>,
    pulls: Vec<Pull>,
    friction: f64,
    peg: Peg,
    load: Load,
}

impl Case {
    fn random(seed: &mut Seeded, kind: PegKind) -> Self {
        let corners = seed.count(3, 8);
        let patch: Vec<_> = (0..corners)
            .map(|_| [seed.between(-12.0, 12.0), seed.between(-8.0, 8.0)])
            .collect();
        let inside = |seed: &mut Seeded| {
            let weights: Vec<f64> = patch.iter().map(|_| seed.between(0.02, 1.0)).collect();
            let sum: f64 = weights.iter().sum();
            let mean = |axis: usize| {
                patch
                    .iter()
                    .zip(&weights)
                    .map(|(p, w)| p[axis] * w)
                    .sum::<f64>()
                    / sum
            };
            [mean(0), mean(1)]
        };
        let magnets = seed.count(1, 4);
        let pulls = (0..magnets)
            .map(|_| Pull {
                at_mm: inside(seed),
                force_n: seed.between(0.2, 6.0),
            })
            .collect();
        let peg = Peg {
            kind,
            at_mm: inside(seed),
            ..Peg::default()
        };
        let centre_mm = [
            seed.between(-20.0, 20.0),
            seed.between(-15.0, 15.0),
            seed.between(-5.0, 40.0),
        ];
        let load = Load {
            weight_n: seed.between(0.02, 1.0),
            centre_mm,
        };
        let friction = seed.between(0.1, 0.6);
        Self {
            patch,
            pulls,
            friction,
            peg,
            load,
        }
    }

    fn account(&self) -> HoldAccount {
        hold_account(&Joint {
            patch_mm: &self.patch,
            pulls: &self.pulls,
            friction: self.friction,
            peg: self.peg,
            load: self.load,
            drooped: DroopedPulls::Unknown,
        })
        .unwrap()
    }

    fn shaken(&self, down: [f64; 3]) -> Shaken {
        shaken(
            &Joint {
                patch_mm: &self.patch,
                pulls: &self.pulls,
                friction: self.friction,
                peg: self.peg,
                load: self.load,
                drooped: DroopedPulls::Unknown,
            },
            down,
        )
        .unwrap()
    }

    /// Load factor by linear program in one direction; `mu_scale` widens the k-sided cones.
    fn oracle(&self, hull: &[[f64; 2]], direction: [f64; 3], sides: u32, mu_scale: f64) -> f64 {
        self.oracle_under(hull, [0.0; 3], direction, sides, mu_scale)
            .expect("the unloaded joint stands")
    }

    /// The same on top of gravity along `down`; `None` where the joint does not even bear that.
    fn oracle_under(
        &self,
        hull: &[[f64; 2]],
        down: [f64; 3],
        direction: [f64; 3],
        sides: u32,
        mu_scale: f64,
    ) -> Option<f64> {
        let mu = self.friction * mu_scale;
        let contact = |p: &[f64; 2]| Contact {
            at: [p[0], p[1], 0.0],
            normal: [0.0, 0.0, 1.0],
            mu,
        };
        let contacts: Vec<_> = hull.iter().map(contact).collect();
        let [x, y] = self.peg.at_mm;
        let sideways = [
            wrench([x, y, 0.0], [1.0, 0.0, 0.0]),
            wrench([x, y, 0.0], [0.0, 1.0, 0.0]),
        ];
        let twist: Wrench = [0.0, 0.0, 0.0, 0.0, 0.0, 1.0];
        let free = match self.peg.kind {
            PegKind::None => vec![],
            PegKind::Round => sideways.to_vec(),
            PegKind::Two | PegKind::Keyed => [&sideways[..], &[twist]].concat(),
        };
        let mut fixed = [0.0; 6];
        for pull in &self.pulls {
            let w = wrench(
                [pull.at_mm[0], pull.at_mm[1], 0.0],
                [0.0, 0.0, -pull.force_n],
            );
            (0..6).for_each(|i| fixed[i] += w[i]);
        }
        let load = |direction: [f64; 3]| {
            wrench(
                self.load.centre_mm,
                direction.map(|x| x * self.load.weight_n),
            )
        };
        let gravity = load(down);
        (0..6).for_each(|i| fixed[i] += gravity[i]);
        largest_factor(&contacts, sides, 0.0, &free, fixed, load(direction))
    }
}

#[test]
fn oracle_incline_matches_closed_forms() {
    // Block on an incline, mu 0.5: slips at atan(mu) = 26.565 deg; an 8-sided cone turned by half a side gives
    // atan(mu cos(pi/8)) = 24.794 deg, a 4-sided one 19.471 deg, a 16-sided one 26.123 deg (statics).
    let stands = |deg: f64, sides: u32, phase: f64| {
        let corner = |x: f64, y: f64| Contact {
            at: [x, y, 0.0],
            normal: [0.0, 0.0, 1.0],
            mu: 0.5,
        };
        let contacts = [
            corner(-9.0, -9.0),
            corner(9.0, -9.0),
            corner(9.0, 9.0),
            corner(-9.0, 9.0),
        ];
        let (sin, cos) = libm::sincos(deg.to_radians());
        let weight = wrench([0.0, 0.0, 1.0], [sin, 0.0, -cos]);
        largest_factor(&contacts, sides, phase, &[], weight, [0.0; 6]).is_some()
    };
    let slips_at = |sides: u32, phase: f64| {
        let (mut low, mut high) = (0.0, 60.0);
        for _ in 0..40 {
            let mid = (low + high) / 2.0;
            if stands(mid, sides, phase) {
                low = mid
            } else {
                high = mid
            }
        }
        low
    };
    for (sides, phase, deg) in [
        (8, 0.0, 26.565_f64),
        (8, PI / 8.0, 24.794),
        (4, PI / 4.0, 19.471),
        (16, PI / 16.0, 26.123),
    ] {
        let found = slips_at(sides, phase);
        // The cone may start at either tangent; both phases of a whole number of quarter turns are alike here.
        assert!(
            (found - deg).abs() < 2e-3,
            "{sides}-sided cone: {found}, expected {deg}"
        );
    }
}

#[test]
fn oracle_ladder_matches_closed_form() {
    // Uniform ladder, floor mu1 and wall mu2: tan(theta_min) = (1 - mu1 mu2)/(2 mu1) (statics texts).
    for (mu1, mu2, deg) in [(0.5, 0.0, 45.0_f64), (0.5, 0.5, 36.870), (0.3, 0.2, 57.450)] {
        let stands = |theta: f64| {
            let (sin, cos) = libm::sincos(theta.to_radians());
            let floor = Contact {
                at: [0.0, 0.0, 0.0],
                normal: [0.0, 0.0, 1.0],
                mu: mu1,
            };
            let wall = Contact {
                at: [cos, 0.0, sin],
                normal: [-1.0, 0.0, 0.0],
                mu: mu2,
            };
            let weight = wrench([cos / 2.0, 0.0, sin / 2.0], [0.0, 0.0, -1.0]);
            largest_factor(&[floor, wall], 4, 0.0, &[], weight, [0.0; 6]).is_some()
        };
        let (mut low, mut high) = (1.0, 89.0);
        for _ in 0..40 {
            let mid = (low + high) / 2.0;
            if stands(mid) { high = mid } else { low = mid }
        }
        assert!(
            (high - deg).abs() < 2e-3,
            "mu {mu1} {mu2}: {high}, expected {deg}"
        );
    }
}

#[test]
fn tipping_agrees_with_the_linear_program() {
    let mut seed = Seeded(1);
    let (mut worst, mut joints) = (0.0_f64, 0);
    while joints < 3000 {
        let case = Case::random(&mut seed, PegKind::Keyed);
        let account = case.account();
        if account.mode == Mode::NoPatch {
            continue;
        }
        joints += 1;
        assert!(
            matches!(account.mode, Mode::Tip { .. }),
            "{:?}",
            account.mode
        );
        let found = case.oracle(&account.hull_mm, account.direction, 4, 1.0);
        worst = worst.max((found - account.margin_g).abs() / account.margin_g);
    }
    println!("tipping: {joints} joints, largest relative disagreement {worst:.2e}");
    assert!(worst < 1e-7, "{worst}");
}

/// Lever of the load about a tip's edge, as a unit vector: the direction of the worst shake.
fn worst_shake(case: &Case, mode: Mode) -> [f64; 3] {
    let Mode::Tip { from_mm, to_mm, .. } = mode else {
        return [0.0; 3];
    };
    let along = [to_mm[0] - from_mm[0], to_mm[1] - from_mm[1]];
    let length = libm::hypot(along[0], along[1]);
    let inward = [-along[1] / length, along[0] / length];
    let [x, y, z] = case.load.centre_mm;
    let inside = (x - from_mm[0]) * inward[0] + (y - from_mm[1]) * inward[1];
    let lever = [-z * inward[0], -z * inward[1], inside];
    let size = lever.iter().map(|l| l * l).sum::<f64>().sqrt();
    lever.map(|l| l / size)
}

/// A model in any attitude, shaken on top of gravity: the closed form against the linear program in the worst direction,
/// and no other direction opens it sooner. Joints that do not bear their weight at rest are infeasible there too.
#[test]
fn shaking_agrees_with_the_linear_program() {
    let mut seed = Seeded(11);
    let (mut worst, mut joints, mut fallen) = (0.0_f64, 0, 0);
    while joints < 1500 {
        let mut case = Case::random(&mut seed, PegKind::Keyed);
        // Heavy enough that gravity matters, and some fall off.
        case.load.weight_n *= 4.0;
        let account = case.account();
        if account.mode == Mode::NoPatch {
            continue;
        }
        joints += 1;
        let down = seed.direction();
        let found = case.shaken(down);
        let at = |direction| case.oracle_under(&account.hull_mm, down, direction, 4, 1.0);
        if found.shake_g < -1e-9 {
            fallen += 1;
            assert_eq!(at([0.0; 3]), None, "at rest: {found:?}");
            continue;
        }
        let lp = at(worst_shake(&case, found.mode)).unwrap();
        worst = worst.max((lp - found.shake_g).abs() / (1.0 + found.shake_g));
        let other = at(seed.direction()).unwrap();
        assert!(other >= found.shake_g - 1e-7 * (1.0 + found.shake_g));
        // Without gravity it is the margin itself.
        let floating = case.shaken([0.0; 3]).shake_g;
        assert!((floating / account.margin_g - 1.0).abs() < 1e-12);
    }
    println!("shaking: {joints} joints, {fallen} fall off, largest disagreement {worst:.2e}");
    assert!(worst < 1e-7 && fallen > 50, "{worst} {fallen}");
}

/// With no peg the sliding bound: no shake under it slips a joint that is loaded through its pulls' centroid, and one
/// along gravity's own direction in the plane does. Without gravity every kind gives its margin.
#[test]
fn shaken_slides_and_turns_are_margins_without_gravity() {
    let mut seed = Seeded(12);
    for kind in [PegKind::None, PegKind::Round] {
        for _ in 0..300 {
            let case = Case::random(&mut seed, kind);
            let account = case.account();
            if account.mode == Mode::NoPatch {
                continue;
            }
            let floating = case.shaken([0.0; 3]).shake_g;
            assert!(
                (floating / account.margin_g - 1.0).abs() < 2e-3,
                "{floating} {}",
                account.margin_g
            );
            // Gravity can cost no more than its own g.
            let down = seed.direction();
            let shaken = case.shaken(down).shake_g;
            assert!(
                shaken >= floating - 1.0 - 2e-3 * floating
                    && shaken <= floating + 1.0 + 2e-3 * floating
            );
        }
    }
}

#[test]
fn no_direction_tips_sooner() {
    let mut seed = Seeded(2);
    for _ in 0..300 {
        let case = Case::random(&mut seed, PegKind::Two);
        let account = case.account();
        if account.mode == Mode::NoPatch {
            continue;
        }
        for _ in 0..20 {
            let found = case.oracle(&account.hull_mm, seed.direction(), 4, 1.0);
            assert!(
                found >= account.margin_g * (1.0 - 1e-7),
                "{found} < {}",
                account.margin_g
            );
        }
    }
}

#[test]
fn sliding_agrees_with_the_linear_program() {
    // Load through the pulls' centroid in the mating plane: pure sliding. A cone edge along the load gives the round
    // cone's answer; half a side off it the answer is that of mu cos(pi/k).
    let mut seed = Seeded(3);
    let (mut worst, sides) = (0.0_f64, 8);
    for _ in 0..1000 {
        let mut case = Case::random(&mut seed, PegKind::None);
        let sum: f64 = case.pulls.iter().map(|p| p.force_n).sum();
        let mean = |axis: usize| {
            case.pulls
                .iter()
                .map(|p| p.force_n * p.at_mm[axis])
                .sum::<f64>()
                / sum
        };
        case.load.centre_mm = [mean(0), mean(1), 0.0];
        let account = case.account();
        let Some(slide) = account.modes.iter().find(|m| m.mode == Mode::Slide) else {
            continue;
        };
        assert!(
            (account.margin_g - slide.margin_g).abs() <= 1e-9 * slide.margin_g,
            "{:?}",
            account.mode
        );
        let [h, _, v] = slide.direction;
        for (turn, factor) in [(0.0, 1.0), (PI / 8.0, libm::cos(PI / f64::from(sides)))] {
            // The oracle's first tangent is x for a normal along z, so the load turns by `turn` from a cone edge.
            let direction = [h * libm::cos(turn), h * libm::sin(turn), v];
            let mu = case.friction * factor;
            let expected = mu * sum / (case.load.weight_n * (h + mu * v));
            let found = case.oracle(&account.hull_mm, direction, sides, 1.0);
            worst = worst.max((found - expected).abs() / expected);
        }
    }
    println!("sliding: largest relative disagreement {worst:.2e}");
    assert!(worst < 1e-7, "{worst}");
}

/// Least ratio of the linear program's factor (cones widened so that they contain the round ones) to our margin, over
/// our worst directions and random ones.
fn least_ratio(
    kind: PegKind,
    flat: bool,
    seed: u64,
    joints: usize,
    directions: usize,
) -> (f64, usize, usize) {
    let mut seed = Seeded(seed);
    let (mut least, mut below, mut slips) = (f64::INFINITY, 0, 0);
    for _ in 0..joints {
        let mut case = Case::random(&mut seed, kind);
        if flat {
            case.load.centre_mm[2] *= 0.1;
            case.friction *= 0.5;
        }
        let account = case.account();
        if account.mode == Mode::NoPatch {
            continue;
        }
        let widened = 1.0 / libm::cos(PI / 12.0);
        let factor = |d: [f64; 3]| (case.oracle(&account.hull_mm, d, 12, widened), d);
        let lower = |a: (f64, [f64; 3]), b: (f64, [f64; 3])| if b.0 < a.0 { b } else { a };
        let own = account.modes.iter().map(|m| m.direction);
        let start = own.map(factor).reduce(lower).unwrap();
        let mut best = (0..directions)
            .map(|_| factor(seed.direction()))
            .fold(start, lower);
        for step in 0..directions {
            let nudge = seed.direction().map(|x| x * 0.5 / (1.0 + step as f64));
            let moved: [f64; 3] = std::array::from_fn(|i| best.1[i] + nudge[i]);
            let norm = moved.iter().map(|x| x * x).sum::<f64>().sqrt();
            best = lower(best, factor(moved.map(|x| x / norm)));
        }
        let ratio = best.0 / account.margin_g;
        least = least.min(ratio);
        slips += usize::from(!matches!(account.mode, Mode::Tip { .. }));
        below += usize::from(ratio < 1.0 - 1e-6);
    }
    (least, below, slips)
}

#[test]
fn slip_margins_against_the_linear_program() {
    // The program may put contact pressure wherever it helps, so it should hold at least as much as our estimate;
    // it can hold less only where a load moves the centre of pressure, which the slip modes leave out.
    let cases = [
        (PegKind::None, false, 4),
        (PegKind::None, true, 5),
        (PegKind::Round, true, 6),
        (PegKind::Round, false, 7),
    ];
    for (kind, flat, seed) in cases {
        let joints = std::env::var("SLIP_JOINTS").map_or(40, |n| n.parse().unwrap());
        let (least, below, slips) = least_ratio(kind, flat, seed, joints, 40);
        println!(
            "{kind:?}, flat {flat}: least ratio {least:.4}; below one in {below}, slip governs {slips} of {joints}"
        );
        assert!(least > 0.7, "{kind:?}: {least}");
    }
}
