//! Advice that changes the whole plan: how it is painted, what it asks of every joint.

use lodewright_kit::Edit;

use super::changes::Changes;
use crate::words::mm;

impl Changes<'_> {
    pub(super) fn masks(&mut self) {
        if !self.plan.finish.mask_mating_faces && self.plan.finish.coats_mm() > 0.0 {
            let mut finish = self.plan.finish.clone();
            finish.mask_mating_faces = true;
            self.add(
                "Mask the mating faces before painting, here and everywhere.".to_owned(),
                Some(Edit::PutFinish(finish)),
            );
        }
    }

    /// Said last, and only where something holds at all.
    pub(super) fn lower_target(&mut self) {
        let Some(margin) = self.now.verdict.margin_x_weight().filter(|m| *m >= 1.0) else {
            return;
        };
        let mut settings = self.plan.settings.clone();
        settings.hold_target_g = (margin * 10.0).floor() / 10.0;
        self.add(
            format!(
                "Ask less of every joint: {} times the weight instead of {}.",
                mm(settings.hold_target_g),
                mm(self.plan.settings.hold_target_g)
            ),
            Some(Edit::PutSettings(Box::new(settings))),
        );
    }
}
