//! Force and torque between round magnets with parallel axes: one integral around a rim, exact to about ten digits.
//!
//! The height of both magnets is integrated in closed form. With `f` the flux of one face through a disc (the term of the
//! coaxial formula) and `psi` the scalar potential of a face, the divergence theorem turns the force on the other magnet's
//! faces into integrals around their rims: axially of `f / rho`, sideways of `psi`. The torque needs one more integral of
//! `psi` along a height.

use core::f64::consts::PI;

use crate::any_pose::Raw;
use crate::disc::Disc;
use crate::ends::end_terms;
use crate::gauss::{Rule, integrate, rule};
use crate::kronrod::{K15, both_sides, sharpened_error};
use crate::rims::ROUNDING;

const HEIGHT: Rule<6> = rule();
const RELATIVE: f64 = 1e-6;
const MAX_PANELS: usize = 120;

/// Two parallel discs: radii, heights, distance of the axes, height of the second's centre over the first's, in mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Parallel {
    pub r1: f64,
    pub h1: f64,
    pub r2: f64,
    pub h2: f64,
    pub apart: f64,
    pub above: f64,
}

/// Sideways force, axial force, torque.
type Three = [f64; 3];

struct Panel {
    from: f64,
    to: f64,
    value: Three,
    error: Three,
    size: Three,
}

/// Force and torque on the second disc about its centre per J1 J2 / mu0; x points from the first axis to the second.
pub(crate) fn parallel_discs(source: &Disc, target: &Disc, apart: f64, above: f64) -> Raw {
    let p = Parallel {
        r1: source.radius_mm(),
        h1: source.height_mm,
        r2: target.radius_mm(),
        h2: target.height_mm,
        apart,
        above,
    };
    if apart == 0.0 {
        return p.on_axis();
    }
    p.off_axis()
}

impl Parallel {
    fn on_axis(&self) -> Raw {
        let (v, _) = self.rim(0.0);
        // Every point of the rim is alike: the sum is the circumference.
        let size: f64 = self
            .faces()
            .iter()
            .map(|&(_, _, z)| end_terms(self.r1, self.r2, [z])[0].flux.abs())
            .sum();
        let k = 2.0 * PI;
        Raw {
            force: [0.0, 0.0, k * v[1]],
            torque: [0.0; 3],
            force_error: 1e-15 * size * self.r2,
            torque_error: 0.0,
        }
    }

    fn off_axis(&self) -> Raw {
        let mut panels = self.first_panels();
        while panels.len() < MAX_PANELS {
            let (value, error, size) = total(&panels);
            let lever = self.r2 + self.h2;
            let scale = RELATIVE
                * value[0]
                    .abs()
                    .max(value[1].abs())
                    .max(value[2].abs() / lever);
            let floor = 2.0 * ROUNDING * (size[0] + size[1]);
            if error[0].max(error[1]).max(error[2] / lever) <= scale.max(floor) {
                break;
            }
            let worst = |p: &Panel| p.error[0].max(p.error[1]).max(p.error[2] / lever);
            let Some(i) =
                (0..panels.len()).max_by(|&a, &b| worst(&panels[a]).total_cmp(&worst(&panels[b])))
            else {
                break;
            };
            let p = panels.swap_remove(i);
            let mid = 0.5 * (p.from + p.to);
            panels.push(self.panel(p.from, mid));
            panels.push(self.panel(mid, p.to));
        }
        let (value, error, size) = total(&panels);
        // The rim is symmetric about x; the other half doubles everything. Cancellation adds its rounding.
        let bound = |i: usize| 2.0 * (error[i] + ROUNDING * size[i]);
        Raw {
            force: [2.0 * value[0], 0.0, 2.0 * value[1]],
            torque: [0.0, 2.0 * value[2], 0.0],
            force_error: bound(0) + bound(1),
            torque_error: bound(2),
        }
    }

    /// The half rim, broken where it comes closest to the other rim.
    fn first_panels(&self) -> Vec<Panel> {
        let cos = (self.r1 * self.r1 - self.apart * self.apart - self.r2 * self.r2)
            / (2.0 * self.apart * self.r2);
        if cos.abs() < 1.0 {
            let at = libm::acos(cos);
            return vec![self.panel(0.0, at), self.panel(at, PI)];
        }
        vec![self.panel(0.0, PI)]
    }

