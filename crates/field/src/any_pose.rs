//! Force and torque in any pose: the exact field of one magnet summed over the current sheets of the other, adaptively.

use crate::kronrod::{K9, both_sides, sharpened_error};
use crate::magnet::Magnet;
use crate::pose::Pose;
use crate::sheets::{Sheet, walls};
use lodewright_geometry::{Vec3, add, cross, norm, scale};

/// Force and torque per J1 J2 / mu0 in the target's frame, in mm^2 and mm^3, with bounds of their errors.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Raw {
    pub force: Vec3,
    pub torque: Vec3,
    pub force_error: f64,
    pub torque_error: f64,
}

impl Raw {
    /// Adds another pair's load with its sign; errors add up.
    pub(crate) fn add(&mut self, other: &Raw, sign: f64) {
        self.force = add(self.force, scale(other.force, sign));
        self.torque = add(self.torque, scale(other.torque, sign));
        self.force_error += other.force_error;
        self.torque_error += other.torque_error;
    }
}

/// Relative error asked for, and the number of panels after which the estimate reached is reported as it is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Effort {
    pub relative: f64,
    pub max_panels: usize,
}

/// Force components, then torque components.
type Six = [f64; 6];

struct Panel {
    sheet: Sheet,
    s: (f64, f64),
    t: (f64, f64),
    value: Six,
    force_error: f64,
    torque_error: f64,
    split_around: bool,
    size: f64,
}

/// A source magnet and the pose of the target whose walls are summed.
struct Job<'a> {
    source: &'a Magnet,
    pose: &'a Pose,
    lever: f64,
}

/// Sums over the walls of `target`, which stands at `pose` in the frame of `source`.
///
/// With `mirrored` the plane y = 0 of the target's frame must be a plane of symmetry of the pair: half the wall is summed.
pub(crate) fn summed(
    source: &Magnet,
    target: &Magnet,
    pose: &Pose,
    mirrored: bool,
    effort: Effort,
) -> Raw {
    let job = Job {
        source,
        pose,
        lever: target.half_diagonal_mm(),
    };
    let mut panels = Vec::new();
    for sheet in walls(target, mirrored) {
        let ((s0, s1), t) = sheet.ranges();
        let n = sheet.first_panels();
        let step = (s1 - s0) / f64::from(n);
        for i in 0..n {
            let from = s0 + step * f64::from(i);
            panels.push(job.panel(sheet, (from, from + step), t));
        }
    }
    while panels.len() < effort.max_panels {
        let raw = total(&panels, mirrored, job.lever);
        let rounding: f64 = panels.iter().map(|p| p.size).sum::<f64>() * 1e-12;
        let scale = norm(raw.force).max(norm(raw.torque) / job.lever) * effort.relative;
        if raw.force_error.max(raw.torque_error / job.lever) <= scale.max(rounding) {
            break;
        }
        let worst = |p: &Panel| p.force_error.max(p.torque_error / job.lever);
        let Some(index) =
            (0..panels.len()).max_by(|&a, &b| worst(&panels[a]).total_cmp(&worst(&panels[b])))
        else {
            break;
        };
        let p = panels.swap_remove(index);
        let (first, second) = job.halves(&p);
        panels.push(first);
        panels.push(second);
    }
    total(&panels, mirrored, job.lever)
}

fn total(panels: &[Panel], mirrored: bool, lever: f64) -> Raw {
    let mut v = [0.0; 6];
    let (mut force_error, mut torque_error, mut size) = (0.0, 0.0, 0.0);
    for p in panels {
        for (sum, x) in v.iter_mut().zip(p.value) {
            *sum += x;
        }
        force_error += p.force_error;
        torque_error += p.torque_error;
        size += p.size;
    }
    let lever_free = [v[3], v[4], v[5]];
    let rounding = 4e-15 * size;
    let (force, torque, k) = if mirrored {
        ([2.0 * v[0], 0.0, 2.0 * v[2]], [0.0, 2.0 * v[4], 0.0], 2.0)
    } else {
        ([v[0], v[1], v[2]], lever_free, 1.0)
    };
    Raw {
        force,
        torque,
        force_error: k * (force_error + rounding),
        torque_error: k * (torque_error + rounding * lever),
    }
}

