//! Between holding and letting go: how strong the pulls of a joint may be.

use crate::statics::JointModel;

/// The range of pulls with which a joint does both, as multiples of what it has now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Least multiple of the present pulls that reaches the hold target; infinite where no pull does.
    pub least: f64,
    /// Greatest multiple with which it still lets go in time (or stays comfortable to the hand).
    pub most: f64,
    /// The same as pulls at the weak end, N.
    pub least_n: f64,
    /// The same as pulls at the strong end, N.
    pub most_n: f64,
    /// Whether the upper end is the hand's, not the thin section's.
    pub hand_binds: bool,
    /// With an empty window, the hold target that would just fit it, multiples of the weight.
    pub target_that_fits_x_weight: f64,
    /// With an empty window, how many times as thick the thin section would have to be: its strength in bending grows with
    /// the third power. `None` where the hand binds.
    pub thicker: Option<f64>,
}

impl Window {
    /// Whether no pull does both.
    pub fn is_empty(&self) -> bool {
        self.least > self.most
    }

    /// Whether the present pulls lie inside.
    pub fn holds_now(&self) -> bool {
        self.least <= 1.0 && 1.0 <= self.most
    }
}

impl JointModel {
    /// The window; `None` where nothing loads the joint or a friction pin holds it. Margins and the force that opens a joint
    /// are both proportional to its pulls, so that either end follows from the present account.
    pub fn window(&self) -> Option<Window> {
        if self.pin_n.is_some() {
            return None;
        }
        let (verdict, settings) = (self.judge(), &self.plan.settings);
        let margin_x_weight = verdict.margin_x_weight()?;
        // What nothing is asked of needs no pull; where nothing pulls, no multiple of it is enough.
        let least = if settings.hold_target_g <= 0.0 {
            0.0
        } else {
            settings.hold_target_g / margin_x_weight.max(0.0)
        };
        let by_hand = if verdict.hand_n > 0.0 {
            settings.hand_limit_n / verdict.hand_n
        } else {
            f64::INFINITY
        };
        let case = verdict.let_go.as_ref();
        let by_section = case.map_or(f64::INFINITY, |c| c.factor / settings.snap_safety);
        let most = by_hand.min(by_section);
        let hand_binds = by_hand < by_section;
        Some(Window {
            least,
            most,
            least_n: least * verdict.weak_n,
            most_n: most * verdict.hand_n,
            hand_binds,
            target_that_fits_x_weight: margin_x_weight * most,
            thicker: (!hand_binds && most > 0.0).then(|| libm::cbrt(least / most)),
        })
    }
}
