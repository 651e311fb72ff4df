//! Hold margins of one joint: the load, in multiples of the part's weight, at which it opens or slips.
//!
//! Everything is in the joint's mating frame: x and y in the mating plane, z away from the host; mm and N. The load is
//! the part's weight times a factor, applied at the centre of mass in any direction; the margin is the smallest factor
//! that opens or moves the joint, over all directions. Contact can push but not pull; magnets pull straight down.
//!
//! Exact, for rigid flat faces: tipping about each hull edge ([`Mode::Tip`]) and [`Mode::StraightPull`]. The normal
//! reaction must have its centre inside the hull of the contact patch, and that is all that tipping asks.
//! [`Mode::Slide`] is exact for Coulomb friction when the load passes the pulls' centroid in the plane.
//!
//! Stated approximations: how contact pressure spreads is not determined by statics. The reaction to each pull is taken
//! to stay centred under that magnet, as friction at each bolt is in slip-critical bolted joints (common practice), and
//! spread there with mean radius R/2, R the largest disc about the magnet within the hull (uniform-wear clutch plate,
//! from memory of mechanical design handbooks). By convexity the mean distance from a centre of rotation is then at
//! least max(|p_j - o|, R_j/2). A load also moves the centre of pressure, which [`Mode::Turn`] and
//! [`Mode::SlideTurn`] ignore but for its straight-off part. Measured against a linear program that may put the contact
//! pressure wherever it helps, on 6000 random joints (friction 0.1 to 0.6) with a search for the worst direction: the
//! estimate was the lower one in all but 8 joints, of which the worst held 0.85 of it. A peg is taken as
//! strong enough, and its own friction as nothing.

mod friction;
mod joint;
mod letgo;
mod quick;
mod shake;

pub use joint::{DroopedPulls, HoldError, Joint, LARGEST_N, Load, Peg, PegKind, Pull};
pub use letgo::{
    LetGo, LetGoAccount, Section, TipForce, bond_stress_mpa, let_go_account, snap_force_n,
    tip_force_n,
};

pub use quick::QuickMargin;
pub use shake::{Shaken, shaken};

use joint::{check_joint, is_snug, within};
use lodewright_geometry::{Edge, convex_hull, edges};

/// A way in which a joint gives way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Mode {
    /// Opens about a hull edge.
    Tip {
        /// Index of the edge: from hull point `edge` to the next.
        edge: usize,
        /// One end of the edge, mm.
        from_mm: [f64; 2],
        /// The other end, mm.
        to_mm: [f64; 2],
    },
    /// Slips sideways without turning.
    Slide,
    /// Turns in the plane, about the round peg or about the pulls' centroid.
    Turn,
    /// Slips about the worst centre of rotation: sideways and turning at once.
    SlideTurn,
    /// Comes straight off at the closed gap.
    StraightPull,
    /// Comes straight off the snug peg at the gap the droop has opened.
    DroopedPull,
    /// The contact patch has no area, so nothing resists tipping: margin zero.
    NoPatch,
    /// The pulls add up to nothing or push apart: margin zero.
    NoPull,
}

/// The margin of one mode.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ModeMargin {
    /// The mode.
    pub mode: Mode,
    /// Load, in multiples of the weight (g), at which it occurs in its worst direction; infinite if no load causes it.
    pub margin_g: f64,
    /// Unit vector of that load in the mating frame.
    pub direction: [f64; 3],
}

/// What a joint holds.
#[derive(Debug, Clone, PartialEq)]
pub struct HoldAccount {
    /// Load, in multiples of the weight (g), at which the joint opens or slips; with a snug peg whose drooped pulls are
    /// known, at which it comes off or turns.
    pub margin_g: f64,
    /// The mode that gives the margin; of equal ones the first of `modes`.
    pub mode: Mode,
    /// Unit vector of the worst load direction in the mating frame.
    pub direction: [f64; 3],
    /// Every mode that can occur, tips first.
    pub modes: Vec<ModeMargin>,
    /// Sum of the pulls, N.
    pub pull_n: f64,
    /// Convex hull of the contact patch, mm, counter-clockwise.
    pub hull_mm: Vec<[f64; 2]>,
    /// Load (g) up to which the joint stays fully shut and still, with no credit for a snug peg.
    pub stays_shut_g: f64,
    /// Load (g) at which the part leaves a snug peg, pulled straight out at the drooped gap; none without such a peg.
    pub comes_free_g: Option<f64>,
    /// Angle by which a part on a snug peg can droop, degrees: atan(clearance / length); none without a snug peg.
    pub droop_deg: Option<f64>,
}

