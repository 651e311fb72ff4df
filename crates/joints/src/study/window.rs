//! Between holding and letting go: how strong the pulls of a joint may be.

use lodewright_kit::Plan;

use super::JointModel;

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
    pub target_that_fits_g: f64,
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

/// The window of a joint; `None` where nothing loads it or a friction pin holds it. Margins and the force that opens a
/// joint are both proportional to its pulls, so that either end follows from the present account.
pub fn window(plan: &Plan, model: &JointModel) -> Option<Window> {
    if model.pin_n.is_some() {
        return None;
    }
    let account = model.account(plan);
    let target_g = plan.settings.hold_target_g;
    let margin_g = account.margin_g?;
    let least = if target_g <= 0.0 {
        0.0
    } else if margin_g > 0.0 {
        target_g / margin_g
    } else {
        f64::INFINITY
    };
    let by_hand = if account.hand_n > 0.0 {
        plan.settings.hand_limit_n / account.hand_n
    } else {
        f64::INFINITY
    };
    let by_section = match &account.let_go {
        Some(case) => case.factor / plan.settings.snap_safety,
        None => f64::INFINITY,
    };
    let most = by_hand.min(by_section);
    let hand_binds = by_hand < by_section;
    Some(Window {
        least,
        most,
        least_n: least * account.weak_n,
        most_n: most * account.hand_n,
        hand_binds,
        target_that_fits_g: margin_g * most,
        thicker: (!hand_binds && most > 0.0).then(|| libm::cbrt(least / most)),
    })
}
