//! What the bodies let a hole be: how deep, how wide, and what it comes too near.

use lodewright_body::{Body, Bore, DRILL_POINT, LEAST_WALL_MM};
use lodewright_kit::{Plan, Vec3};
use serde::Serialize;

use crate::bits::hole_mm;
use crate::holes::{Hole, HoleIx};
use crate::pull::{Filling, filling_size, glue_room_mm};

/// Wall that is better left, mm: common practice, no source.
pub const GOOD_WALL_MM: f64 = 0.8;
/// Sums of tenths differ by less, mm.
const HAIR_MM: f64 = 1e-9;
/// The two mouths of a hole right through may miss each other by so much, mm: a bit wanders as far (common practice, no
/// source).
const MOUTHS_MM: f64 = 0.5;

/// Why a hole cannot be as its piece wants it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "misfit")]
pub enum Misfit {
    /// Wider or deeper than the builder wants a hole here.
    BeyondSite,
    /// There is no material to drill where the hole would be: the face falls away, or it is hollow.
    NoMaterial,
    /// With the drill's point and a least wall behind it the hole needs more material than there is.
    TooDeep {
        /// How much more, mm.
        short_mm: f64,
    },
    /// The wall that shall stay in front is more than there is, or the drill's point would go through it.
    FrontGone {
        /// How much is missing, mm.
        short_mm: f64,
    },
    /// Too little is left beside it to the side of its part.
    NearSide {
        /// What is left, mm; negative where it runs over.
        left_mm: f64,
    },
    /// Too little is left to a peg or to the hole of one.
    NearPeg {
        /// What is left, mm; negative where it runs over.
        left_mm: f64,
    },
    /// Too little is left to another hole of its part.
    NearHole {
        /// The other hole.
        hole: HoleIx,
        /// What is left, mm; 0 where they meet.
        left_mm: f64,
    },
    /// The two mouths of a hole right through do not lie opposite each other.
    MouthsApart,
}

/// What is around a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    around: Around,
    /// The wall of a hollow part, mm.
    shell_mm: Option<f64>,
    /// Material measured behind the face, mm.
    measured_mm: Option<f64>,
    /// From the hole's axis to the rim of the nearest peg in its face, mm.
    peg_mm: f64,
    /// Whether the two mouths of a hole right through miss each other.
    mouths_apart: bool,
}

#[derive(Clone, Debug, PartialEq)]
enum Around {
    /// What a bore finds.
    Known(Bore),
    /// Its place is not known: no more than the part is thick.
    Within(f64),
}

/// What a piece wants of its hole.
struct Wanted {
    radius_mm: f64,
    /// At full diameter, behind the wall in front.
    deep_mm: f64,
    /// How much farther the drill's point goes.
    point_mm: f64,
    wall_mm: f64,
    through: bool,
}

impl Room {
    /// Of a hole whose mouth lies at a point of a body's face; `inward` is one of the body's axes, up or down it.
    pub(crate) fn at(body: &Body, mouth_mm: Vec3, inward: Vec3, measured_mm: Option<f64>) -> Self {
        let along = |k: &usize| inward[*k].abs() > 0.5;
        let axis = (0..3).find(along).unwrap_or(2);
        let bore = body.bore(mouth_mm, axis, inward[axis]);
        Self::new(Around::Known(bore), body, measured_mm)
    }

    /// Of a hole somewhere on a face of a body that is so thick there.
    pub(crate) fn somewhere(body: &Body, thick_mm: f64, measured_mm: Option<f64>) -> Self {
        Self::new(Around::Within(thick_mm), body, measured_mm)
    }

    fn new(around: Around, body: &Body, measured_mm: Option<f64>) -> Self {
        Self {
            around,
            shell_mm: body.wall_mm(),
            measured_mm,
            peg_mm: f64::INFINITY,
            mouths_apart: false,
        }
    }

    /// Notes a peg so far from the hole's axis, to its rim, mm.
    pub(crate) fn beside_peg(&mut self, to_rim_mm: f64) {
        self.peg_mm = self.peg_mm.min(to_rim_mm);
    }

    /// Notes where the far mouth of a hole right through lies: so far inward from the near one, and so far beside its axis, mm.
    pub(crate) fn opens_at(&mut self, inward_mm: f64, beside_mm: f64) {
        let thick_mm = self.thick_mm();
        let meets = thick_mm.is_none_or(|thick| (thick - inward_mm).abs() <= MOUTHS_MM);
        self.mouths_apart |= !meets || beside_mm > MOUTHS_MM;
    }

    /// From the face to where the part ends behind it, mm; `None` where its place is not known or nothing is there.
    pub fn thick_mm(&self) -> Option<f64> {
        match &self.around {
            Around::Known(bore) => Some(bore.outer_mm(0.0)?[1]),
            Around::Within(_) => None,
        }
    }

    /// Material behind the face under a disc, mm: down to the hollow or to the far side, or as measured.
    fn material_mm(&self, radius_mm: f64) -> Option<f64> {
        let far_mm = self.far_mm(radius_mm)?;
        if let Some(measured) = self.measured_mm {
            return Some(measured.min(far_mm));
        }
        match &self.around {
            Around::Known(bore) => bore.floor_mm(radius_mm),
            Around::Within(thick) => Some(match self.shell_mm {
                Some(wall) if 2.0 * wall < *thick => wall,
                _ => *thick,
            }),
        }
    }

    fn far_mm(&self, radius_mm: f64) -> Option<f64> {
        match &self.around {
            Around::Known(bore) => Some(bore.outer_mm(radius_mm)?[1]),
            Around::Within(thick) => Some(*thick),
        }
    }

