//! Walls and room for magnets as advice.

use lodewright_joints::LEAST_WALL_MM;
use lodewright_kit::Edit;

use super::super::change::{SiteRoom, change_pairs, put};
use super::changes::Changes;
use crate::words::mm;

impl Changes<'_> {
    /// Changes all pairs of the joint alike.
    fn every_pair(&self, mut change: impl FnMut(SiteRoom<'_>) -> bool) -> Option<Edit> {
        let pairs = &self.now.model.pairs;
        change_pairs(self.plan, self.joint, pairs, |_, site| change(site))
    }

    pub(super) fn thinner_walls(&mut self) {
        let to_mm = LEAST_WALL_MM;
        let edit = self.every_pair(|site| *site.wall_mm > to_mm && put(site.wall_mm, to_mm));
        self.add(
            format!("Leave walls of {to_mm} mm in front of the magnets."),
            edit,
        );
        let edit = self.every_pair(|site| *site.wall_mm > 0.0 && put(site.wall_mm, 0.0));
        self.add(
            "Open the holes to the mating face: the magnets then show.".to_owned(),
            edit,
        );
    }

    pub(super) fn thicker_walls(&mut self) {
        for more_mm in [0.2, 0.5, 1.0] {
            let edit = self.every_pair(|site| {
                *site.wall_mm += more_mm;
                true
            });
            self.add(
                format!("Set the magnets {} mm deeper behind a wall.", mm(more_mm)),
                edit,
            );
        }
    }

    pub(super) fn roomier(&mut self) {
        for more_mm in [1.0, 2.0] {
            let edit = self.every_pair(|site| {
                *site.max_diameter_mm += more_mm;
                *site.max_depth_mm += more_mm;
                true
            });
            self.add(
                format!("Allow holes {} mm wider and deeper.", mm(more_mm)),
                edit,
            );
        }
    }
}
