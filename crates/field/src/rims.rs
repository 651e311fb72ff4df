//! Force and torque between two discs in any attitude, from integrals around the two rims of one of them.
//!
//! The charged pole faces of the target feel the field B of the source. Over a flat face the part of B square to it is the
//! circulation of the vector potential around the rim (Stokes), and the part within it is minus the gradient of the scalar
//! potential, whose integral is one of the potential times the outward normal around the rim (divergence theorem). Both
//! potentials of the source are closed forms (see `ends`), so that a sum over an area becomes one over a line. Off the
//! rims the integrand is smooth and periodic: equal steps then converge geometrically; near them panels are halved.
//!
//! The torque about the target's centroid is a sum around the rims as well, but for the part of the vector potential that
//! lies within the faces: by Stokes, the first moment of the square part of B is `q A` around the rim less the sum of A over
//! the face. A face cannot turn about the target's own axis.

use core::f64::consts::{PI, TAU};

use crate::any_pose::Raw;
use crate::disc::Disc;
use crate::ends::potentials;
use crate::gauss::{Rule, rule};
use crate::kronrod::{K15, both_sides, sharpened_error};
use crate::pose::Pose;
use lodewright_geometry::{Vec3, add, dot, norm, scale, sub};

/// Steps around a rim to begin with; doubled until the sum rests.
const FIRST_STEPS: u32 = 8;
/// Beyond this, halving panels where it is needed costs less than doubling everywhere.
const MOST_STEPS: u32 = 64;
/// Panels at the most; the estimate reached is then reported as it is.
const MOST_PANELS: usize = 160;
/// Relative accuracy asked for.
const RELATIVE: f64 = 2e-6;
/// Relative accuracy asked of the sum over the faces, against the force at its lever.
const FACE_RELATIVE: f64 = 2e-5;
const ONE: Rule<1> = [(0.0, 2.0)];
const TWO: Rule<2> = rule();
const THREE: Rule<3> = rule();
const FIVE: Rule<5> = rule();
/// Rounding of the potentials, relative to the size of what cancels: thrice the worst that the far poses of the tests show.
pub(crate) const ROUNDING: f64 = 6e-14;

/// A force per J1 J2 / mu0 in mm^2, in the source's frame, and the estimated bound of its error.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct RimForce {
    pub force: Vec3,
    pub error: f64,
}

/// The same with the torque about the target's centroid, in mm^3; `None` near the rims, where walls do better.
pub(crate) fn rim_load(source: &Disc, target: &Disc, pose: &Pose, mirrored: bool) -> Option<Raw> {
    let pair = RimPair::new(source, target, pose, mirrored);
    let (force, around) = pair.equal_steps()?;
    let lever = pair.radius + pair.half_height;
    let enough = FACE_RELATIVE * (lever * norm(force.force)).max(norm(around));
    let (within, error) = pair.over_faces(enough)?;
    Some(Raw {
        force: force.force,
        torque: add(around, within),
        force_error: force.error,
        torque_error: error + lever * force.error,
    })
}

/// What the source does to the target, which stands at `pose`. With `mirrored` the plane y = 0 of the target's frame must
/// be a plane of symmetry of the pair.
pub(crate) fn rim_force(source: &Disc, target: &Disc, pose: &Pose, mirrored: bool) -> RimForce {
    let pair = RimPair::new(source, target, pose, mirrored);
    match pair.equal_steps() {
        Some((force, _)) => force,
        None => pair.panels(),
    }
}

struct RimPair<'a> {
    source: &'a Disc,
    pose: &'a Pose,
    /// The target's axes in the source's frame.
    axes: [Vec3; 3],
    radius: f64,
    half_height: f64,
    mirrored: bool,
}

/// A sum around the rims with the size of what went into it.
#[derive(Clone, Copy, Default)]
struct Sum {
    force: Vec3,
    torque: Vec3,
    size: f64,
}

