//! Whether a joint lets go before the thin section of its part snaps.

use lodewright_kit::{Plan, Section, ThinSection};
use lodewright_solve::hold::{self, HoldError, LetGo, LetGoAccount, Pull};

use super::model::JointModel;

impl JointModel {
    /// The account of letting go with these pulls; `None` where the part has no thin section that must be spared.
    ///
    /// # Errors
    /// [`HoldError`] where a number is beyond what the statics take.
    pub(super) fn let_go(&self, strong: &[Pull]) -> Option<Result<LetGoAccount, HoldError>> {
        let (thin, strength_mpa) = thin_of(&self.plan, self)?;
        let section = match thin.section {
            Section::Round { diameter_mm } => hold::Section::Round { diameter_mm },
            Section::Rectangle {
                width_mm,
                height_mm,
            } => hold::Section::Rectangle {
                across_mm: width_mm,
                along_mm: height_mm,
            },
        };
        Some(hold::let_go_account(&LetGo {
            patch_mm: &self.contact_mm,
            pulls: strong,
            peg: self.peg,
            height_mm: thin.reach_mm,
            section,
            length_mm: thin.length_mm,
            strength_mpa,
            stress_concentration: thin.notch_factor,
            safety_factor: self.plan.settings.snap_safety,
        }))
    }
}

/// The thin section of the joint's part and what its material bears, MPa.
fn thin_of<'a>(plan: &'a Plan, model: &JointModel) -> Option<(&'a ThinSection, f64)> {
    let part = &plan.parts[model.part];
    Some((
        part.thin.as_ref()?,
        plan.material(&part.material)?.strength_mpa,
    ))
}