/// Clamp moment of the pulls about an edge, N mm: sum of F_j (p_j - q) . n.
pub(crate) fn clamp_moment_nmm(pulls: &[Pull], edge: &Edge) -> f64 {
    pulls
        .iter()
        .map(|pull| pull.force_n * edge.inside_mm(pull.at_mm))
        .sum()
}

/// Tipping about one edge. The load direction that opens it soonest is that in which the centre of mass would move:
/// (-c_z n, d), so the lever is its distance from the edge's line in space.
fn tip(joint: &Joint<'_>, index: usize, edge: &Edge) -> ModeMargin {
    let [x, y, z] = joint.load.centre_mm;
    let inside = edge.inside_mm([x, y]);
    let lever = (inside * inside + z * z).sqrt();
    let moment = clamp_moment_nmm(joint.pulls, edge).max(0.0);
    let margin_g = if moment == 0.0 {
        0.0
    } else {
        moment / (joint.load.weight_n * lever)
    };
    let direction = if lever > 0.0 {
        [
            -z * edge.inward[0] / lever,
            -z * edge.inward[1] / lever,
            inside / lever,
        ]
    } else {
        [0.0, 0.0, 1.0]
    };
    ModeMargin {
        mode: Mode::Tip {
            edge: index,
            from_mm: edge.from_mm,
            to_mm: edge.to_mm,
        },
        margin_g,
        direction,
    }
}

/// Sum of the pulls left when the part has drooped about its worst edge, N.
fn drooped_pull_n(joint: &Joint<'_>, edges: &[Edge], slope: f64) -> Result<Option<f64>, HoldError> {
    match joint.drooped {
        DroopedPulls::Unknown => Ok(None),
        DroopedPulls::List(list) if list.len() != joint.pulls.len() => {
            Err(HoldError::DroopedCount {
                given: list.len(),
                needed: joint.pulls.len(),
            })
        }
        DroopedPulls::List(list) => sum_checked(list.iter().copied()).map(Some),
        DroopedPulls::AtExtraGap(pull) => {
            let about = |edge: &Edge| {
                let gaps = joint
                    .pulls
                    .iter()
                    .map(|p| slope * edge.inside_mm(p.at_mm).max(0.0));
                sum_checked(gaps.enumerate().map(|(j, gap)| pull(j, gap)))
            };
            edges
                .iter()
                .try_fold(f64::INFINITY, |least, edge| Ok(least.min(about(edge)?)))
                .map(Some)
        }
    }
}

fn sum_checked(pulls: impl Iterator<Item = f64>) -> Result<f64, HoldError> {
    pulls
        .map(|pull| within("drooped pull (N)", pull, -LARGEST_N, LARGEST_N))
        .sum()
}

fn least(modes: &[ModeMargin]) -> ModeMargin {
    let none = ModeMargin {
        mode: Mode::NoPatch,
        margin_g: 0.0,
        direction: [0.0, 0.0, 1.0],
    };
    modes
        .iter()
        .copied()
        .reduce(|best, m| if m.margin_g < best.margin_g { m } else { best })
        .unwrap_or(none)
}

/// The account of a joint that holds nothing.
fn nothing_held(mode: Mode, pull_n: f64, hull_mm: Vec<[f64; 2]>) -> HoldAccount {
    let zero = ModeMargin {
        mode,
        margin_g: 0.0,
        direction: [0.0, 0.0, 1.0],
    };
    HoldAccount {
        margin_g: 0.0,
        mode,
        direction: zero.direction,
        modes: vec![zero],
        pull_n,
        hull_mm,
        stays_shut_g: 0.0,
        comes_free_g: None,
        droop_deg: None,
    }
}

