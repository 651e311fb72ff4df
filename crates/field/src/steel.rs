//! Pull of a disc magnet on soft steel: thick plate by its mirror image, finite steel discs by a table of finite elements.
//!
//! The table holds the share of the thick plate's pull that a disc of mild steel gives, by four ratios of lengths and the
//! remanence: saturation is local, so that at one remanence all sizes of one shape are alike. It was lowered until it lay
//! under the finite elements, and interpolation keeps it there; `tests/reference/generate` makes it and its rows.

use crate::coaxial::coaxial_attraction_n;
use crate::demag::factor_with_image;
use crate::disc::{Disc, MAX_SIZE_MM, MIN_SIZE_MM};
use crate::error::{FieldError, checked, checked_recoil};
use crate::steel_table::{CODES, GAP_SHIFT, GAPS, HEIGHTS, LEAST, REMANENCES, THICKNESSES, WIDTHS};

/// Attraction in N between a disc and a thick, wide plate of soft steel, `gap_mm` from its face.
///
/// The plate is a magnetic mirror: the force is that between the disc and its like at twice the gap.
/// `d.polarization_t` is here the material's REMANENCE; with `recoil_mu_r` above 1 the mean polarisation in the presence of
/// the mirror image follows from it, `J = Br / (1 + N' (mu_r - 1))`. Give 1 for a disc whose polarisation is already known.
///
/// ```
/// use lodewright_field::{Disc, plate_attraction_n};
/// let disc = Disc::new(6.0, 2.0, 1.30)?;
/// let through_paint_n = plate_attraction_n(&disc, 0.1, 1.05)?;
/// assert!((6.0..7.0).contains(&through_paint_n));
/// # Ok::<(), lodewright_field::FieldError>(())
/// ```
///
/// # Errors
/// [`FieldError::OutOfRange`] for a disc, gap (0 to 5000 mm) or permeability (1 to 2) outside the limits.
pub fn plate_attraction_n(d: &Disc, gap_mm: f64, recoil_mu_r: f64) -> Result<f64, FieldError> {
    let d = loaded(d, gap_mm, recoil_mu_r)?;
    coaxial_attraction_n(&d, &d, 2.0 * gap_mm)
}

/// The disc with the polarisation that its remanence leaves it before a thick plate.
fn loaded(d: &Disc, gap_mm: f64, recoil_mu_r: f64) -> Result<Disc, FieldError> {
    let (d, mu_r) = (d.checked()?, checked_recoil(recoil_mu_r)?);
    checked("gap", gap_mm, 0.0, 5000.0, "mm")?;
    let n = factor_with_image(d.diameter_mm, d.height_mm, 2.0 * gap_mm);
    Ok(Disc {
        polarization_t: d.polarization_t / (1.0 + n * (mu_r - 1.0)),
        ..d
    })
}

/// Whether a pull on steel rests on finite elements.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum SteelRange {
    /// Within the sizes that finite elements cover: magnets 0.05 to 4 diameters high, of 1.0 to 1.5 T; steel 0.01 to 1 magnet
    /// diameters thick and 0.4 to 3 wide; gaps to 1.6 diameters.
    Covered,
    /// The nearest covered size was taken, which pulls no harder: the steel is thicker or wider, or the magnet weaker.
    PullsMore,
    /// No covered size stands for it: too thin, too narrow or too far, or a magnet too flat, too tall or too strong. The pull
    /// is an estimate that was made to err low, and is not tested.
    Estimated,
}

/// Pull of a magnet on a disc of steel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SteelPull {
    /// Attraction in N; where it is covered not more than 3 % above finite elements.
    pub attraction_n: f64,
    /// What it rests on.
    pub range: SteelRange,
}

/// Attraction in N between a disc and a coaxial disc of mild steel of finite diameter and thickness; errs low.
///
/// As [`steel_disc_pull`], without what it rests on.
///
/// # Errors
/// As [`steel_disc_pull`].
pub fn steel_disc_attraction_n(
    d: &Disc,
    steel_diameter_mm: f64,
    steel_thickness_mm: f64,
    gap_mm: f64,
    recoil_mu_r: f64,
) -> Result<f64, FieldError> {
    steel_disc_pull(
        d,
        steel_diameter_mm,
        steel_thickness_mm,
        gap_mm,
        recoil_mu_r,
    )
    .map(|pull| pull.attraction_n)
}

