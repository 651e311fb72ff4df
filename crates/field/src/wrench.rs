//! Force and torque between two magnets in any relative pose.

use crate::any_pose::{Effort, Raw, summed};
use crate::coaxial::coaxial_attraction_n;
use crate::disc::Disc;
use crate::error::FieldError;
use crate::magnet::Magnet;
use crate::overlap::overlap;
use crate::parallel::parallel_discs;
use crate::pose::Pose;
use crate::rims::{RimForce, rim_force, rim_load};
use crate::units::N_PER_T2_MM2;
use lodewright_geometry::{Vec3, add, cross, dot, norm, scale, sub, unit};

/// What one magnet does to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wrench {
    /// Force on the second magnet in N, along the first one's x, y, z.
    pub force_n: [f64; 3],
    /// Torque on the second magnet about its own centroid in N mm, along the first one's x, y, z.
    pub torque_nmm: [f64; 3],
    /// Estimated bound of the error of the force in N.
    pub error_n: f64,
    /// Estimated bound of the error of the torque in N mm.
    pub error_nmm: f64,
}

impl Wrench {
    /// The same load with its torque taken about a point `arm_mm` from the centroid.
    #[must_use]
    pub fn torque_about_nmm(&self, arm_mm: [f64; 3]) -> [f64; 3] {
        add(self.torque_nmm, cross(scale(arm_mm, -1.0), self.force_n))
    }
}

/// Relative accuracy asked of the adaptive sum.
const EFFORT: Effort = Effort {
    relative: 2e-5,
    max_panels: 400,
};

/// Axes that differ by less than this are parallel.
const PARALLEL: f64 = 1e-12;

/// No result is called better than this, relative: elliptic integrals near a rim lose a few digits.
const BEST: f64 = 3e-10;

/// Beyond this relative error the rim integral, which cancels far away, gives way to the sum over walls.
const RIM_ERROR: f64 = 2e-5;

/// The same for the torque by sums over faces, relative to the force at the lever of the half diagonal.
const FACES_ERROR: f64 = 4e-5;

/// Force and torque that `first` exerts on `second`, which stands at `pose` in the frame of `first`.
///
/// Round magnets with parallel axes are summed around a rim (ten digits, contact included); in any other attitude around
/// both rims of the smaller one, the torque over its faces too (five digits and more); bars, and round magnets that nearly
/// touch at an angle, by adaptive quadrature of the exact field over the current sheets of the second magnet, to about six
/// digits. Bodies may touch.
///
/// # Errors
/// [`FieldError::OutOfRange`] or [`FieldError::BadShape`] for a bad magnet, [`FieldError::Overlap`] if the bodies share space.
pub fn wrench(first: &Magnet, second: &Magnet, pose: &Pose) -> Result<Wrench, FieldError> {
    let (first, second) = (first.checked()?, second.checked()?);
    if overlap(&first, &second, pose) {
        return Err(FieldError::Overlap);
    }
    wrench_of_apart(&first, &second, pose)
}

/// As [`wrench`], for checked magnets that do not overlap.
fn wrench_of_apart(first: &Magnet, second: &Magnet, pose: &Pose) -> Result<Wrench, FieldError> {
    if is_parallel(pose.axis())
        && let Some(w) = parallel_axes(first, second, pose)?
    {
        return Ok(w);
    }
    // The rims and faces of the smaller one are farther from the other in terms of their size.
    let found = if second.half_diagonal_mm() > first.half_diagonal_mm() {
        load_around_rims(second, first, &pose.inverse()).map(|w| reaction(&w, pose))
    } else {
        load_around_rims(first, second, pose)
    };
    if let Some(w) = found {
        return Ok(w);
    }
    Ok(summed_wrench(first, second, pose, EFFORT))
}

/// The load on the second magnet from that on the first, given in the second's frame: action and reaction, with the couple
/// of the two forces balanced by the torques.
fn reaction(on_first: &Wrench, pose: &Pose) -> Wrench {
    let force = pose.direction_out(on_first.force_n);
    let torque = pose.direction_out(on_first.torque_nmm);
    let arm = pose.offset_mm();
    Wrench {
        force_n: scale(force, -1.0),
        torque_nmm: sub(cross(arm, force), torque),
        error_n: on_first.error_n,
        error_nmm: on_first.error_nmm + on_first.error_n * norm(arm),
    }
}

