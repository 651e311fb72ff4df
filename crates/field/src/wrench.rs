//! Force and torque between two magnets in any relative pose.

use crate::any_pose::{Effort, Raw, summed};
use crate::coaxial::coaxial_attraction_n;
use crate::disc::Disc;
use crate::error::FieldError;
use crate::magnet::Magnet;
use crate::overlap::overlap;
use crate::parallel::parallel_discs;
use crate::pose::Pose;
use crate::units::N_PER_T2_MM2;
use crate::vec3::{V3, add, cross, dot, norm, scale, unit};

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

/// Force and torque that `first` exerts on `second`, which stands at `pose` in the frame of `first`.
///
/// Round magnets with parallel axes are summed around a rim (ten digits, contact included); every other pose by adaptive
/// quadrature of the exact field over the current sheets of the second magnet, to about six digits. Bodies may touch.
///
/// # Errors
/// [`FieldError::OutOfRange`] or [`FieldError::BadShape`] for a bad magnet, [`FieldError::Overlap`] if the bodies share space.
pub fn wrench(first: &Magnet, second: &Magnet, pose: &Pose) -> Result<Wrench, FieldError> {
    let (first, second) = (first.checked()?, second.checked()?);
    if overlap(&first, &second, pose) {
        return Err(FieldError::Overlap);
    }
    let axis = pose.axis();
    if axis[0].abs() < PARALLEL
        && axis[1].abs() < PARALLEL
        && let Some(w) = parallel_axes(&first, &second, pose)?
    {
        return Ok(w);
    }
    Ok(summed_wrench(&first, &second, pose, EFFORT))
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
            sum.force = add(sum.force, scale(raw.force, s1 * s2));
            sum.torque = add(sum.torque, scale(raw.torque, s1 * s2));
            sum.force_error += raw.force_error;
            sum.torque_error += raw.torque_error;
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
    let out = |v: V3| {
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
    let out = |v: V3| scale(framed.direction_out(v), k);
    Wrench {
        force_n: out(raw.force),
        torque_nmm: out(raw.torque),
        error_n: raw.force_error * k.abs(),
        error_nmm: raw.torque_error * k.abs(),
    }
}

/// Normal of the plane that holds both axes, if there is one.
fn mirror_plane(pose: &Pose) -> Option<V3> {
    let z = [0.0, 0.0, 1.0];
    let (offset, axis) = (pose.offset_mm(), pose.axis());
    let normal = [cross(z, axis), cross(z, offset), [0.0, 1.0, 0.0]]
        .into_iter()
        .find_map(|n| (norm(n) > PARALLEL).then(|| unit(n)).flatten())?;
    let size = norm(offset).max(1.0);
    (dot(normal, axis).abs() < PARALLEL && dot(normal, offset).abs() < PARALLEL * size)
        .then_some(normal)
}
