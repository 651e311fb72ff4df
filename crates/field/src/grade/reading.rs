//! Reads a seller's word for a grade, such as `N42`, `n 52 m`, `35SH`, `ferrite Y30BH` or `SmCo 26`.

use crate::grade::tables::{
    Class, FERRITE_C, FERRITE_Y, HEAT_CLASSES, NEODYMIUM, SAMARIUM_COBALT, ferrite, neodymium,
    range_of, samarium_cobalt, whole_range,
};
use crate::grade::{Family, Grade};

/// How much of a grade's text was understood. Every reading has figures; what was not understood makes their range wider, so
/// that the weak end stays weak enough and the strong end strong enough.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum GradeReading {
    /// Material and strength class.
    Exact(Family, Grade),
    /// The material only: from its weakest to its strongest class.
    FamilyOnly(Family, Grade),
    /// Nothing: from the weakest class of the weakest material to the strongest of the strongest. Ask for the remanence.
    Unknown(Grade),
    /// The remanence was given by hand; the rest as far as the text was understood.
    ByHand(Option<Family>, Grade),
}

/// How far the true remanence may lie from one that a seller states as a single number, T: half the range of a wide class.
pub const BR_BY_HAND_SPREAD_T: f64 = 0.03;

impl GradeReading {
    /// The figures.
    #[must_use]
    pub fn grade(&self) -> &Grade {
        match self {
            Self::Exact(_, grade)
            | Self::FamilyOnly(_, grade)
            | Self::Unknown(grade)
            | Self::ByHand(_, grade) => grade,
        }
    }

    /// The material, where it was understood.
    #[must_use]
    pub fn family(&self) -> Option<Family> {
        match self {
            Self::Exact(family, _) | Self::FamilyOnly(family, _) => Some(*family),
            Self::ByHand(family, _) => *family,
            Self::Unknown(_) => None,
        }
    }

    /// Whether the strength is a guess, so that the remanence should be asked for.
    #[must_use]
    pub fn is_guess(&self) -> bool {
        matches!(self, Self::FamilyOnly(..) | Self::Unknown(_))
    }

    /// The same with a remanence from the seller's data sheet, T, in place of the class's range.
    #[must_use]
    pub fn with_br_t(&self, br_t: f64) -> Self {
        let range = (
            (br_t - BR_BY_HAND_SPREAD_T).max(0.0),
            br_t + BR_BY_HAND_SPREAD_T,
        );
        let grade = match self.family() {
            Some(_) => Grade {
                br_min_t: range.0,
                br_max_t: range.1,
                ..*self.grade()
            },
            // No ferrite is so strong, and of the others neodymium stands the least heat.
            None if br_t > whole_range(&FERRITE_Y).1 => neodymium(range, u16::MAX, 0),
            None => ferrite(range, false),
        };
        Self::ByHand(self.family(), grade)
    }
}

/// Reads a grade as sellers write it; upper or lower case, with or without blanks, hyphens and the material's name.
///
/// ```
/// use lodewright_field::{Family, GradeReading, read_grade};
/// let n52m = read_grade("n 52 M");
/// assert_eq!(n52m.family(), Some(Family::Neodymium));
/// assert!(n52m.grade().br_min_t > 1.4 && n52m.grade().max_temp_c <= 100.0);
/// // Ferrite pulls about a tenth as hard as neodymium of its size: force goes with the square of the remanence.
/// assert!(read_grade("ferrite Y30").grade().br_max_t < 0.42);
/// // What cannot be read says so, and covers everything.
/// assert!(matches!(read_grade("super strong"), GradeReading::Unknown(_)));
/// ```
#[must_use]
pub fn read_grade(text: &str) -> GradeReading {
    let plain: String = text
        .chars()
        .filter(|c| c.is_ascii_alphanumeric())
        .map(|c| c.to_ascii_uppercase())
        .collect();
    if let Some(rest) = after_any(
        &plain,
        &["SM2CO17", "SM1CO5", "SMCO5", "SMCO", "SAMARIUMCOBALT"],
    ) {
        return samarium(rest);
    }
    if let Some(rest) = after_any(&plain, &["YXG", "YX"]).filter(|rest| starts_with_digit(rest)) {
        return samarium(rest);
    }
    if let Some(rest) = after_any(&plain, &["HARDFERRITE", "FERRITE", "CERAMIC"]) {
        let class = after_any(rest, &["Y", "C"]).unwrap_or(rest);
        let by_c =
            rest.starts_with('C') || (plain.starts_with("CERAMIC") && !rest.starts_with('Y'));
        return ferrite_class(class, by_c).unwrap_or_else(|| {
            GradeReading::FamilyOnly(Family::Ferrite, ferrite(whole_range(&FERRITE_Y), false))
        });
    }
    let named = after_any(&plain, &["NEODYMIUM", "NDFEB", "NIB", "NEO"]);
    let class = named.unwrap_or(&plain);
    let lettered = class.strip_prefix('N');
    let digits = lettered.unwrap_or(class);
    if let Some((grade, has_suffix)) = neodymium_class(digits) {
        // A bare number could be of any material.
        if named.is_some() || lettered.is_some() || has_suffix {
            return GradeReading::Exact(Family::Neodymium, grade);
        }
    }
    if named.is_some() || (lettered.is_some() && starts_with_digit(digits)) {
        let strongest = NEODYMIUM.last().map_or(0, |c| c.0);
        let grade = neodymium(whole_range(&NEODYMIUM), strongest, 0);
        return GradeReading::FamilyOnly(Family::Neodymium, grade);
    }
    let ferrite_words = [('Y', false), ('C', true)];
    let found = ferrite_words
        .iter()
        .find_map(|(letter, by_c)| ferrite_class(plain.strip_prefix(*letter)?, *by_c));
    found.unwrap_or_else(unknown)
}