/// Force and torque by sums around rims and over faces, if both are round and far enough apart for that.
fn load_around_rims(first: &Magnet, second: &Magnet, pose: &Pose) -> Option<Wrench> {
    let (sources, targets) = (solids(first)?, solids(second)?);
    let mirror = mirror_plane(pose);
    let framed = mirror.map_or(*pose, |normal| pose.rolled(normal));
    let mut sum = Raw::default();
    for (s1, source) in &sources {
        for (s2, target) in &targets {
            let raw = rim_load(source, target, &framed, mirror.is_some())?;
            sum.add(&raw, s1 * s2);
        }
    }
    let lever = second.half_diagonal_mm();
    let scale_of = norm(sum.force).max(norm(sum.torque) / lever);
    if sum.force_error > RIM_ERROR * scale_of || sum.torque_error > FACES_ERROR * scale_of * lever {
        return None;
    }
    let k = first.polarization_t() * second.polarization_t() * N_PER_T2_MM2;
    Some(Wrench {
        force_n: scale(sum.force, k),
        torque_nmm: scale(sum.torque, k),
        error_n: (sum.force_error + BEST * norm(sum.force)) * k.abs(),
        error_nmm: (sum.torque_error + BEST * norm(sum.torque)) * k.abs(),
    })
}

/// A force without its torque.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Force {
    /// Force on the second magnet in N, along the first one's x, y, z.
    pub force_n: [f64; 3],
    /// Estimated bound of its error in N.
    pub error_n: f64,
}

/// Force that `first` exerts on `second`, which stands at `pose` in the frame of `first`: as [`wrench`], without the torque
/// and several times as fast for round magnets, whose force is a sum around rims in any attitude.
///
/// # Errors
/// As [`wrench`].
pub fn force(first: &Magnet, second: &Magnet, pose: &Pose) -> Result<Force, FieldError> {
    let (first, second) = (first.checked()?, second.checked()?);
    if overlap(&first, &second, pose) {
        return Err(FieldError::Overlap);
    }
    let found = if second.half_diagonal_mm() > first.half_diagonal_mm() {
        around_rims(&second, &first, &pose.inverse())?.map(|on_first| Force {
            force_n: scale(pose.direction_out(on_first.force_n), -1.0),
            ..on_first
        })
    } else {
        around_rims(&first, &second, pose)?
    };
    if let Some(found) = found {
        return Ok(found);
    }
    let w = wrench_of_apart(&first, &second, pose)?;
    Ok(Force {
        force_n: w.force_n,
        error_n: w.error_n,
    })
}

/// The sum around rims, if both are round and it keeps its digits.
fn around_rims(first: &Magnet, second: &Magnet, pose: &Pose) -> Result<Option<Force>, FieldError> {
    let (Some(sources), Some(targets)) = (solids(first), solids(second)) else {
        return Ok(None);
    };
    let (axis, [x, y, above]) = (pose.axis(), pose.offset_mm());
    let coaxial = x == 0.0 && y == 0.0 && is_parallel(axis);
    let mirror = mirror_plane(pose);
    let framed = mirror.map_or(*pose, |normal| pose.rolled(normal));
    let (mut sum, mut error) = ([0.0; 3], 0.0);
    for (s1, source) in &sources {
        for (s2, target) in &targets {
            let part = if coaxial {
                let raw = disc_pair(source, target, 0.0, above)?;
                RimForce {
                    force: scale(raw.force, axis[2].signum()),
                    error: raw.force_error,
                }
            } else {
                rim_force(source, target, &framed, mirror.is_some())
            };
            sum = add(sum, scale(part.force, s1 * s2));
            error += part.error;
        }
    }
    if error > RIM_ERROR * norm(sum) {
        return Ok(None);
    }
    let k = first.polarization_t() * second.polarization_t() * N_PER_T2_MM2;
    Ok(Some(Force {
        force_n: scale(sum, k),
        error_n: (error + BEST * norm(sum)) * k.abs(),
    }))
}

fn is_parallel(axis: Vec3) -> bool {
    axis[0].abs() < PARALLEL && axis[1].abs() < PARALLEL
}

/// The discs that make up a round magnet, with their signs.
fn solids(m: &Magnet) -> Option<Vec<(f64, Disc)>> {
    match m {
        Magnet::Disc(d) => Some(vec![(1.0, *d)]),
        Magnet::Ring(r) => Some(vec![(1.0, r.solid()), (-1.0, r.core())]),
        Magnet::Bar(_) => None,
    }
}

