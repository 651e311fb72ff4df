//! Grades of magnet material: what a seller's word says about strength, heat and coercivity.
//!
//! Strength is a range, since a grade is one: its low end holds, its high end must be let go of. Figures are the lowest and
//! the highest of several producers' published tables; what is from memory says so. GB/T 13560 and IEC 60404-8-1 order the
//! same materials, but their tables are not openly shown.

mod heat;
mod reading;
mod tables;

pub use heat::LastingLoss;
pub use reading::{BR_BY_HAND_SPREAD_T, GradeReading, read_grade};

/// What a magnet is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// Sintered neodymium iron boron.
    Neodymium,
    /// Sintered samarium cobalt, 1:5 or 2:17.
    SamariumCobalt,
    /// Hard ferrite, also called ceramic.
    Ferrite,
}

/// What a grade promises at 20 degrees Celsius, and how that changes with heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grade {
    /// Lowest remanence in T.
    pub br_min_t: f64,
    /// Highest remanence in T.
    pub br_max_t: f64,
    /// Working limit in degrees Celsius, for discs at least 0.7 diameters high; see [`Grade::lasting_loss`] for thinner ones.
    pub max_temp_c: f64,
    /// Change of remanence per kelvin.
    pub temp_coeff_per_k: f64,
    /// Lowest intrinsic coercivity HcJ in kA/m.
    pub hcj_min_ka_per_m: f64,
    /// Change of the coercivity per kelvin.
    pub hcj_coeff_per_k: f64,
    /// Relative recoil permeability.
    pub recoil_permeability: f64,
}
