//! Targets, rates and progress: how the builder wants to work and how far the work is.

use serde::{Deserialize, Serialize};

/// Targets and tolerances.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// Load that every joint must bear in the worst direction, in multiples of the part's weight.
    pub hold_target_g: f64,
    /// Coefficient of friction between mating faces.
    pub friction: f64,
    /// How much a gap may come out larger (holding) or smaller (letting go) than planned, mm.
    pub gap_tolerance_mm: f64,
    /// How far two sites may lie apart in the mating plane and still count as facing each other, mm.
    pub facing_tolerance_mm: f64,
    /// Warmest that the model gets, °C.
    pub warmest_c: f64,
    /// How many times the force that opens a let-go joint must stay below the force that snaps the part.
    pub snap_safety: f64,
    /// What a glued magnet may be asked to bear, MPa.
    pub glue_strength_mpa: f64,
    /// How many times the pull on a magnet must stay below what its glue bears.
    pub bond_safety: f64,
    /// The strongest pull that is comfortable to the hand, N.
    pub hand_limit_n: f64,
    /// Hole diameter over magnet diameter, mm.
    pub hole_allowance_mm: f64,
    /// Hole depth over magnet height, for glue, mm.
    pub glue_allowance_mm: f64,
    /// Spare magnets bought, percent of the need, rounded up.
    pub spare_percent: f64,
    /// Shaking that a joint must bear on top of gravity, in any attitude of the model, g.
    #[serde(default = "usual_shake_g")]
    pub shake_g: f64,
    /// Force above which two magnets that are not meant to meet are reported, N.
    #[serde(default = "usual_stranger_n")]
    pub stranger_limit_n: f64,
    /// How much magnets differ from the sizes they are sold by.
    #[serde(default, skip_serializing_if = "MagnetMake::is_usual")]
    pub magnet_make: MagnetMake,
    /// Whether holes are finished with a flat-bottomed cutter where the point of a drill would go too deep.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub flat_cutter: bool,
    /// So far two bodies may share space before it is told, mm: drawn shapes are rough.
    #[serde(default = "usual_overlap_mm", skip_serializing_if = "is_usual_overlap")]
    pub overlap_tolerance_mm: f64,
    /// How far the work scatters.
    #[serde(default)]
    pub scatter: Scatter,
    /// Whether drill sizes are said in inches too.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub inches: bool,
    /// The letter or word printed beside money.
    pub currency: String,
}

/// How much magnets differ from the sizes they are sold by. Those include the plating, which is not magnetic.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MagnetMake {
    /// How much a diameter or a height may be more or less than stated, mm.
    pub size_tolerance_mm: f64,
    /// The thinnest plating on each face, µm.
    pub thinnest_plating_um: f64,
    /// The thickest plating on each face, µm.
    pub thickest_plating_um: f64,
}

impl Default for MagnetMake {
    /// ±0.05 mm: ground faces of sintered magnets up to 10 mm, by a published procurement guide and by the Chinese standard
    /// as a trade page quotes it (as-sintered and cheap stock: ±0.1 mm and more). Nickel-copper-nickel 10 to 20 µm: the same
    /// guide.
    fn default() -> Self {
        Self {
            size_tolerance_mm: 0.05,
            thinnest_plating_um: 10.0,
            thickest_plating_um: 20.0,
        }
    }
}

impl MagnetMake {
    fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

/// How far hand work scatters: standard deviations. All defaults: common practice, no source.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Scatter {
    /// Of a hole's centre along either in-plane axis, mm.
    pub position_sd_mm: f64,
    /// Of how deep a magnet sits, for each magnet, mm.
    pub depth_sd_mm: f64,
    /// Of how far a magnet leans, degrees.
    pub tilt_sd_deg: f64,
    /// Of the thickness of coats and films, as a fraction of it.
    pub coats_sd_share: f64,
}

impl Default for Scatter {
    fn default() -> Self {
        Self {
            position_sd_mm: 0.15,
            depth_sd_mm: 0.05,
            tilt_sd_deg: 1.0,
            coats_sd_share: 0.2,
        }
    }
}

/// A firm shake of the hand moves a thing by about its own weight again: common practice, no source.
fn usual_shake_g() -> f64 {
    1.0
}

/// About the weight of 10 g: common practice, no source.
fn usual_stranger_n() -> f64 {
    0.1
}

/// Common practice, no source.
fn usual_overlap_mm() -> f64 {
    0.5
}

fn is_usual_overlap(mm: &f64) -> bool {
    *mm == usual_overlap_mm()
}

