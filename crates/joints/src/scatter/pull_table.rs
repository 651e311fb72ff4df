//! The pull of one pair, quick, for any strength within the grades.

use lodewright_field::{
    Disc, FastPair, FieldError, effective_polarization_t, steel_disc_attraction_n,
};
use lodewright_geometry::norm;
use lodewright_kit::{MagnetStock, Plan};

use crate::pull::{Filling, Material, grade_of, typical, warmest_c};
use crate::statics::ModelPair;

/// Gaps at which the pull on steel is worked out, evenly spread.
const STEEL_GAPS: usize = 49;
/// Beyond this gap the pull on steel is taken as that at it, mm: it is then far too weak to hold anything.
const STEEL_REACH_MM: f64 = 6.0;

/// Weakest and strongest polarisation of a lot, T.
type Range = [f64; 2];

#[derive(Debug)]
pub(super) enum PullTable {
    Magnets {
        unit: Box<FastPair>,
        j_t: [Range; 2],
        /// Radius of the smaller disc, mm: it leans about its own rim.
        radius_mm: f64,
        /// Plating between the faces, mm.
        plating_mm: f64,
    },
    Steel {
        /// Natural logarithm of the pull, N, at the weak and at the strong end of the grade.
        log_n: [Vec<f64>; 2],
        /// Whether the magnet is on the host.
        magnet_first: bool,
    },
    Nothing,
}

impl PullTable {
    /// Tables for a pair.
    ///
    /// # Errors
    /// [`FieldError`] where a size is beyond the field formulas' limits.
    pub(super) fn of(plan: &Plan, pair: &ModelPair) -> Result<Self, FieldError> {
        match (pair.socket.filling, pair.plug.filling) {
            (Filling::Magnet(a), Filling::Magnet(b)) => {
                let (a, b) = (&plan.stock.magnets[a], &plan.stock.magnets[b]);
                let (under_a, under_b) = (typical(plan, a), typical(plan, b));
                let unit = |m: &Material| Disc::new(m.diameter_mm, m.height_mm, 1.0);
                Ok(Self::Magnets {
                    unit: Box::new(FastPair::new(&unit(&under_a)?, &unit(&under_b)?)?),
                    plating_mm: under_a.plating_mm + under_b.plating_mm,
                    j_t: [j_range(plan, a)?, j_range(plan, b)?],
                    radius_mm: a.diameter_mm.min(b.diameter_mm) / 2.0,
                })
            }
            (Filling::Magnet(m), Filling::Steel(s)) | (Filling::Steel(s), Filling::Magnet(m)) => {
                let (m, s) = (&plan.stock.magnets[m], &plan.stock.steel[s]);
                let under = typical(plan, m);
                let ends = br_range(plan, m).map(|br_t| {
                    let disc = Disc::new(under.diameter_mm, under.height_mm, br_t)?;
                    (0..STEEL_GAPS)
                        .map(|i| STEEL_REACH_MM * i as f64 / (STEEL_GAPS - 1) as f64)
                        .map(|gap_mm| {
                            let pull_n = steel_disc_attraction_n(
                                &disc,
                                s.diameter_mm,
                                s.thickness_mm,
                                gap_mm + under.plating_mm,
                                under.recoil_mu_r,
                            )?;
                            Ok(libm::log(pull_n.max(1e-12)))
                        })
                        .collect::<Result<Vec<f64>, FieldError>>()
                });
                let [weak, strong] = ends;
                Ok(Self::Steel {
                    log_n: [weak?, strong?],
                    magnet_first: matches!(pair.socket.filling, Filling::Magnet(_)),
                })
            }
            _ => Ok(Self::Nothing),
        }
    }

    /// Attraction, N, for a gap, an offset (mm), a lean (degrees about x and y) and each side's place in its grade's range.
    pub(super) fn pull_n(
        &self,
        gap_mm: f64,
        offset_mm: [f64; 2],
        lean_deg: [f64; 2],
        strength: [f64; 2],
    ) -> f64 {
        match self {
            Self::Magnets {
                unit,
                j_t,
                radius_mm,
                plating_mm,
            } => {
                let j = |side: usize| j_t[side][0] + (j_t[side][1] - j_t[side][0]) * strength[side];
                let away_mm = norm(offset_mm);
                // It leans no more than its gap lets it: an edge that stood proud would hold the faces apart.
                let most_deg = (gap_mm / (2.0 * radius_mm)).to_degrees();
                let tilt_deg = norm(lean_deg).min(most_deg);
                // Turned about x the edge at +y goes down or up: the lowered edge lies a quarter turn on.
                let azimuth_deg = (libm::atan2(lean_deg[0], -lean_deg[1])
                    - libm::atan2(offset_mm[1], offset_mm[0]))
                .to_degrees();
                let apart_mm = gap_mm + plating_mm;
                let pull = unit.attraction_n(apart_mm, away_mm, tilt_deg, azimuth_deg);
                pull.unwrap_or(0.0) * j(0) * j(1)
            }
            Self::Steel {
                log_n,
                magnet_first,
            } => {
                let place = (gap_mm / STEEL_REACH_MM).clamp(0.0, 1.0) * (STEEL_GAPS - 1) as f64;
                let below = (place as usize).min(STEEL_GAPS - 2);
                let within = place - below as f64;
                let at = |end: usize| {
                    let list = &log_n[end];
                    libm::exp(list[below] + (list[below + 1] - list[below]) * within)
                };
                let share = strength[usize::from(!magnet_first)];
                at(0) + (at(1) - at(0)) * share
            }
            Self::Nothing => 0.0,
        }
    }
}

/// Remanence at the ends of the grade's range at the warmest, T.
fn br_range(plan: &Plan, magnet: &MagnetStock) -> Range {
    grade_of(magnet).br_range_t(warmest_c(plan))
}

fn j_range(plan: &Plan, magnet: &MagnetStock) -> Result<Range, FieldError> {
    let under = typical(plan, magnet);
    let [weak, strong] = br_range(plan, magnet).map(|br_t| {
        effective_polarization_t(br_t, under.recoil_mu_r, under.diameter_mm, under.height_mm)
    });
    Ok([weak?, strong?])
}