/// Attraction between a disc and a coaxial disc of mild steel of finite diameter and thickness; errs low.
///
/// `d.polarization_t` is the remanence, as in [`plate_attraction_n`]. The pull never falls with steel added. A steel disc much
/// smaller than its magnet is really pulled less in contact than a little way off, since the field is even in the middle of
/// the face; the model then stays at the lesser.
///
/// ```
/// use lodewright_field::{Disc, SteelRange, plate_attraction_n, steel_disc_pull};
/// let disc = Disc::new(5.0, 2.0, 1.30)?;
/// let wide = steel_disc_pull(&disc, 8.0, 1.0, 0.1, 1.05)?;
/// let own_size = steel_disc_pull(&disc, 5.0, 1.0, 0.1, 1.05)?;
/// // A keeper no wider than its magnet pulls about half as hard: the flux has nowhere to go back.
/// assert!(own_size.attraction_n < 0.7 * wide.attraction_n);
/// assert!(wide.attraction_n < plate_attraction_n(&disc, 0.1, 1.05)?);
/// assert_eq!(wide.range, SteelRange::Covered);
/// # Ok::<(), lodewright_field::FieldError>(())
/// ```
///
/// # Errors
/// [`FieldError::OutOfRange`] for a disc, steel size (0.001 to 200 mm), gap or permeability outside the limits.
pub fn steel_disc_pull(
    d: &Disc,
    steel_diameter_mm: f64,
    steel_thickness_mm: f64,
    gap_mm: f64,
    recoil_mu_r: f64,
) -> Result<SteelPull, FieldError> {
    let size = |what, value| checked(what, value, MIN_SIZE_MM, MAX_SIZE_MM, "mm");
    let steel_d = size("steel diameter", steel_diameter_mm)?;
    let steel_t = size("steel thickness", steel_thickness_mm)?;
    let br_t = d.polarization_t.abs();
    let d = loaded(d, gap_mm, recoil_mu_r)?;
    let plate_n = coaxial_attraction_n(&d, &d, 2.0 * gap_mm)?.max(0.0);
    let shape = Shape {
        height: d.height_mm / d.diameter_mm,
        thickness: steel_t / d.diameter_mm,
        width: steel_d / d.diameter_mm,
        gap: gap_mm / d.diameter_mm,
        br_t,
    };
    Ok(SteelPull {
        attraction_n: plate_n * shape.share(),
        range: shape.range(),
    })
}

/// What the share depends on: lengths in magnet diameters, and the remanence in T.
#[derive(Clone, Copy)]
struct Shape {
    height: f64,
    thickness: f64,
    width: f64,
    gap: f64,
    br_t: f64,
}

/// First and last of a list of nodes.
const fn ends<const N: usize>(nodes: &[f64; N]) -> (f64, f64) {
    (nodes[0], nodes[N - 1])
}

impl Shape {
    fn range(&self) -> SteelRange {
        let ((flattest, tallest), (thinnest, thickest)) = (ends(&HEIGHTS), ends(&THICKNESSES));
        let ((narrowest, widest), (weakest_t, strongest_t)) = (ends(&WIDTHS), ends(&REMANENCES));
        let estimated = self.height < flattest
            || self.height > tallest
            || self.thickness < thinnest
            || self.width < narrowest
            || self.gap > ends(&GAPS).1
            || self.br_t > strongest_t;
        if estimated {
            SteelRange::Estimated
        } else if self.thickness > thickest || self.width > widest || self.br_t < weakest_t {
            SteelRange::PullsMore
        } else {
            SteelRange::Covered
        }
    }

    /// The share of a thick plate's pull.
    fn share(&self) -> f64 {
        let place = [
            Place::of(&HEIGHTS, self.height, libm::log),
            Place::of(&THICKNESSES, self.thickness, libm::log),
            Place::of(&WIDTHS, self.width, libm::log),
            Place::of(&GAPS, self.gap, |gap| libm::log(gap + GAP_SHIFT)),
            Place::of(&REMANENCES, self.br_t, |br_t| br_t),
        ];
        libm::exp(LEAST * interpolated(&place, 0)) * self.beyond()
    }

    /// What is taken off beyond the covered sizes. A full sheet pulls with its thickness, and no sheet with more than the
    /// square of it; a small body with its volume; a magnet's moment with its height; far away an induced moment is pulled
    /// with the seventh power of the distance, the plate's image with the fourth; a stronger magnet fills the steel sooner.
    fn beyond(&self) -> f64 {
        let less = |x: f64, limit: f64| (x / limit).min(1.0);
        let thin = less(self.thickness, ends(&THICKNESSES).0);
        let narrow = less(self.width, ends(&WIDTHS).0);
        let flat = less(self.height, ends(&HEIGHTS).0);
        let tall = less(ends(&HEIGHTS).1, self.height);
        let far = less(ends(&GAPS).1, self.gap);
        let strong = less(ends(&REMANENCES).1, self.br_t);
        thin * thin * narrow * narrow * narrow * flat * tall * far * far * far * strong * strong
    }
}

/// Where a number lies between two neighbouring nodes.
struct Place {
    below: usize,
    part: f64,
    count: usize,
}

impl Place {
    /// Numbers beyond the nodes lie upon the last of them.
    fn of(nodes: &[f64], x: f64, scale: impl Fn(f64) -> f64) -> Self {
        let last_pair = nodes.len().saturating_sub(2);
        let below = nodes.iter().skip(1).take_while(|n| **n <= x).count();
        let below = below.min(last_pair);
        let part = match nodes.get(below..below + 2) {
            Some([low, high]) => {
                let (low_at, high_at) = (scale(*low), scale(*high));
                (scale(x.clamp(*low, *high)) - low_at) / (high_at - low_at)
            }
            _ => 0.0,
        };
        Self {
            below,
            part,
            count: nodes.len(),
        }
    }
}

/// The square of code / 255, linear between the nodes of each direction; `row` counts the nodes of the directions before.
fn interpolated(places: &[Place], row: usize) -> f64 {
    let Some((here, rest)) = places.split_first() else {
        let code = f64::from(CODES.get(row).copied().unwrap_or(u8::MAX)) / 255.0;
        return code * code;
    };
    let node = row * here.count + here.below;
    let low = interpolated(rest, node);
    if here.part <= 0.0 {
        return low;
    }
    low + (interpolated(rest, node + 1) - low) * here.part
}
