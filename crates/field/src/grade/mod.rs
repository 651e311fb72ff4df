//! Strength grades of sintered NdFeB as data.

/// One grade of the plain N series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grade {
    /// Trade name: N and the energy product in MGOe.
    pub name: &'static str,
    /// Lowest remanence of the grade in T.
    pub br_min_t: f64,
    /// Highest remanence of the grade in T.
    pub br_max_t: f64,
    /// Working limit in degrees Celsius. It presumes a height of at least 0.7 diameters; thinner discs stand less.
    pub max_temp_c: f64,
    /// Change of remanence per kelvin.
    pub temp_coeff_per_k: f64,
    /// Relative recoil permeability.
    pub recoil_permeability: f64,
}

/// Remanence ranges as one published producer table gives them, a second and third producer's agreeing within 0.02 T.
/// Working limit: 80 degrees Celsius for the plain series, 60 for N50 and N52 (the lowest of three tables). Coefficient:
/// tables give -0.11 to -0.12 % per kelvin, the weaker-making end is used. Recoil permeability 1.05 in two tables.
const GRADES: [Grade; 8] = [
    grade("N35", 1.17, 1.22, 80.0),
    grade("N38", 1.22, 1.25, 80.0),
    grade("N40", 1.25, 1.28, 80.0),
    grade("N42", 1.28, 1.32, 80.0),
    grade("N45", 1.32, 1.37, 80.0),
    grade("N48", 1.37, 1.42, 80.0),
    grade("N50", 1.39, 1.44, 60.0),
    grade("N52", 1.42, 1.46, 60.0),
];

const fn grade(name: &'static str, br_min_t: f64, br_max_t: f64, max_temp_c: f64) -> Grade {
    Grade {
        name,
        br_min_t,
        br_max_t,
        max_temp_c,
        temp_coeff_per_k: -0.0012,
        recoil_permeability: 1.05,
    }
}

/// All grades, weakest first.
#[must_use]
pub fn grades() -> &'static [Grade] {
    &GRADES
}

/// The grade of that name, upper or lower case, or `None`.
#[must_use]
pub fn grade_by_name(name: &str) -> Option<&'static Grade> {
    GRADES
        .iter()
        .find(|g| g.name.eq_ignore_ascii_case(name.trim()))
}