impl Default for Settings {
    /// Friction 0.3: an assumption for plated or painted faces on styrene. 80 °C is the plain grades' limit; 40 °C a
    /// warm shelf. Glue 5 MPa: the low end of published shear figures on styrenics. Hole 0.1 mm over: the first safe
    /// size for ±0.05 mm stock. The rest: common practice, no source.
    fn default() -> Self {
        Self {
            hold_target_g: 3.0,
            friction: 0.3,
            gap_tolerance_mm: 0.1,
            facing_tolerance_mm: 1.0,
            warmest_c: 40.0,
            snap_safety: 2.0,
            glue_strength_mpa: 5.0,
            bond_safety: 4.0,
            hand_limit_n: 15.0,
            hole_allowance_mm: 0.1,
            glue_allowance_mm: 0.1,
            spare_percent: 10.0,
            shake_g: usual_shake_g(),
            stranger_limit_n: usual_stranger_n(),
            magnet_make: MagnetMake::default(),
            flat_cutter: false,
            overlap_tolerance_mm: usual_overlap_mm(),
            scatter: Scatter::default(),
            inches: false,
            currency: "€".to_owned(),
        }
    }
}

/// Minutes per kind of step, waits and the value of an hour. All defaults: common practice, no source.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Rates {
    /// Change of bit, min.
    pub bit_change_min: f64,
    /// Marking and drilling one hole, min.
    pub hole_min: f64,
    /// Checking and marking the pole of one magnet, min.
    pub pole_check_min: f64,
    /// Gluing one magnet or piece of steel, min.
    pub glue_magnet_min: f64,
    /// Gluing one joint for good, min.
    pub glue_joint_min: f64,
    /// Dry fit of one variant, min.
    pub dry_fit_min: f64,
    /// Cutting off one peg, min.
    pub cut_peg_min: f64,
    /// Masking one mating face, min.
    pub mask_min: f64,
    /// Painting one part, min.
    pub paint_part_min: f64,
    /// Wait until glue on a magnet is strong enough for its mate, min.
    pub magnet_cure_min: f64,
    /// Wait until a glued joint may be handled, min.
    pub joint_cure_min: f64,
    /// Wait until paint may be touched, min.
    pub paint_dry_min: f64,
    /// An hour's work, hundredths of the currency.
    pub hour_cents: u32,
}

impl Default for Rates {
    fn default() -> Self {
        Self {
            bit_change_min: 2.0,
            hole_min: 4.0,
            pole_check_min: 1.0,
            glue_magnet_min: 2.0,
            glue_joint_min: 3.0,
            dry_fit_min: 6.0,
            cut_peg_min: 2.0,
            mask_min: 1.5,
            paint_part_min: 12.0,
            magnet_cure_min: 24.0 * 60.0,
            joint_cure_min: 60.0,
            paint_dry_min: 240.0,
            hour_cents: 2500,
        }
    }
}

/// How far the work is.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Progress {
    /// Keys of the steps that are done, in the order in which they were done.
    #[serde(default)]
    pub done: Vec<String>,
    /// When steps were done and how long they took, where a clock was at hand.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<Mark>,
}

/// What a clock said of a step that is done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Mark {
    /// The step's key.
    pub step: String,
    /// When it was done, s since 1970-01-01 UTC.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_s: Option<u64>,
    /// How long it took, min.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub took_min: Option<f64>,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Plan;

    /// Whether a plan with this change is refused at this place.
    fn refused(place: &str, change: impl FnOnce(&mut Plan)) -> bool {
        let mut plan = Plan::empty("t");
        change(&mut plan);
        plan.problems()
            .iter()
            .any(|p| format!("{p:?}").contains(place))
    }

    #[test]
    fn tolerances_of_magnets_have_limits() {
        let make =
            |change: fn(&mut MagnetMake)| move |p: &mut Plan| change(&mut p.settings.magnet_make);
        assert!(!refused("magnet_make", |_| ()));
        assert!(refused(
            "magnet_make.size_tolerance_mm",
            make(|m| m.size_tolerance_mm = 1.1)
        ));
        assert!(refused(
            "magnet_make.size_tolerance_mm",
            make(|m| m.size_tolerance_mm = f64::NAN)
        ));
        assert!(refused(
            "magnet_make.thinnest_plating_um",
            make(|m| m.thinnest_plating_um = -1.0)
        ));
        assert!(refused(
            "magnet_make.thickest_plating_um",
            make(|m| m.thickest_plating_um = 201.0)
        ));
        let by_hand = |br_t| move |p: &mut Plan| p.stock.magnets[0].br_by_hand_t = Some(br_t);
        assert!(!refused("br_by_hand_t", by_hand(1.3)));
        assert!(refused("br_by_hand_t", by_hand(13.0)) && refused("br_by_hand_t", by_hand(0.0)));
    }
}
