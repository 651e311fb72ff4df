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
//! [`Mode::SlideTurn`] ignore but for its straight-off part; the crate's tests measure how much that matters against
//! a linear program. A peg is taken as strong enough, and its own friction as nothing.

mod friction;
mod letgo;

pub use letgo::{
    LetGo, LetGoAccount, Section, TipForce, bond_stress_mpa, let_go_account, snap_force_n,
    tip_force_n,
};

use crate::plane::{Edge, LARGEST_MM, PointError, convex_hull, edges};
use core::fmt;

/// Largest force taken, N.
pub const LARGEST_N: f64 = 1e9;

/// One magnet's pull towards the host.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pull {
    /// Where it acts in the mating plane, mm.
    pub at_mm: [f64; 2],
    /// Its size, N; negative for a pair that repels.
    pub force_n: f64,
}

/// What a joint's peg stops.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PegKind {
    /// No peg: the part can slide and turn.
    #[default]
    None,
    /// One round peg: no sliding, but it can turn about the peg.
    Round,
    /// Two pegs: neither sliding nor turning.
    Two,
    /// A keyed socket: neither sliding nor turning.
    Keyed,
}

/// The peg of a joint.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Peg {
    /// What it stops.
    pub kind: PegKind,
    /// Its axis in the mating plane, mm; used for a round peg.
    pub at_mm: [f64; 2],
    /// Length inside its hole, mm; used when snug.
    pub length_mm: f64,
    /// Play across its hole, mm (hole minus peg diameter); used when snug.
    pub clearance_mm: f64,
    /// Whether its hole is close enough to carry tipping as a couple.
    pub snug: bool,
}

/// What the joint carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// Weight of everything the joint carries, N; above zero.
    pub weight_n: f64,
    /// Its centre of mass, mm.
    pub centre_mm: [f64; 3],
}

/// The pulls that are left when a snug peg has drooped.
#[derive(Clone, Copy)]
pub enum DroopedPulls<'a> {
    /// Not known: a snug peg is then given no credit.
    Unknown,
    /// Each pull at the drooped gap, N, in the order of the pulls.
    List(&'a [f64]),
    /// Pull of magnet j, N, when its gap has grown by so many mm.
    AtExtraGap(&'a dyn Fn(usize, f64) -> f64),
}

/// One joint, as [`hold_account`] takes it.
#[derive(Clone, Copy)]
pub struct Joint<'a> {
    /// Points of the contact patch, mm; their convex hull is used.
    pub patch_mm: &'a [[f64; 2]],
    /// The magnets' pulls.
    pub pulls: &'a [Pull],
    /// Coulomb friction coefficient of the faces, from 0 to 10.
    pub friction: f64,
    /// The peg, if any.
    pub peg: Peg,
    /// What is carried.
    pub load: Load,
    /// Pulls at the drooped gap, for a snug peg.
    pub drooped: DroopedPulls<'a>,
}

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

/// An input that cannot be used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoldError {
    /// A contact patch point is not usable.
    Patch(PointError),
    /// A number is not finite or out of its range.
    Value {
        /// What the number is.
        what: &'static str,
        /// The number given.
        given: f64,
        /// Least value taken.
        least: f64,
        /// Greatest value taken.
        most: f64,
    },
    /// The list of drooped pulls is not as long as that of pulls.
    DroopedCount {
        /// Length given.
        given: usize,
        /// Length needed.
        needed: usize,
    },
}

impl fmt::Display for HoldError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Patch(point) => write!(f, "contact patch: {point}"),
            Self::Value {
                what,
                given,
                least,
                most,
            } => {
                write!(
                    f,
                    "{what} is {given}; it must be from {least} to {most}: correct it"
                )
            }
            Self::DroopedCount { given, needed } => {
                write!(
                    f,
                    "{given} drooped pulls given; there must be one for each of the {needed} pulls: give them all"
                )
            }
        }
    }
}

impl core::error::Error for HoldError {}

impl From<PointError> for HoldError {
    fn from(point: PointError) -> Self {
        Self::Patch(point)
    }
}

/// `given` if it is within bounds; NaN is not.
pub(crate) fn within(
    what: &'static str,
    given: f64,
    least: f64,
    most: f64,
) -> Result<f64, HoldError> {
    if (least..=most).contains(&given) {
        Ok(given)
    } else {
        Err(HoldError::Value {
            what,
            given,
            least,
            most,
        })
    }
}

fn check_place(what: &'static str, at_mm: &[f64]) -> Result<(), HoldError> {
    at_mm
        .iter()
        .try_for_each(|&x| within(what, x, -LARGEST_MM, LARGEST_MM).map(drop))
}

pub(crate) fn check_pulls(pulls: &[Pull]) -> Result<(), HoldError> {
    pulls.iter().try_for_each(|pull| {
        check_place("position of a pull (mm)", &pull.at_mm)?;
        within("pull (N)", pull.force_n, -LARGEST_N, LARGEST_N).map(drop)
    })
}

fn check_joint(joint: &Joint<'_>) -> Result<(), HoldError> {
    check_pulls(joint.pulls)?;
    within("friction coefficient", joint.friction, 0.0, 10.0)?;
    within("weight (N)", joint.load.weight_n, 1e-9, LARGEST_N)?;
    check_place("centre of mass (mm)", &joint.load.centre_mm)?;
    if joint.peg.kind == PegKind::Round {
        check_place("position of the peg (mm)", &joint.peg.at_mm)?;
    }
    if is_snug(&joint.peg) {
        within(
            "length of the snug peg (mm)",
            joint.peg.length_mm,
            1e-3,
            LARGEST_MM,
        )?;
        within(
            "clearance of the snug peg (mm)",
            joint.peg.clearance_mm,
            0.0,
            joint.peg.length_mm,
        )?;
    }
    Ok(())
}

fn is_snug(peg: &Peg) -> bool {
    peg.snug && peg.kind != PegKind::None
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