/// The range over all materials, with what weakens most.
fn unknown() -> GradeReading {
    GradeReading::Unknown(Grade {
        br_min_t: whole_range(&FERRITE_Y).0,
        br_max_t: whole_range(&NEODYMIUM).1,
        max_temp_c: 60.0,
        temp_coeff_per_k: -0.0020,
        hcj_min_ka_per_m: 140.0,
        hcj_coeff_per_k: -0.0076,
        recoil_permeability: 1.05,
    })
}

fn after_any<'t>(text: &'t str, words: &[&str]) -> Option<&'t str> {
    words.iter().find_map(|word| text.strip_prefix(word))
}

fn starts_with_digit(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit())
}

/// The number at the front and what follows it.
fn number_and_rest(text: &str) -> Option<(u16, &str)> {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    Some((digits.parse().ok()?, rest))
}

fn ranged<'t>(text: &'t str, classes: &[Class]) -> Option<(u16, (f64, f64), &'t str)> {
    let (number, rest) = number_and_rest(text)?;
    Some((number, range_of(classes, number)?, rest))
}

/// A number, with a suffix of coercivity or without (whether is said), and perhaps the plating, which does not matter here.
fn neodymium_class(class: &str) -> Option<(Grade, bool)> {
    let (number, range, suffix) = ranged(class, &NEODYMIUM)?;
    let suffix = PLATINGS
        .iter()
        .find_map(|plating| suffix.strip_suffix(plating))
        .unwrap_or(suffix);
    let heat = HEAT_CLASSES.iter().position(|(name, ..)| *name == suffix)?;
    Some((neodymium(range, number, heat), !suffix.is_empty()))
}

const PLATINGS: [&str; 6] = ["NICUNI", "NICKEL", "NI", "ZN", "EPOXY", "GOLD"];

fn samarium(class: &str) -> GradeReading {
    let class = after_any(class, &["YXG", "YX", "XGS", "XG"]).unwrap_or(class);
    match ranged(class, &SAMARIUM_COBALT) {
        Some((_, range, _)) => GradeReading::Exact(Family::SamariumCobalt, samarium_cobalt(range)),
        None => GradeReading::FamilyOnly(
            Family::SamariumCobalt,
            samarium_cobalt(whole_range(&SAMARIUM_COBALT)),
        ),
    }
}

/// `Y30`, `Y30BH`, `Y30H-1`; `C8`, `C8A`.
fn ferrite_class(class: &str, by_c: bool) -> Option<GradeReading> {
    let classes: &[Class] = if by_c { &FERRITE_C } else { &FERRITE_Y };
    let (_, range, suffix) = ranged(class, classes)?;
    let known = ["", "T", "A", "B", "H", "BH", "H1", "H2"].contains(&suffix);
    known.then(|| {
        let coercive = suffix.contains('H');
        GradeReading::Exact(Family::Ferrite, ferrite(range, coercive))
    })
}
