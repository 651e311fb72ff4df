//! Letting go and glue: the tip force that opens a joint, the force that snaps a section, the stress on a magnet's bond.

use super::clamp_moment_nmm;
use super::joint::{HoldError, LARGEST_N, Peg, Pull, check_pulls, is_snug, within};
use core::f64::consts::PI;
use lodewright_geometry::{LARGEST_MM, convex_hull, distance, edges};

/// Sideways force at a height that opens a joint, over all directions in the mating plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TipForce {
    /// Force in the direction that opens it soonest, N: the least clamp moment over the height.
    pub easiest_n: f64,
    /// Force in the direction that opens it last, N: total pull times the farthest hull corner's distance from the
    /// pulls' centroid, over the height. A let-go joint must still open at this one.
    pub hardest_n: f64,
}

/// Sideways force, N, at `height_mm` above the mating plane that opens a joint; exact for rigid unilateral contact.
///
/// Zero for a joint that holds nothing (no pull, no patch area, pulls' centroid outside the patch). A snug peg, which
/// keeps the joint from opening so, is not considered; see [`let_go_account`].
///
/// # Errors
/// [`HoldError`] for numbers that are not finite or out of range; the height must be at least 0.001 mm.
pub fn tip_force_n(
    patch_mm: &[[f64; 2]],
    pulls: &[Pull],
    height_mm: f64,
) -> Result<TipForce, HoldError> {
    check_pulls(pulls)?;
    within("height of the force (mm)", height_mm, 1e-3, LARGEST_MM)?;
    let hull = convex_hull(patch_mm)?;
    let edges = edges(&hull);
    let pull_n: f64 = pulls.iter().map(|pull| pull.force_n).sum();
    let least = edges
        .iter()
        .map(|edge| clamp_moment_nmm(pulls, edge))
        .fold(f64::INFINITY, f64::min);
    if edges.is_empty() || pull_n <= 0.0 || least <= 0.0 {
        return Ok(TipForce {
            easiest_n: 0.0,
            hardest_n: 0.0,
        });
    }
    let mean = |axis: usize| pulls.iter().map(|p| p.force_n * p.at_mm[axis]).sum::<f64>() / pull_n;
    let centroid = [mean(0), mean(1)];
    let farthest = hull
        .iter()
        .map(|&corner| distance(corner, centroid))
        .fold(0.0, f64::max);
    Ok(TipForce {
        easiest_n: least / height_mm,
        hardest_n: pull_n * farthest / height_mm,
    })
}

/// Cross-section of a thin part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Section {
    /// Round.
    Round {
        /// Diameter, mm.
        diameter_mm: f64,
    },
    /// Rectangular.
    Rectangle {
        /// Size across the load, mm.
        across_mm: f64,
        /// Size along the load, mm.
        along_mm: f64,
    },
}

impl Section {
    /// Section modulus, mm3: pi d^3/32 or b h^2/6 (beam theory; any strength-of-materials text, from memory).
    ///
    /// # Errors
    /// [`HoldError::Value`] for a size that is not above zero or not finite.
    pub fn modulus_mm3(&self) -> Result<f64, HoldError> {
        let size = |given| within("size of the section (mm)", given, 1e-6, 1e6);
        match *self {
            Self::Round { diameter_mm } => size(diameter_mm).map(|d| PI * d * d * d / 32.0),
            Self::Rectangle {
                across_mm,
                along_mm,
            } => Ok(size(across_mm)? * size(along_mm)? * along_mm / 6.0),
        }
    }
}

/// Sideways force, N, at the end of a cantilever of `length_mm` that brings its root to `strength_mpa`:
/// strength * modulus / (length * stress concentration factor).
///
/// # Errors
/// [`HoldError::Value`] for a number that is not finite or out of range; the factor is from 1 to 100.
pub fn snap_force_n(
    section: Section,
    length_mm: f64,
    strength_mpa: f64,
    stress_concentration: f64,
) -> Result<f64, HoldError> {
    let modulus = section.modulus_mm3()?;
    let length = within("length of the cantilever (mm)", length_mm, 1e-3, LARGEST_MM)?;
    let strength = within("strength (MPa)", strength_mpa, 0.0, 1e6)?;
    let factor = within(
        "stress concentration factor",
        stress_concentration,
        1.0,
        100.0,
    )?;
    Ok(strength * modulus / (length * factor))
}

/// A joint that must open before the part it carries breaks.
#[derive(Debug, Clone, Copy)]
pub struct LetGo<'a> {
    /// Points of the contact patch, mm.
    pub patch_mm: &'a [[f64; 2]],
    /// The magnets' pulls at their high end, N.
    pub pulls: &'a [Pull],
    /// The peg, if any.
    pub peg: Peg,
    /// Height of the knock above the mating plane, mm.
    pub height_mm: f64,
    /// Thinnest section of the part.
    pub section: Section,
    /// Distance from that section to the knock, mm.
    pub length_mm: f64,
    /// Strength of its material, MPa.
    pub strength_mpa: f64,
    /// Stress concentration factor at the section, from 1.
    pub stress_concentration: f64,
    /// Safety factor asked for, from 1.
    pub safety_factor: f64,
}

/// Whether a joint lets go in time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LetGoAccount {
    /// Force that opens the joint; none when a snug peg keeps it from opening.
    pub opens: Option<TipForce>,
    /// Force that snaps the section, N.
    pub snaps_n: f64,
    /// Snapping force over the hardest opening force; zero when a snug peg keeps the joint from opening, infinite for a
    /// joint that holds nothing.
    pub factor: f64,
    /// Whether `factor` reaches the safety factor asked for.
    pub lets_go: bool,
}

/// Compares the force that opens a joint, in the direction that opens it last, with the force that snaps the part.
///
/// # Errors
/// [`HoldError`] for numbers that are not finite or out of range.
pub fn let_go_account(joint: &LetGo<'_>) -> Result<LetGoAccount, HoldError> {
    let asked = within("safety factor", joint.safety_factor, 1.0, 100.0)?;
    let snaps_n = snap_force_n(
        joint.section,
        joint.length_mm,
        joint.strength_mpa,
        joint.stress_concentration,
    )?;
    let force = tip_force_n(joint.patch_mm, joint.pulls, joint.height_mm)?;
    let opens = (!is_snug(&joint.peg)).then_some(force);
    let factor = match opens {
        None => 0.0,
        Some(force) if force.hardest_n == 0.0 => f64::INFINITY,
        Some(force) => snaps_n / force.hardest_n,
    };
    Ok(LetGoAccount {
        opens,
        snaps_n,
        factor,
        lets_go: factor >= asked,
    })
}

/// Mean stress, MPa, on the glue of a magnet pulled with `pull_n`: over its back face and the rim in its hole,
/// pi D^2/4 + pi D depth. A mean: peel at the edge is not considered.
///
/// # Errors
/// [`HoldError::Value`] for a number that is not finite or out of range; the diameter must be above zero.
pub fn bond_stress_mpa(pull_n: f64, diameter_mm: f64, depth_mm: f64) -> Result<f64, HoldError> {
    let pull = within("pull (N)", pull_n, 0.0, LARGEST_N)?;
    let diameter = within("diameter of the magnet (mm)", diameter_mm, 1e-6, 1e6)?;
    let depth = within("depth of the hole (mm)", depth_mm, 0.0, 1e6)?;
    Ok(pull / (PI * diameter * (diameter / 4.0 + depth)))
}
