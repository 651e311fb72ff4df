//! What a joint is made of, and the checks of its numbers.

use core::fmt;
use lodewright_geometry::{LARGEST_MM, PointError};

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

/// One joint, as [`hold_account`](super::hold_account) takes it.
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
pub(super) fn within(
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

pub(super) fn check_pulls(pulls: &[Pull]) -> Result<(), HoldError> {
    pulls.iter().try_for_each(|pull| {
        check_place("position of a pull (mm)", &pull.at_mm)?;
        within("pull (N)", pull.force_n, -LARGEST_N, LARGEST_N).map(drop)
    })
}

pub(super) fn check_joint(joint: &Joint<'_>) -> Result<(), HoldError> {
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

pub(super) fn is_snug(peg: &Peg) -> bool {
    peg.snug && peg.kind != PegKind::None
}