/// The rim integral, if both are round and it keeps its digits.
fn parallel_axes(
    first: &Magnet,
    second: &Magnet,
    pose: &Pose,
) -> Result<Option<Wrench>, FieldError> {
    let (Some(sources), Some(targets)) = (solids(first), solids(second)) else {
        return Ok(None);
    };
    let [x, y, above] = pose.offset_mm();
    let apart = (x * x + y * y).sqrt();
    let mut sum = Raw::default();
    for (s1, source) in &sources {
        for (s2, target) in &targets {
            let raw = disc_pair(source, target, apart, above)?;
            sum.add(&raw, s1 * s2);
        }
    }
    if sum.force_error
        > RIM_ERROR * norm(sum.force).max(norm(sum.torque) / second.half_diagonal_mm())
    {
        return Ok(None);
    }
    let same_way = pose.axis()[2].signum();
    let k = first.polarization_t() * second.polarization_t() * N_PER_T2_MM2 * same_way;
    let outward = if apart > 0.0 {
        [x / apart, y / apart, 0.0]
    } else {
        [1.0, 0.0, 0.0]
    };
    let sideways = [-outward[1], outward[0], 0.0];
    let out = |v: Vec3| {
        add(
            add(scale(outward, v[0] * k), scale(sideways, v[1] * k)),
            [0.0, 0.0, v[2] * k],
        )
    };
    Ok(Some(Wrench {
        force_n: out(sum.force),
        torque_nmm: out(sum.torque),
        error_n: (sum.force_error + BEST * norm(sum.force)) * k.abs(),
        error_nmm: (sum.torque_error + BEST * norm(sum.torque)) * k.abs(),
    }))
}

/// Two discs, per J1 J2 / mu0: the closed form where they share an axis and stand one over the other.
fn disc_pair(source: &Disc, target: &Disc, apart: f64, above: f64) -> Result<Raw, FieldError> {
    let gap = above.abs() - 0.5 * (source.height_mm + target.height_mm);
    if apart == 0.0 && gap > -1e-6 {
        let unit_disc = |d: &Disc| Disc {
            polarization_t: 1.0,
            ..*d
        };
        let pull = coaxial_attraction_n(&unit_disc(source), &unit_disc(target), gap.max(0.0))?
            / N_PER_T2_MM2;
        let force = [0.0, 0.0, -pull * above.signum()];
        return Ok(Raw {
            force,
            torque: [0.0; 3],
            force_error: 1e-10 * pull,
            torque_error: 0.0,
        });
    }
    Ok(parallel_discs(source, target, apart, above))
}

/// The adaptive sum over the walls of the second magnet.
pub(crate) fn summed_wrench(
    first: &Magnet,
    second: &Magnet,
    pose: &Pose,
    effort: Effort,
) -> Wrench {
    let both_round = !matches!(first, Magnet::Bar(_)) && !matches!(second, Magnet::Bar(_));
    let mirror = if both_round { mirror_plane(pose) } else { None };
    let framed = mirror.map_or(*pose, |normal| pose.rolled(normal));
    let raw = summed(first, second, &framed, mirror.is_some(), effort);
    let k = first.polarization_t() * second.polarization_t() * N_PER_T2_MM2;
    let out = |v: Vec3| scale(framed.direction_out(v), k);
    Wrench {
        force_n: out(raw.force),
        torque_nmm: out(raw.torque),
        error_n: raw.force_error * k.abs(),
        error_nmm: raw.torque_error * k.abs(),
    }
}

/// Normal of the plane that holds both axes, if there is one.
fn mirror_plane(pose: &Pose) -> Option<Vec3> {
    let z = [0.0, 0.0, 1.0];
    let (offset, axis) = (pose.offset_mm(), pose.axis());
    let normal = [cross(z, axis), cross(z, offset), [0.0, 1.0, 0.0]]
        .into_iter()
        .find_map(|n| (norm(n) > PARALLEL).then(|| unit(n)).flatten())?;
    let size = norm(offset).max(1.0);
    (dot(normal, axis).abs() < PARALLEL && dot(normal, offset).abs() < PARALLEL * size)
        .then_some(normal)
}