impl Sum {
    fn plus(self, other: Sum, weight: f64) -> Sum {
        Sum {
            force: add(self.force, scale(other.force, weight)),
            torque: add(self.torque, scale(other.torque, weight)),
            size: self.size + weight * other.size,
        }
    }
}

struct Panel {
    from: f64,
    to: f64,
    sum: Sum,
    error: f64,
}

impl<'a> RimPair<'a> {
    fn new(source: &'a Disc, target: &Disc, pose: &'a Pose, mirrored: bool) -> Self {
        Self {
            source,
            pose,
            axes: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
                .map(|axis| pose.direction_out(axis)),
            radius: target.radius_mm(),
            half_height: 0.5 * target.height_mm,
            mirrored,
        }
    }

    /// Both rims at one angle, per radian.
    fn at(&self, (sin, cos): (f64, f64)) -> Sum {
        let [e1, e2, n] = self.axes;
        let outward = add(scale(e1, cos), scale(e2, sin));
        let along = sub(scale(e2, cos), scale(e1, sin));
        let rim = add(self.pose.offset_mm(), scale(outward, self.radius));
        let (mut axial, mut side, mut lift, mut size) = (0.0, 0.0, 0.0, 0.0);
        for sign in [1.0, -1.0] {
            let [x, y, z] = add(rim, scale(n, sign * self.half_height));
            let rho = (x * x + y * y).sqrt();
            let p = potentials(self.source.radius_mm(), self.source.height_mm, rho, z);
            // The vector potential runs around the source's axis; upon the axis it vanishes.
            let turn = if rho > 0.0 {
                (x * along[1] - y * along[0]) / rho
            } else {
                0.0
            };
            axial += sign * p.vector * turn;
            side -= sign * p.scalar;
            lift += p.scalar;
            size += p.size;
        }
        let r = self.radius;
        Sum {
            force: scale(add(scale(n, axial), scale(outward, side)), r),
            torque: scale(along, -r * (self.half_height * lift + r * axial)),
            size: size * r,
        }
    }

    /// The source's vector potential summed over both faces, upper less lower, as far as it lies within them, with the
    /// estimated bound of its error; `None` where it does not come to rest.
    fn over_faces(&self, enough: f64) -> Option<(Vec3, f64)> {
        let [one, two, three] = [
            self.over_faces_by(&ONE),
            self.over_faces_by(&TWO),
            self.over_faces_by(&THREE),
        ];
        let error = next_error(norm(sub(one, three)), norm(sub(two, three)));
        if error <= enough {
            return Some((three, error));
        }
        let five = self.over_faces_by(&FIVE);
        let error = next_error(norm(sub(two, five)), norm(sub(three, five)));
        (error <= enough).then_some((five, error))
    }

    /// By rings that share the area by Gauss's rule and four spokes a ring: exact for polynomials up to degree 4 N - 1.
    fn over_faces_by<const N: usize>(&self, rings: &Rule<N>) -> Vec3 {
        let spokes = 4 * u32::try_from(N).unwrap_or(1);
        let area = PI * self.radius * self.radius;
        let [e1, e2, n] = self.axes;
        let last = if self.mirrored {
            spokes / 2
        } else {
            spokes - 1
        };
        let (mut first, mut second) = (0.0, 0.0);
        for i in 0..=last {
            let in_plane = self.mirrored && (i == 0 || i == last);
            let share = if in_plane { 0.5 } else { 1.0 };
            let (sin, cos) = libm::sincos(TAU * f64::from(i) / f64::from(spokes));
            let outward = add(scale(e1, cos), scale(e2, sin));
            for (x, w) in rings {
                let r = self.radius * (0.5 * (1.0 + x)).sqrt();
                let weight = share * area * 0.5 * w / f64::from(spokes);
                let middle = add(self.pose.offset_mm(), scale(outward, r));
                for sign in [1.0, -1.0] {
                    let [x, y, z] = add(middle, scale(n, sign * self.half_height));
                    let rho = (x * x + y * y).sqrt();
                    if rho == 0.0 {
                        continue;
                    }
                    let p = potentials(self.source.radius_mm(), self.source.height_mm, rho, z);
                    let k = sign * weight * p.vector / rho;
                    first += k * (x * e1[1] - y * e1[0]);
                    second += k * (x * e2[1] - y * e2[0]);
                }
            }
        }
        if self.mirrored {
            return scale(e2, 2.0 * second);
        }
        add(scale(e1, first), scale(e2, second))
    }