impl Job<'_> {
    fn density(&self, sheet: &Sheet, s: f64, t: f64) -> Six {
        let spot = sheet.at(s, t);
        let b = self
            .pose
            .direction_in(self.source.unit_field(self.pose.point_out_mm(spot.p)));
        let f = cross(spot.current, b).map(|c| c * spot.area);
        let m = cross(spot.p, f);
        [f[0], f[1], f[2], m[0], m[1], m[2]]
    }

    fn halves(&self, p: &Panel) -> (Panel, Panel) {
        if p.split_around {
            let mid = 0.5 * (p.s.0 + p.s.1);
            (
                self.panel(p.sheet, (p.s.0, mid), p.t),
                self.panel(p.sheet, (mid, p.s.1), p.t),
            )
        } else {
            let mid = 0.5 * (p.t.0 + p.t.1);
            (
                self.panel(p.sheet, p.s, (p.t.0, mid)),
                self.panel(p.sheet, p.s, (mid, p.t.1)),
            )
        }
    }

    fn panel(&self, sheet: Sheet, s: (f64, f64), t: (f64, f64)) -> Panel {
        let (s_mid, s_half) = (0.5 * (s.0 + s.1), 0.5 * (s.1 - s.0));
        let (t_mid, t_half) = (0.5 * (t.0 + t.1), 0.5 * (t.1 - t.0));
        let area = s_half * t_half;
        let (mut sharp, mut blunt_s, mut blunt_t) = ([0.0; 6], [0.0; 6], [0.0; 6]);
        let (mut force_size, mut torque_size) = (0.0, 0.0);
        for (x, kx, gx) in both_sides(&K9) {
            for (y, ky, gy) in both_sides(&K9) {
                let d = self.density(&sheet, s_mid + s_half * x, t_mid + t_half * y);
                for (i, v) in d.into_iter().enumerate() {
                    sharp[i] += kx * ky * v;
                    blunt_s[i] += gx * ky * v;
                    blunt_t[i] += kx * gy * v;
                }
                force_size += kx * ky * norm([d[0], d[1], d[2]]);
                torque_size += kx * ky * norm([d[3], d[4], d[5]]);
            }
        }
        let difference =
            |other: &Six, from: usize| norm([0, 1, 2].map(|i| sharp[from + i] - other[from + i]));
        let force_error = |other: &Six| sharpened_error(difference(other, 0), force_size) * area;
        let torque_error = |other: &Six| sharpened_error(difference(other, 3), torque_size) * area;
        let around = force_error(&blunt_s).max(torque_error(&blunt_s) / self.lever);
        let along = force_error(&blunt_t).max(torque_error(&blunt_t) / self.lever);
        Panel {
            sheet,
            s,
            t,
            value: sharp.map(|v| v * area),
            force_error: force_error(&blunt_s) + force_error(&blunt_t),
            torque_error: torque_error(&blunt_s) + torque_error(&blunt_t),
            split_around: around >= along,
            size: force_size * area,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Evenly spread numbers in 0..1, the same on every run.
    fn spread(i: u32, dimension: usize) -> f64 {
        let steps = [
            0.618_033_988_75,
            0.754_877_666_25,
            0.569_840_290_99,
            0.819_172_513_4,
            0.671_043_606_7,
        ];
        (f64::from(i + 1) * steps[dimension]).fract()
    }

    #[test]
    fn estimates_cover_the_true_error() {
        // The same sum asked for ten thousand times sharper stands for the truth.
        let (a, b) = (
            Magnet::disc(3.0, 1.0, 1.0).unwrap(),
            Magnet::disc(4.0, 2.0, 1.0).unwrap(),
        );
        let quick = Effort {
            relative: 2e-5,
            max_panels: 400,
        };
        let sharp = Effort {
            relative: 1e-9,
            max_panels: 4000,
        };
        let (mut too_small, mut worst, mut worst_share) = (0, 0.0_f64, 0.0_f64);
        let count = 300;
        for i in 0..count {
            let tilt = 80.0 * spread(i, 0);
            let (sin, cos) = libm::sincos(tilt.to_radians());
            // From nearly touching to a diameter away.
            let clearance = 4.0 * libm::pow(spread(i, 1), 3.0) + 0.002;
            let z = 0.5 + 2.0 * sin + cos + clearance;
            let pose = Pose::shifted([3.0 * spread(i, 2), spread(i, 3), z]).unwrap();
            let pose = pose.turned([spread(i, 4) - 0.5, 1.0, 0.0], tilt).unwrap();
            let (q, s) = (
                summed(&a, &b, &pose, false, quick),
                summed(&a, &b, &pose, false, sharp),
            );
            let error = norm([0, 1, 2].map(|k| q.force[k] - s.force[k]));
            worst = worst.max(error / norm(s.force));
            worst_share = worst_share.max(error / (q.force_error + s.force_error));
            if error > q.force_error + s.force_error {
                too_small += 1;
            }
        }
        println!(
            "worst relative error {worst:.1e}, at most {worst_share:.2} of the estimate, estimate too small in {too_small} of {count}"
        );
        assert!(too_small * 100 <= count);
        assert!(worst < 2e-5);
    }
}