/// Margin of a joint, with the mode and direction that govern it.
///
/// Tipping about hull edge e: lambda = M_e / (W sqrt(d_e^2 + c_z^2)), M_e the clamp moment and d_e the distance of the
/// centre of mass from the edge in the plane; exact for rigid unilateral contact. Sliding: mu F / (W sqrt(1 + mu^2)).
/// Turning about a centre o: mu F r / (W sqrt(l^2 + (mu r)^2)), r the mean radius of the friction, l the distance of
/// the centre of mass from o in the plane. A joint without pull or without patch area holds nothing and says so with
/// [`Mode::NoPull`] or [`Mode::NoPatch`]; a clamp moment that is not positive gives that tip a margin of zero.
///
/// With a snug peg whose drooped pulls are known, tipping only makes the part droop, so the margin is that of the
/// straight pull at the drooped gap (and of turning, for one round peg); `stays_shut_g` still counts tipping.
///
/// # Errors
/// [`HoldError`] for numbers that are not finite or out of range (the weight must be above zero) and for a list of
/// drooped pulls of the wrong length.
///
/// # Examples
/// A part of 0.1 N with its centre 5 mm before a patch of 10 by 10 mm, held by 2 N in the middle: its lever about an edge is
/// sqrt(5² + 5²) mm, so it tips at 2 * 5 / (0.1 * sqrt(50)) = 14.1 times its weight.
///
/// ```
/// use lodewright_solve::hold::{hold_account, DroopedPulls, Joint, Load, Mode, Peg, PegKind, Pull};
///
/// let account = hold_account(&Joint {
///     patch_mm: &[[-5.0, -5.0], [5.0, -5.0], [5.0, 5.0], [-5.0, 5.0]],
///     pulls: &[Pull { at_mm: [0.0, 0.0], force_n: 2.0 }],
///     friction: 0.3,
///     peg: Peg { kind: PegKind::Keyed, ..Peg::default() },
///     load: Load { weight_n: 0.1, centre_mm: [0.0, 0.0, 5.0] },
///     drooped: DroopedPulls::Unknown,
/// })?;
/// assert!((account.margin_g - 100.0 / 50_f64.sqrt()).abs() < 1e-9);
/// assert!(matches!(account.mode, Mode::Tip { .. }));
/// # Ok::<(), lodewright_solve::hold::HoldError>(())
/// ```
pub fn hold_account(joint: &Joint<'_>) -> Result<HoldAccount, HoldError> {
    check_joint(joint)?;
    let hull_mm = convex_hull(joint.patch_mm)?;
    let edges = edges(&hull_mm);
    let pull_n: f64 = joint.pulls.iter().map(|pull| pull.force_n).sum();
    if pull_n <= 0.0 {
        return Ok(nothing_held(Mode::NoPull, pull_n, hull_mm));
    }
    if edges.is_empty() {
        return Ok(nothing_held(Mode::NoPatch, pull_n, hull_mm));
    }
    let tips: Vec<_> = edges
        .iter()
        .enumerate()
        .map(|(i, edge)| tip(joint, i, edge))
        .collect();
    let slips = friction::slips(joint, &edges, pull_n);
    let off = |mode, force: f64| ModeMargin {
        mode,
        margin_g: force.max(0.0) / joint.load.weight_n,
        direction: [0.0, 0.0, 1.0],
    };
    let mut modes = [tips, slips.clone(), vec![off(Mode::StraightPull, pull_n)]].concat();
    let mut governing = least(&modes);
    let stays_shut_g = governing.margin_g;
    let slope = is_snug(&joint.peg).then(|| joint.peg.clearance_mm / joint.peg.length_mm);
    let mut comes_free_g = None;
    if let Some(force) = slope
        .map(|slope| drooped_pull_n(joint, &edges, slope))
        .transpose()?
        .flatten()
    {
        let drooped = off(Mode::DroopedPull, force.min(pull_n));
        modes.push(drooped);
        comes_free_g = Some(drooped.margin_g);
        governing = least(&[slips, vec![drooped]].concat());
    }
    Ok(HoldAccount {
        margin_g: governing.margin_g,
        mode: governing.mode,
        direction: governing.direction,
        modes,
        pull_n,
        hull_mm,
        stays_shut_g,
        comes_free_g,
        droop_deg: slope.map(|slope| libm::atan(slope).to_degrees()),
    })
}
