//! The one error type of this crate: what was given, what it must be, what to do.

use core::fmt;

/// Why a magnetic quantity could not be computed.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum FieldError {
    /// A number is not finite or lies outside the stated limits.
    OutOfRange {
        /// What the number stands for.
        what: &'static str,
        /// The value given.
        given: f64,
        /// Smallest allowed value.
        min: f64,
        /// Largest allowed value.
        max: f64,
        /// Unit of all three numbers.
        unit: &'static str,
    },
    /// Two bodies share space.
    Overlap,
    /// A shape that contradicts itself, such as a ring with its bore outside its rim.
    BadShape {
        /// What is wrong with it.
        what: &'static str,
    },
}

impl fmt::Display for FieldError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange {
                what,
                given,
                min,
                max,
                unit,
            } => write!(
                f,
                "{what} is {given} {unit}; it must be a number from {min} to {max} {unit}: correct it"
            ),
            Self::Overlap => {
                write!(
                    f,
                    "the two bodies overlap; they may touch but must not share space: move one of them away"
                )
            }
            Self::BadShape { what } => write!(f, "the shape is impossible: {what}"),
        }
    }
}

impl core::error::Error for FieldError {}

/// `given` if it lies in `min..=max`, else the error that says so. Not-a-number never passes.
pub(crate) fn checked(
    what: &'static str,
    given: f64,
    min: f64,
    max: f64,
    unit: &'static str,
) -> Result<f64, FieldError> {
    if given >= min && given <= max {
        Ok(given)
    } else {
        Err(FieldError::OutOfRange {
            what,
            given,
            min,
            max,
            unit,
        })
    }
}

/// A gap between faces, checked against the crate's limits (0 to 10 000 mm).
pub(crate) fn checked_gap_mm(gap_mm: f64) -> Result<f64, FieldError> {
    checked("gap", gap_mm, 0.0, 10_000.0, "mm")
}

/// A relative recoil permeability, checked (1 to 2).
pub(crate) fn checked_recoil(recoil_mu_r: f64) -> Result<f64, FieldError> {
    checked(
        "relative recoil permeability",
        recoil_mu_r,
        1.0,
        2.0,
        "(no unit)",
    )
}
