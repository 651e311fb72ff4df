//! Other magnets in the holes that are there, as advice.

use lodewright_joints::{Filling, ModelPiece, takes};
use lodewright_kit::{Fit, Ix, MagnetIx};

use super::super::change::{change_pair, fit_size, put};
use super::changes::Changes;
use crate::words::filling_words;

impl Changes<'_> {
    /// Every stock size that fits both holes of all pairs, larger or smaller than what is there.
    pub(super) fn sizes(&mut self, larger: bool) {
        let holes = &self.analysis.holes().holes;
        let magnets = &self.plan.stock.magnets;
        let volume = |i: MagnetIx| {
            let m = &magnets[i];
            m.diameter_mm * m.diameter_mm * m.height_mm
        };
        for i in MagnetIx::all(magnets) {
            let wanted = |piece: &ModelPiece| {
                let counts = match piece.filling {
                    Filling::Magnet(old) if larger => volume(i) > volume(old),
                    Filling::Magnet(old) => volume(i) < volume(old),
                    _ => false,
                };
                counts && takes(self.plan, &holes[piece.hole], Filling::Magnet(i))
            };
            self.add(
                format!(
                    "Fit {} in this joint.",
                    filling_words(self.plan, Filling::Magnet(i))
                ),
                fit_size(self.plan, self.joint, &self.now.model.pairs, i, wanted),
            );
        }
    }

    pub(super) fn magnets_for_steel(&mut self) {
        for pair in &self.now.model.pairs {
            let edit = change_pair(self.plan, self.joint, pair, |side, site| {
                let is_steel = matches!(pair.side(side).filling, Filling::Steel(_));
                is_steel && put(site.fit, Fit::Auto)
            });
            self.add("Fit a magnet in place of the steel.".to_owned(), edit);
        }
    }
}
