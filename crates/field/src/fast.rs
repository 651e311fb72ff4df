//! A quick stand-in for the exact force of one pair, for the many evaluations of a search or a tolerance study.

use std::sync::OnceLock;

use crate::coaxial::coaxial_attraction_n;
use crate::disc::Disc;
use crate::error::{FieldError, checked, checked_gap_mm};
use crate::fast_grid::{Axis, Curve, Sheet};
use crate::magnet::Magnet;
use crate::pose::Pose;
use crate::wrench::force;

/// Relative error that no answer of [`FastPair`] exceeds (tested against the exact force; the usual error is far smaller).
pub const FAST_PAIR_BOUND: f64 = 0.005;

/// Largest offset, in smaller radii, and largest tilt that the tables cover; beyond, the exact force is computed.
const MAX_OFFSET: f64 = 0.6;
const MAX_TILT_DEG: f64 = 4.0;
/// The tables of a tilt hold where the gap is at least this multiple of what the lowered edge loses.
const CLEARANCE: f64 = 2.0;

/// Attraction of one pair of discs from tables over gap, small offset and small tilt.
///
/// The coaxial table is built at once (some 200 exact forces); those for offset and tilt on first use. Outside the tables
/// the exact force is computed, so the bound [`FAST_PAIR_BOUND`] holds everywhere.
#[derive(Debug)]
pub struct FastPair {
    first: Disc,
    second: Disc,
    /// Sign of the force, and J1 J2 scaled away: tables hold the logarithm of the force of 1 T discs.
    strength_t2: f64,
    coaxial: Curve,
    offset: OnceLock<Option<Sheet>>,
    tilt: OnceLock<Option<Tilt>>,
}

/// What a tilt adds to the share of the coaxial force, by gap and offset.
#[derive(Debug)]
struct Tilt {
    /// Per square of the tilt, about the axis square to the offset.
    along: Sheet,
    /// Per square of the tilt, about the offset's own direction.
    across: Sheet,
    /// Per tilt that lowers the edge on the offset's side.
    odd: Sheet,
}

impl FastPair {
    /// Tables for two discs.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] for a disc outside its limits.
    pub fn new(first: &Disc, second: &Disc) -> Result<Self, FieldError> {
        let strength_t2 = first.checked()?.polarization_t * second.checked()?.polarization_t;
        let first = Disc {
            polarization_t: 1.0,
            ..*first
        };
        let second = Disc {
            polarization_t: 1.0,
            ..*second
        };
        let smaller = first.radius_mm().min(second.radius_mm());
        let reach_mm =
            10.0 * (first.diameter_mm + second.diameter_mm + first.height_mm + second.height_mm);
        let axis = Axis::new(0.01 * smaller, reach_mm.min(9_000.0), 240);
        let coaxial = Curve::build(axis, |g| {
            coaxial_attraction_n(&first, &second, g).map(libm::log)
        })?;
        Ok(Self {
            first,
            second,
            strength_t2,
            coaxial,
            offset: OnceLock::new(),
            tilt: OnceLock::new(),
        })
    }

    /// Attraction in N on one axis, `gap_mm` from face to face; negative is repulsion.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] for a gap outside 0 to 10 000 mm.
    pub fn coaxial_n(&self, gap_mm: f64) -> Result<f64, FieldError> {
        match self.coaxial.at(gap_mm) {
            Some(log_n) => Ok(self.strength_t2 * libm::exp(log_n)),
            None => Ok(self.strength_t2
                * coaxial_attraction_n(&self.first, &self.second, checked_gap_mm(gap_mm)?)?),
        }
    }

    /// Attraction in N along the first disc's axis for a second disc out of place.
    ///
    /// The centre of its near face is `gap_mm` above the first's face and `offset_mm` from the axis; the disc is tilted about
    /// that point by `tilt_deg`, its lowered edge `azimuth_deg` away from the direction of the offset.
    ///
    /// # Errors
    /// [`FieldError::OutOfRange`] for a negative or endless number, a tilt beyond 90 degrees; [`FieldError::Overlap`] if the
    /// lowered edge would cut into the first disc.
    pub fn attraction_n(
        &self,
        gap_mm: f64,
        offset_mm: f64,
        tilt_deg: f64,
        azimuth_deg: f64,
    ) -> Result<f64, FieldError> {
        checked_gap_mm(gap_mm)?;
        checked("offset", offset_mm, 0.0, 10_000.0, "mm")?;
        checked("tilt", tilt_deg, -90.0, 90.0, "degrees")?;
        checked("azimuth", azimuth_deg, -3600.0, 3600.0, "degrees")?;
        if offset_mm == 0.0 && tilt_deg == 0.0 {
            return self.coaxial_n(gap_mm);
        }
        match self.tabled(gap_mm, offset_mm, tilt_deg, azimuth_deg) {
            Some(unit_n) => Ok(self.strength_t2 * unit_n),
            None => Ok(self.strength_t2 * self.exact_n(gap_mm, offset_mm, tilt_deg, azimuth_deg)?),
        }
    }

    fn smaller_mm(&self) -> f64 {
        self.first.radius_mm().min(self.second.radius_mm())
    }