    /// What the mirror image adds.
    fn whole(&self, sum: Sum) -> Sum {
        if !self.mirrored {
            return sum;
        }
        // The plane y = 0 of the target's frame: a force square to it cancels, and a torque within it.
        let normal = self.axes[1];
        let force = sub(sum.force, scale(normal, dot(sum.force, normal)));
        Sum {
            force: scale(force, 2.0),
            torque: scale(normal, 2.0 * dot(sum.torque, normal)),
            size: 2.0 * sum.size,
        }
    }

    /// The trapezoidal rule with ever more steps; `None` where it does not come to rest.
    fn equal_steps(&self) -> Option<(RimForce, Vec3)> {
        let mut steps = FIRST_STEPS;
        let mut sum = self.spokes(steps, 0, 1);
        let mut last = self.whole(sum).force.map(|f| f * TAU / f64::from(steps));
        while steps < MOST_STEPS {
            // The old spokes serve again: only those between them are new.
            sum = sum.plus(self.spokes(2 * steps, 1, 2), 1.0);
            steps *= 2;
            let step = TAU / f64::from(steps);
            let all = self.whole(sum);
            let force = scale(all.force, step);
            let size = all.size * step;
            let change = norm(sub(force, last));
            let error = sharpened_error(change, norm(force)) + ROUNDING * size;
            if error <= RELATIVE * norm(force) {
                return Some((RimForce { force, error }, scale(all.torque, step)));
            }
            last = force;
        }
        None
    }

    /// Spokes `first`, `first + every`, ... of `count` around the rim; of the mirrored half those from 0 to pi, the ones in
    /// the plane itself counted half.
    fn spokes(&self, count: u32, first: u32, every: u32) -> Sum {
        let last = if self.mirrored { count / 2 } else { count - 1 };
        let mut sum = Sum::default();
        let mut i = first;
        while i <= last {
            let in_plane = self.mirrored && (i == 0 || i == last && 2 * last == count);
            let angle = TAU * f64::from(i) / f64::from(count);
            sum = sum.plus(
                self.at(libm::sincos(angle)),
                if in_plane { 0.5 } else { 1.0 },
            );
            i += every;
        }
        sum
    }

    /// Gauss-Kronrod panels, halved where the error is largest.
    fn panels(&self) -> RimForce {
        let ends = if self.mirrored {
            vec![0.0, PI]
        } else {
            vec![0.0, 0.5 * PI, PI, 1.5 * PI, TAU]
        };
        let mut panels: Vec<Panel> = ends.windows(2).map(|w| self.panel(w[0], w[1])).collect();
        loop {
            let mut sum = Sum::default();
            let mut error = 0.0;
            for p in &panels {
                sum = sum.plus(p.sum, 1.0);
                error += p.error;
            }
            let all = self.whole(sum);
            let twice = if self.mirrored { 2.0 } else { 1.0 };
            let error = twice * error + ROUNDING * all.size;
            let enough = (RELATIVE * norm(all.force)).max(2.0 * ROUNDING * all.size);
            let worst =
                (0..panels.len()).max_by(|&a, &b| panels[a].error.total_cmp(&panels[b].error));
            let (Some(worst), true) = (worst, error > enough && panels.len() < MOST_PANELS) else {
                return RimForce {
                    force: all.force,
                    error,
                };
            };
            let p = panels.swap_remove(worst);
            let mid = 0.5 * (p.from + p.to);
            panels.push(self.panel(p.from, mid));
            panels.push(self.panel(mid, p.to));
        }
    }

