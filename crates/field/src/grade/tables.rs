//! The figures behind the grades, by family.

use crate::grade::Grade;

/// A strength class: its number in the trade, lowest and highest remanence in T.
pub(super) type Class = (u16, f64, f64);

/// NdFeB by energy product in MGOe. 30 to 55: the lowest and the highest of four producers' published tables, which agree
/// within 0.03 T; 28 from memory.
pub(super) const NEODYMIUM: [Class; 13] = [
    (28, 1.04, 1.09),
    (30, 1.08, 1.13),
    (33, 1.13, 1.18),
    (35, 1.17, 1.22),
    (38, 1.22, 1.25),
    (40, 1.25, 1.28),
    (42, 1.28, 1.33),
    (45, 1.32, 1.38),
    (48, 1.37, 1.43),
    (50, 1.39, 1.45),
    (52, 1.42, 1.48),
    (54, 1.44, 1.49),
    (56, 1.46, 1.53),
];

/// Samarium cobalt by energy product in MGOe, both kinds: two producers' published tables; 32 and 35 from memory.
pub(super) const SAMARIUM_COBALT: [Class; 11] = [
    (14, 0.74, 0.80),
    (16, 0.75, 0.88),
    (18, 0.80, 0.93),
    (20, 0.89, 0.98),
    (22, 0.92, 0.985),
    (24, 0.95, 1.02),
    (26, 1.02, 1.06),
    (28, 1.03, 1.10),
    (30, 1.08, 1.12),
    (32, 1.10, 1.16),
    (35, 1.14, 1.20),
];

/// Ferrite by the number after Y, energy product in kJ/m3: two producers' lists after the Chinese trade standard
/// SJ/T 10410, all suffixes of a number together; from 32 on from memory.
pub(super) const FERRITE_Y: [Class; 10] = [
    (8, 0.20, 0.235),
    (10, 0.20, 0.235),
    (20, 0.32, 0.38),
    (22, 0.31, 0.36),
    (25, 0.36, 0.40),
    (26, 0.36, 0.39),
    (28, 0.35, 0.40),
    (30, 0.37, 0.415),
    (35, 0.40, 0.45),
    (40, 0.43, 0.46),
];

/// Ferrite by the American number after C: C1, C5, C8 and C10 from a producer's list, C7 and C11 from memory.
pub(super) const FERRITE_C: [Class; 6] = [
    (1, 0.20, 0.235),
    (5, 0.37, 0.40),
    (7, 0.34, 0.38),
    (8, 0.38, 0.40),
    (10, 0.38, 0.41),
    (11, 0.41, 0.43),
];

/// Coercivity class of NdFeB: suffix, working limit in degrees Celsius, lowest HcJ in kA/m. Limits and coercivities from
/// producers' tables; AH's coercivity is the upper end of ASTM A1101's range.
pub(super) const HEAT_CLASSES: [(&str, f64, f64); 7] = [
    ("", 80.0, 955.0),
    ("M", 100.0, 1114.0),
    ("H", 120.0, 1353.0),
    ("SH", 150.0, 1592.0),
    ("UH", 180.0, 1990.0),
    ("EH", 200.0, 2388.0),
    ("AH", 220.0, 2785.0),
];

/// From these numbers on tables state less: 876 kA/m instead of 955; and 60 degrees instead of 80, with 90 degrees and
/// 1035 kA/m for M, 110 and 1273 for H. The lowest of each table.
const SOFTER_FROM: u16 = 48;
const STRONGEST_FROM: u16 = 50;

/// A grade of NdFeB. Remanence falls by 0.11 to 0.12 % per kelvin, coercivity by 0.5 to 0.76 %: the weaker-making ends.
pub(super) fn neodymium(range: (f64, f64), number: u16, heat: usize) -> Grade {
    let (_, limit_c, hcj) = HEAT_CLASSES.get(heat).copied().unwrap_or(HEAT_CLASSES[0]);
    let strongest = number >= STRONGEST_FROM;
    let (max_temp_c, hcj_min_ka_per_m) = match heat {
        0 if strongest => (60.0, 876.0),
        0 if number >= SOFTER_FROM => (limit_c, 876.0),
        1 if strongest => (90.0, 1035.0),
        2 if strongest => (110.0, 1273.0),
        _ => (limit_c, hcj),
    };
    Grade {
        br_min_t: range.0,
        br_max_t: range.1,
        max_temp_c,
        temp_coeff_per_k: -0.0012,
        hcj_min_ka_per_m,
        hcj_coeff_per_k: -0.0076,
        recoil_permeability: 1.05,
    }
}

/// A grade of samarium cobalt: remanence -0.03 to -0.05 % per kelvin, coercivity -0.15 to -0.30 %, 250 degrees for 1:5 and
/// more for 2:17, coercivity from 636 kA/m (8 kOe, the softest 2:17): producers' tables, the weaker-making ends.
pub(super) fn samarium_cobalt(range: (f64, f64)) -> Grade {
    Grade {
        br_min_t: range.0,
        br_max_t: range.1,
        max_temp_c: 250.0,
        temp_coeff_per_k: -0.0005,
        hcj_min_ka_per_m: 636.0,
        hcj_coeff_per_k: -0.0030,
        recoil_permeability: 1.05,
    }
}

/// A grade of ferrite: coercivity from 140 kA/m (225 with the suffixes of the coercive kinds), working limit 250 degrees:
/// producers' lists. Remanence -0.2 % and coercivity +0.27 % per kelvin, recoil permeability 1.1: from memory. Ferrite loses
/// strength for good in the cold rather than in heat.
pub(super) fn ferrite(range: (f64, f64), coercive: bool) -> Grade {
    Grade {
        br_min_t: range.0,
        br_max_t: range.1,
        max_temp_c: 250.0,
        temp_coeff_per_k: -0.0020,
        hcj_min_ka_per_m: if coercive { 225.0 } else { 140.0 },
        hcj_coeff_per_k: 0.0027,
        recoil_permeability: 1.1,
    }
}

/// Remanence range of a number: its own class, or from the class below to the class above. `None` outside the table.
pub(super) fn range_of(classes: &[Class], number: u16) -> Option<(f64, f64)> {
    let below = classes.iter().rev().find(|c| c.0 <= number)?;
    let above = classes.iter().find(|c| c.0 >= number)?;
    Some((below.1.min(above.1), below.2.max(above.2)))
}

/// From the weakest to the strongest of a family.
pub(super) fn whole_range(classes: &[Class]) -> (f64, f64) {
    classes
        .iter()
        .fold((f64::INFINITY, 0.0), |(low, high): (f64, f64), c| {
            (low.min(c.1), high.max(c.2))
        })
}