    /// From the hole's axis to the nearest side of the part down to a depth, mm.
    fn beside_mm(&self, depth_mm: f64) -> f64 {
        match &self.around {
            Around::Known(bore) => bore.beside_mm(depth_mm),
            Around::Within(_) => f64::INFINITY,
        }
    }

    fn misfit(&self, wanted: &Wanted) -> Option<Misfit> {
        let radius_mm = wanted.radius_mm;
        let left_mm = self.peg_mm - radius_mm;
        if left_mm < LEAST_WALL_MM - HAIR_MM {
            return Some(Misfit::NearPeg { left_mm });
        }
        if wanted.through && self.mouths_apart {
            return Some(Misfit::MouthsApart);
        }
        if self.far_mm(0.0).is_none() {
            return Some(Misfit::NoMaterial);
        }
        let bottom_mm = wanted.wall_mm + wanted.deep_mm;
        let left_mm = self.beside_mm(bottom_mm) - radius_mm;
        if left_mm < LEAST_WALL_MM - HAIR_MM {
            return Some(Misfit::NearSide { left_mm });
        }
        let (Some(far_mm), Some(material_mm)) =
            (self.far_mm(radius_mm), self.material_mm(radius_mm))
        else {
            return Some(Misfit::NoMaterial);
        };
        let short = |mm: f64| (mm > HAIR_MM).then_some(mm);
        if wanted.through {
            return (material_mm < far_mm - HAIR_MM).then_some(Misfit::NoMaterial);
        }
        if wanted.wall_mm <= 0.0 {
            let needs_mm = bottom_mm + wanted.point_mm + LEAST_WALL_MM;
            return short(needs_mm - material_mm).map(|short_mm| Misfit::TooDeep { short_mm });
        }
        let front_mm = (wanted.wall_mm - material_mm).max(wanted.point_mm - wanted.wall_mm);
        if let Some(short_mm) = short(front_mm) {
            return Some(Misfit::FrontGone { short_mm });
        }
        // Drilled from behind: within the part, or in the hollow before the wall on its other side.
        let behind_mm = match (self.shell_mm, self.measured_mm) {
            (Some(wall), None) if material_mm < far_mm - HAIR_MM => far_mm - wall,
            _ => far_mm,
        };
        short(bottom_mm - behind_mm).map(|short_mm| Misfit::TooDeep { short_mm })
    }

    /// Material behind the face for a hole of this diameter, mm; `None` where there is none or its place is not known.
    pub fn behind_mm(&self, diameter_mm: f64) -> Option<f64> {
        match self.around {
            Around::Known(_) => self.material_mm(diameter_mm / 2.0),
            Around::Within(_) => None,
        }
    }

    /// What the builder has measured here, mm.
    pub(crate) fn measured_mm(&self) -> Option<f64> {
        self.measured_mm
    }

    /// Whether the builder has measured the material here.
    pub fn is_measured(&self) -> bool {
        self.measured_mm.is_some()
    }

    /// What is left beside a hole of this diameter and depth to the side of the part, mm; infinite where its place is not known.
    pub fn left_beside_mm(&self, diameter_mm: f64, depth_mm: f64) -> f64 {
        self.beside_mm(depth_mm) - diameter_mm / 2.0
    }
}

/// How much deeper than its full diameter a hole gets by the drill's point, mm.
pub fn point_mm(plan: &Plan, hole: &Hole, diameter_mm: f64) -> f64 {
    if hole.through {
        0.0
    } else {
        blind_point_mm(plan, diameter_mm)
    }
}

/// The same for a hole with a bottom, mm.
pub(crate) fn blind_point_mm(plan: &Plan, diameter_mm: f64) -> f64 {
    if plan.settings.flat_cutter {
        0.0
    } else {
        DRILL_POINT * diameter_mm
    }
}

/// Why a hole cannot take a piece of the stock, with the allowances for glue and fit; `None` where it can, and for an empty
/// hole.
pub fn misfit(plan: &Plan, hole: &Hole, filling: Filling) -> Option<Misfit> {
    let (across_mm, height_mm) = filling_size(plan, filling)?;
    let needed_mm = across_mm + plan.settings.hole_allowance_mm;
    let deep_mm = height_mm + glue_room_mm(plan, hole);
    if needed_mm > hole.max_diameter_mm + HAIR_MM || deep_mm > hole.max_depth_mm + HAIR_MM {
        return Some(Misfit::BeyondSite);
    }
    let diameter_mm = hole_mm(plan, across_mm);
    hole.room.misfit(&Wanted {
        radius_mm: diameter_mm / 2.0,
        deep_mm: if hole.through {
            hole.max_depth_mm
        } else {
            deep_mm
        },
        point_mm: point_mm(plan, hole, diameter_mm),
        wall_mm: hole.wall_mm,
        through: hole.through,
    })
}

/// Whether a hole takes a piece of the stock.
pub fn takes(plan: &Plan, hole: &Hole, filling: Filling) -> bool {
    filling_size(plan, filling).is_some() && misfit(plan, hole, filling).is_none()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A 118 degree point is D / (2 tan 59 degrees) long: 1.5 mm for a 5 mm bit (worked out from the angle of the usual
    /// twist drill).
    #[test]
    fn the_point_of_a_drill() {
        let by_angle = 0.5 / libm::tan((59.0_f64).to_radians());
        assert!((DRILL_POINT - by_angle).abs() < 1e-12, "{by_angle}");
    }
}