    fn panel(&self, from: f64, to: f64) -> Panel {
        let (mid, half) = (0.5 * (from + to), 0.5 * (to - from));
        let (mut sharp, mut blunt) = (Sum::default(), [0.0; 3]);
        let mut variation = 0.0;
        for (x, k, g) in both_sides(&K15) {
            let at = self.at(libm::sincos(mid + half * x));
            sharp = sharp.plus(at, k);
            blunt = add(blunt, scale(at.force, g));
            variation += k * norm(at.force);
        }
        let difference = norm(sub(sharp.force, blunt));
        Panel {
            from,
            to,
            error: sharpened_error(difference, variation) * half,
            sum: Sum {
                force: scale(sharp.force, half),
                torque: scale(sharp.torque, half),
                size: sharp.size * half,
            },
        }
    }
}

/// The error of a rule whose two forerunners were off by `before` and `last`. Errors of a smooth integrand fall at least
/// geometrically; either difference may be small by chance, but not both (the test below counts).
fn next_error(before: f64, last: f64) -> f64 {
    last.max(0.03 * before)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::any_pose::{Effort, summed};
    use crate::magnet::Magnet;

    /// Rims and faces against the sum over walls, two forms that share no formula, with the walls asked for ten digits.
    #[test]
    fn rims_agree_with_walls_and_estimates_cover_the_difference() {
        let effort = Effort {
            relative: 1e-9,
            max_panels: 4000,
        };
        let (mut worst, mut too_small, mut done, mut left) = ([0.0_f64; 2], 0, 0, 0);
        for (i, (d1, h1, d2, h2)) in [
            (3.0, 1.0, 4.0, 2.0),
            (5.0, 2.0, 2.0, 1.0),
            (3.0, 1.0, 3.0, 1.0),
        ]
        .into_iter()
        .enumerate()
        {
            let (a, b) = (
                Disc::new(d1, h1, 1.0).unwrap(),
                Disc::new(d2, h2, 1.0).unwrap(),
            );
            for k in 0..60 {
                let part = |step: f64| (f64::from(k + 1) * step + 0.1 * i as f64).fract();
                let tilt = 170.0 * part(0.618_033_988_75);
                let (sin, cos) = libm::sincos(tilt.to_radians());
                let gap = 0.02 + 5.0 * part(0.754_877_666_25) * part(0.754_877_666_25);
                let z = 0.5 * (h1 + d2 * sin.abs() + h2 * cos.abs()) + gap;
                let pose = Pose::shifted([2.0 * part(0.569_840_290_99), part(0.819_172_513_4), z])
                    .unwrap()
                    .turned([part(0.671_043_606_7) - 0.5, 1.0, 0.0], tilt)
                    .unwrap();
                let truth = summed(&Magnet::Disc(a), &Magnet::Disc(b), &pose, false, effort);
                let out = |v: Vec3| pose.direction_out(v);
                let Some(found) = rim_load(&a, &b, &pose, false) else {
                    left += 1;
                    continue;
                };
                let lever = 0.5 * (d2 + h2);
                let size = norm(truth.force).max(norm(truth.torque) / lever);
                let force = norm(sub(found.force, out(truth.force)));
                let torque = norm(sub(found.torque, out(truth.torque)));
                worst = [
                    worst[0].max(force / size),
                    worst[1].max(torque / lever / size),
                ];
                too_small += u32::from(force > found.force_error + truth.force_error + 1e-9 * size);
                too_small += u32::from(
                    torque > found.torque_error + truth.torque_error + 1e-9 * size * lever,
                );
                done += 1;
            }
        }
        println!(
            "{done} poses ({left} left to walls): force {:.1e}, torque {:.1e}, estimate too small {too_small}",
            worst[0], worst[1]
        );
        assert!(
            done >= 100 && worst[0] < 2e-6 && worst[1] < 2e-5,
            "{done} {worst:?}"
        );
        assert!(too_small * 100 <= 2 * done, "{too_small}");
    }
}