    fn panel(&self, from: f64, to: f64) -> Panel {
        let (mid, half) = (0.5 * (from + to), 0.5 * (to - from));
        let (mut sharp, mut blunt) = ([0.0; 3], [0.0; 3]);
        let (mut variation, mut size) = ([0.0; 3], [0.0; 3]);
        for (x, k, g) in both_sides(&K15) {
            let (values, sizes) = self.rim(mid + half * x);
            for i in 0..3 {
                sharp[i] += k * values[i];
                blunt[i] += g * values[i];
                variation[i] += k * values[i].abs();
                size[i] += k * sizes[i];
            }
        }
        let error =
            [0, 1, 2].map(|i| sharpened_error((sharp[i] - blunt[i]).abs(), variation[i]) * half);
        Panel {
            from,
            to,
            value: sharp.map(|v| v * half),
            error,
            size: size.map(|v| v * half),
        }
    }

    /// Face pairs: sign of the source's face, of the target's, and the height of the target's over the source's.
    fn faces(&self) -> [(f64, f64, f64); 4] {
        let z = |s1: f64, s2: f64| (s1, s2, self.above + 0.5 * (s2 * self.h2 - s1 * self.h1));
        [z(1.0, 1.0), z(1.0, -1.0), z(-1.0, 1.0), z(-1.0, -1.0)]
    }

    /// The integrand at one angle of the target's rim, and the size of the terms that cancel in it: far away they cancel
    /// nearly all, and what their rounding leaves is the error.
    fn rim(&self, angle: f64) -> (Three, Three) {
        let (r1, r2, d) = (self.r1, self.r2, self.apart);
        let cos = libm::cos(angle);
        let rho = (d * d + 2.0 * d * r2 * cos + r2 * r2).max(0.0).sqrt();
        let outward = if rho > 0.0 { (d * cos + r2) / rho } else { 1.0 };
        let (mut side, mut axial, mut turn) = (0.0, 0.0, 0.0);
        let (mut side_size, mut axial_size) = (0.0, 0.0);
        let faces = self.faces();
        let terms = end_terms(r1, rho, faces.map(|(_, _, z)| z));
        for ((s1, s2, _), face) in faces.into_iter().zip(terms) {
            let flux = -s1 * s2 * outward * face.flux / (4.0 * PI);
            side -= s1 * s2 * face.potential * cos;
            axial += flux;
            turn -= 0.5 * self.h2 * s1 * face.potential * cos + r2 * cos * flux;
            side_size += face.potential.abs();
            axial_size += flux.abs();
        }
        let mut turn_size = 0.5 * self.h2 * side_size + r2 * axial_size;
        if d > 0.0 {
            let (lower, upper) = self.height_integrals(rho);
            turn += cos * (lower - upper);
            turn_size += lower.abs() + upper.abs();
        }
        (
            [side * r2, axial * r2, turn * r2],
            [side_size * r2, axial_size * r2, turn_size * r2],
        )
    }

    /// The potential of the source's two faces summed along the target's height (or the reverse, over the shorter one).
    fn height_integrals(&self, rho: f64) -> (f64, f64) {
        let (moving, fixed) = (self.h1.min(self.h2), self.h1.max(self.h2));
        // psi is even in z, so swapping the roles of the two heights only mirrors the distances.
        let (low, high) = (self.above - 0.5 * fixed, self.above + 0.5 * fixed);
        let lower = self.span(rho, low - 0.5 * moving, low + 0.5 * moving);
        let upper = self.span(rho, high - 0.5 * moving, high + 0.5 * moving);
        (lower, upper)
    }

    fn span(&self, rho: f64, from: f64, to: f64) -> f64 {
        if from < 0.0 && to > 0.0 {
            return self.graded(rho, 0.0, -from) + self.graded(rho, 0.0, to);
        }
        self.graded(rho, from.abs().min(to.abs()), from.abs().max(to.abs()))
    }

    /// Integral over positive heights in panels no longer than their distance from the source's rim.
    fn graded(&self, rho: f64, from: f64, to: f64) -> f64 {
        let diff = self.r1 - rho;
        let (mut at, mut sum) = (from, 0.0);
        while at < to {
            let reach = (at * at + diff * diff).sqrt().max(0.01 * to);
            let next = if at + 1.5 * reach >= to {
                to
            } else {
                at + reach
            };
            sum += integrate(&HEIGHT, at, next, |z| {
                end_terms(self.r1, rho, [z])[0].potential
            });
            at = next;
        }
        sum
    }
}

fn total(panels: &[Panel]) -> (Three, Three, Three) {
    let mut sums = ([0.0; 3], [0.0; 3], [0.0; 3]);
    for p in panels {
        for i in 0..3 {
            sums.0[i] += p.value[i];
            sums.1[i] += p.error[i];
            sums.2[i] += p.size[i];
        }
    }
    sums
}
