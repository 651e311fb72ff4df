//! Fields, forces and torques of small permanent magnets; knows nothing of kits.
//!
//! Lengths are in mm, forces in N, torques in N mm, polarisations and flux densities in T. Bodies carry a uniform
//! polarisation (relative permeability 1); what a real material loses by its own field is in
//! [`effective_polarization_t`] and in the steel functions, which take the recoil permeability.
//!
//! ```
//! use lodewright_field::{Disc, Magnet, Pose, coaxial_attraction_n, read_grade, wrench};
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let n42 = *read_grade("N42").grade();
//! let j_t = lodewright_field::effective_polarization_t(n42.br_min_t, n42.recoil_permeability, 3.0, 1.0)?;
//! let disc = Disc::new(3.0, 1.0, j_t)?;
//! let straight_n = coaxial_attraction_n(&disc, &disc, 0.2)?;
//! // The same pair 0.4 mm out of line: the centres are a height and the gap apart.
//! let beside = wrench(&Magnet::Disc(disc), &Magnet::Disc(disc), &Pose::shifted([0.4, 0.0, 1.2])?)?;
//! assert!(-beside.force_n[2] < straight_n && beside.force_n[0] < 0.0);
//! # Ok(())
//! # }
//! ```

mod any_pose;
mod coaxial;
mod demag;
mod disc;
mod elliptic;
mod ends;
mod error;
mod fast;
mod fast_grid;
mod field_bar;
mod field_disc;
mod gauss;
mod grade;
mod kronrod;
mod magnet;
mod overlap;
mod parallel;
mod pose;
mod rims;
mod safety;
mod sheets;
mod steel;
mod steel_table;
mod units;
mod wrench;

pub use coaxial::coaxial_attraction_n;
pub use demag::{
    REFERENCE_TEMP_C, br_at_temperature_t, demagnetizing_factor, effective_polarization_t,
};
pub use disc::{Disc, MAX_POLARIZATION_T, MAX_SIZE_MM, MIN_SIZE_MM};
pub use error::FieldError;
pub use fast::{FAST_PAIR_BOUND, FastPair};
pub use grade::{BR_BY_HAND_SPREAD_T, Family, Grade, GradeReading, LastingLoss, read_grade};
pub use magnet::{Bar, Magnet, Ring};
pub use pose::{MAX_DISTANCE_MM, Pose};
pub use safety::{
    FLUX_INDEX_LIMIT_KG2MM2, FluxIndex, aligned_discs_for_field, distance_to_field_mm,
    far_axial_field_t, flux_index,
};
pub use steel::{
    SteelPull, SteelRange, plate_attraction_n, steel_disc_attraction_n, steel_disc_pull,
};
pub use units::{MU0_T_M_PER_A, NDFEB_DENSITY_G_PER_CM3};
pub use wrench::{Force, Wrench, force, wrench};
