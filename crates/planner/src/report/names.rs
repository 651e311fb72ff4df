//! The names that the report gives to what the answers know by index.

use lodewright_assembly::Joint;
use lodewright_joints::{Filling, HoleIx};
use lodewright_kit::{PartIx, Plan, VariantIx};

use crate::Analysis;

/// Turns indices into names.
pub(super) struct Names<'p> {
    pub plan: &'p Plan,
    pub analysis: &'p Analysis,
}

impl Names<'_> {
    pub(super) fn part(&self, part: PartIx) -> String {
        self.plan.parts[part].id.to_string()
    }

    pub(super) fn variant(&self, variant: VariantIx) -> String {
        self.plan.variants[variant].id.to_string()
    }

    pub(super) fn hole(&self, hole: HoleIx) -> String {
        self.analysis.holes().key(self.plan, hole)
    }

    pub(super) fn parts(&self, parts: &[PartIx]) -> Vec<String> {
        parts.iter().map(|p| self.part(*p)).collect()
    }

    pub(super) fn holes(&self, holes: &[HoleIx]) -> Vec<String> {
        holes.iter().map(|h| self.hole(*h)).collect()
    }

    pub(super) fn joint(&self, j: Joint) -> String {
        let part = &self.plan.parts[j.part];
        let turn = if j.pose.turn_deg == 0.0 {
            String::new()
        } else {
            format!("@{}", j.pose.turn_deg)
        };
        let over = if j.pose.over { "+over" } else { "" };
        format!(
            "{}/{}/{}{turn}{over}",
            self.plan.sockets[j.socket].id, part.id, part.plugs[j.plug].id
        )
    }

    pub(super) fn stock(&self, filling: Filling) -> Option<(String, &'static str)> {
        match filling {
            Filling::Empty => None,
            Filling::Magnet(i) => Some((self.plan.stock.magnets[i].id.to_string(), "magnet")),
            Filling::Steel(i) => Some((self.plan.stock.steel[i].id.to_string(), "steel")),
        }
    }
}