    /// From the tables, per T^2, or `None` outside them.
    fn tabled(&self, gap_mm: f64, offset_mm: f64, tilt_deg: f64, azimuth_deg: f64) -> Option<f64> {
        if offset_mm > MAX_OFFSET * self.smaller_mm() || tilt_deg.abs() > MAX_TILT_DEG {
            return None;
        }
        let tilt = tilt_deg.to_radians();
        let mut share = if offset_mm == 0.0 {
            1.0
        } else {
            self.offset_table()?.at(gap_mm, offset_mm)?
        };
        if tilt != 0.0 {
            if gap_mm < CLEARANCE * self.second.radius_mm() * tilt.abs() {
                return None;
            }
            let table = self.tilt_tables()?;
            let cos = libm::cos(azimuth_deg.to_radians());
            let along = table.along.at(gap_mm, offset_mm)? * cos * cos;
            let across = table.across.at(gap_mm, offset_mm)? * (1.0 - cos * cos);
            share += (along + across) * tilt * tilt + table.odd.at(gap_mm, offset_mm)? * tilt * cos;
        }
        Some(share * libm::exp(self.coaxial.at(gap_mm)?))
    }

    /// The exact attraction per T^2.
    fn exact_n(
        &self,
        gap_mm: f64,
        offset_mm: f64,
        tilt_deg: f64,
        azimuth_deg: f64,
    ) -> Result<f64, FieldError> {
        let (s, c) = libm::sincos(azimuth_deg.to_radians());
        let (sin, cos) = libm::sincos(tilt_deg.to_radians());
        let half = 0.5 * self.second.height_mm;
        let z = 0.5 * self.first.height_mm + gap_mm + half * cos;
        let pose = Pose::shifted([offset_mm + half * sin * c, half * sin * s, z])?
            .turned([-s, c, 0.0], tilt_deg)?;
        Ok(-force(&Magnet::Disc(self.first), &Magnet::Disc(self.second), &pose)?.force_n[2])
    }

    /// Gaps of the tables of offset and tilt; beyond, they are not needed often.
    fn gap_axis(&self, cells: u32) -> Axis {
        Axis::new(0.03 * self.smaller_mm(), 3.0 * self.smaller_mm(), cells)
    }

    /// Force over the coaxial force, by gap and offset.
    fn offset_table(&self) -> Option<&Sheet> {
        let build = || {
            let offsets = Axis::new(0.03 * self.smaller_mm(), MAX_OFFSET * self.smaller_mm(), 14);
            Sheet::build(self.gap_axis(24), offsets, |gap, offset| {
                Ok(self.exact_n(gap, offset, 0.0, 0.0)?
                    / coaxial_attraction_n(&self.first, &self.second, gap)?)
            })
            .ok()
        };
        self.offset.get_or_init(build).as_ref()
    }

    fn tilt_tables(&self) -> Option<&Tilt> {
        let smaller = self.smaller_mm();
        let build = || {
            let offsets = Axis::new(0.1 * smaller, MAX_OFFSET * smaller, 9);
            let table = |part: fn(&Self, f64, f64) -> Result<f64, FieldError>| {
                Sheet::build(self.gap_axis(18), offsets, |gap, offset| {
                    part(self, gap.max(0.02 * smaller), offset)
                })
                .ok()
            };
            Some(Tilt {
                along: table(Self::along)?,
                across: table(Self::across)?,
                odd: table(Self::odd)?,
            })
        };
        self.tilt.get_or_init(build).as_ref()
    }

    /// The tilt in radians from which the coefficients at a gap are taken: most of what the tables allow there.
    fn probe(&self, gap: f64) -> f64 {
        0.8 * (gap / (CLEARANCE * self.second.radius_mm())).min(MAX_TILT_DEG.to_radians())
    }

    fn share(&self, gap: f64, offset: f64, tilt: f64, azimuth_deg: f64) -> Result<f64, FieldError> {
        let coaxial_n = coaxial_attraction_n(&self.first, &self.second, gap)?;
        Ok(self.exact_n(gap, offset, tilt.to_degrees(), azimuth_deg)? / coaxial_n)
    }

    fn along(&self, gap: f64, offset: f64) -> Result<f64, FieldError> {
        let tilt = self.probe(gap);
        let level = self.share(gap, offset, 0.0, 0.0)?;
        let both = self.share(gap, offset, tilt, 0.0)? + self.share(gap, offset, -tilt, 0.0)?;
        Ok((0.5 * both - level) / (tilt * tilt))
    }

    fn across(&self, gap: f64, offset: f64) -> Result<f64, FieldError> {
        let tilt = self.probe(gap);
        Ok(
            (self.share(gap, offset, tilt, 90.0)? - self.share(gap, offset, 0.0, 0.0)?)
                / (tilt * tilt),
        )
    }

    fn odd(&self, gap: f64, offset: f64) -> Result<f64, FieldError> {
        let tilt = self.probe(gap);
        Ok(
            (self.share(gap, offset, tilt, 0.0)? - self.share(gap, offset, -tilt, 0.0)?)
                / (2.0 * tilt),
        )
    }
}
